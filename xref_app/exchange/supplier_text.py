"""A supplier's text file: bytes to characters, and characters to cells. Nothing here is told what a column means."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice
from typing import Final

from charset_normalizer import from_bytes

from xref_app.exchange.supplier_errors import ANOTHER_FILE, SAVE_AS_CSV, UnreadableError

# What is offered; the first of two that part a file equally well counts.
SEPARATORS: Final = (";", "\t", "|", ",")
# What programs of the last thirty years wrote lists in, other than Unicode. House rule: no others are guessed.
ENCODINGS: Final = ("cp1252", "cp1250", "cp1251", "mac_roman", "cp850")
# House rule: so many rows tell the separator, so many bytes the encoding.
_ROWS_LOOKED_AT: Final = 300
_BYTES_LOOKED_AT: Final = 256 * 1024
# House rule: a cell of more lines swallowed its neighbours, for an inch mark or a lost quote began it.
_MOST_LINES_IN_A_CELL: Final = 12

_BOMS: Final = (
    (b"\xef\xbb\xbf", "utf-8"),
    (b"\xff\xfe\x00\x00", "utf-32-le"),
    (b"\x00\x00\xfe\xff", "utf-32-be"),
    (b"\xff\xfe", "utf-16-le"),
    (b"\xfe\xff", "utf-16-be"),
)
# What stands in lists of sizes more often than in running text, by which the library judges.
_SIGNS: Final = frozenset("°±½¼¾⅛⅜⅝⅞“”″′’×µ²³·–—€")

_NO_TABLE: Final = "is no table: it holds characters that no text has"
_NO_TEXT: Final = re.compile("[\x00-\x08\x0e-\x1a\x1c-\x1f]")
# The first line by which spreadsheet programs tell the separator.
_SAYS_SEPARATOR: Final = re.compile(r"\A\"?sep=(.)\"?[ \t]*(?:\n|\Z)", re.IGNORECASE)


def decoded(data: bytes, encoding: str = "") -> tuple[str, str]:
    """Return the characters of a text file and the encoding they were read in; ``encoding`` where somebody said it.

    Raises:
        UnreadableError: it is no text, or not in that encoding.
    """
    bom, by_bom = next(((mark, name) for mark, name in _BOMS if data.startswith(mark)), (b"", ""))
    name = encoding or by_bom or _guessed(data)
    try:
        text = data[len(bom) if by_bom == name else 0 :].decode(name)
    except (UnicodeDecodeError, LookupError) as error:
        if not encoding:
            raise UnreadableError(_NO_TABLE, SAVE_AS_CSV) from error
        raise UnreadableError(f"is not written in {name}", "choose another encoding") from error
    if _NO_TEXT.search(text):
        raise UnreadableError(_NO_TABLE, SAVE_AS_CSV)
    return text.replace("\r\n", "\n").replace("\r", "\n"), name


def _guessed(data: bytes) -> str:
    start = data[:_BYTES_LOOKED_AT]
    if b"\x00" in start:
        return "utf-16-le" if start[1::2].count(0) >= start[::2].count(0) else "utf-16-be"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        odd = _odd_lines(data)
        return min(
            (name for name in (*ENCODINGS, "latin-1") if _reads(data, name)), key=lambda name: _oddness(odd, name)
        )
    return "utf-8"


def _oddness(odd: bytes, encoding: str) -> float:
    """Return how odd the text looks in an encoding, in tenths; of those that look alike the first one counts."""
    letters = [one for one in odd.decode(encoding, "replace") if not one.isascii()]
    if 2 * sum(one in _SIGNS for one in letters) >= len(letters):
        return 0.0
    best = from_bytes(odd, cp_isolation=[encoding]).best()
    return 1.0 if best is None else round(best.chaos, 1)


def _odd_lines(data: bytes) -> bytes:
    """Return the lines that are not plain ASCII: only those tell one encoding from another."""
    odd = (line for line in re.split(rb"[\r\n]+", data) if not line.isascii())
    return b"\n".join(islice(odd, _ROWS_LOOKED_AT))[:_BYTES_LOOKED_AT]


def _reads(data: bytes, encoding: str) -> bool:
    try:
        data.decode(encoding)
    except UnicodeDecodeError:
        return False
    return True


def cells_of(text: str, separator: str = "") -> tuple[str, Iterator[Sequence[str]]]:
    """Return the separator, ``separator`` where somebody said it, and the rows of cells.

    Raises:
        UnreadableError: there is nothing in it, or one cell never ends (also while the rows are read).
    """
    said = _SAYS_SEPARATOR.match(text)
    if said:
        text = text[said.end() :]
    if not text.strip():
        raise UnreadableError("is empty", ANOTHER_FILE)
    mark = separator or (said[1] if said else "") or _voted(text)
    if _swallows(text, mark):
        return mark, (_unquoted(row) for row in _read(text, mark, csv.QUOTE_NONE))
    return mark, _read(text, mark, csv.QUOTE_MINIMAL)


def _read(text: str, mark: str, quoting: int) -> Iterator[Sequence[str]]:
    try:
        yield from csv.reader(io.StringIO(text, newline=""), delimiter=mark, quoting=quoting)  # type: ignore[arg-type] # the stubs know no plain int
    except csv.Error as error:
        raise UnreadableError("holds a cell that never ends", SAVE_AS_CSV) from error


def _voted(text: str) -> str:
    """Return what parts most rows, and parts them most evenly: a decimal comma stands in some rows only."""
    return max(SEPARATORS, key=lambda mark: (*_evenness(text, mark), -SEPARATORS.index(mark)))


def _evenness(text: str, mark: str) -> tuple[float, float, int]:
    """Return the share of rows that ``mark`` parts, the share of those of one width, and that width in cells."""
    try:
        read = [row for row in islice(_read(text, mark, csv.QUOTE_MINIMAL), _ROWS_LOOKED_AT) if any(row)]
    except UnreadableError:
        return 0.0, 0.0, 0
    widths = Counter(width for row in read if (width := _width(row)) > 1)
    if not widths:
        return 0.0, 0.0, 0
    width, times = max(widths.items(), key=lambda item: (item[1], item[0]))
    parted = sum(len(row) > 1 for row in read)
    return round(parted / len(read), 1), round(times / len(read), 1), width


def _width(row: Sequence[str]) -> int:
    """Return how many cells a row has, empty ones at its end not counted."""
    return max((place for place, cell in enumerate(row, 1) if cell.strip()), default=0)


def _swallows(text: str, mark: str) -> bool:
    """Say whether some cell, read with quotes, runs on over many lines."""
    if '"' not in text:
        return False
    try:
        return any(
            cell.count("\n") > _MOST_LINES_IN_A_CELL for row in _read(text, mark, csv.QUOTE_MINIMAL) for cell in row
        )
    except UnreadableError:
        return True


def _unquoted(row: Sequence[str]) -> list[str]:
    return [one[1:-1].replace('""', '"') if len(one) > 1 and one[0] == one[-1] == '"' else one for one in row]
