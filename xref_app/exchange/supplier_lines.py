"""What the reading child hands on, line by line: the cells of a workbook or of a text file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from xref_app.exchange.supplier_errors import ANOTHER_FILE, SAVE_AS_CSV, SPLIT, UnreadableError
from xref_app.exchange.supplier_limits import MOST_BYTES, ROWS_PER_TELLING
from xref_app.exchange.supplier_sheet import Allowance
from xref_app.exchange.supplier_text import cells_of, decoded
from xref_app.exchange.supplier_workbook import sheets_of

Line = dict[str, object] | Sequence[str]

_ZIP: Final = b"PK"
_OTHERS: Final = (
    (b"\xd0\xcf\x11\xe0", "is a workbook of the old kind (.xls), or locked with a password"),
    (b"%PDF", "is a PDF, not a table"),
    (b"{\\rtf", "is a letter, not a table"),
    (b"<html", "is a web page, not a table"),
    (b"<!doctype", "is a web page, not a table"),
    (b"<?xml", "is XML, not a table"),
)
# The longest of the marks above, with room for blanks before it. House rule.
_LONGEST_MARK: Final = 16


def lines_of(data: bytes, encoding: str = "", separator: str = "") -> Iterator[Line]:
    """Yield what is to be handed on of a file, ending with a line that says ``done``.

    Args:
        data: The file.
        encoding: What a text file is written in, where somebody said it; empty: guess.
        separator: What parts the cells of a text file, likewise.

    Raises:
        UnreadableError: it cannot be read as a list (also after some lines).
    """
    _refuse_others(data)
    if data.startswith(_ZIP):
        allowed = Allowance()
        for name, rows in sheets_of(data):
            yield {"sheet": name}
            yield from _told(allowed.rows(iter(rows)))
        yield {"done": True, "encoding": "", "separator": ""}
        return
    text, found_encoding = decoded(data, encoding)
    mark, cells = cells_of(text, separator)
    yield {"sheet": "", "of": text.count("\n") + 1}
    yield from _told(Allowance().rows(cells))
    yield {"done": True, "encoding": found_encoding, "separator": mark}


def _told(rows: Iterator[Sequence[str]]) -> Iterator[Line]:
    for place, row in enumerate(rows, 1):
        if place % ROWS_PER_TELLING == 0:
            yield {"at": place}
        yield row


def _refuse_others(data: bytes) -> None:
    if len(data) > MOST_BYTES:
        raise UnreadableError(f"is larger than {MOST_BYTES // 2**20} MB", SPLIT)
    if not data.strip():
        raise UnreadableError("is empty", ANOTHER_FILE)
    start = data[:_LONGEST_MARK].lstrip().lower()
    for mark, found in _OTHERS:
        if start.startswith(mark.lower()):
            raise UnreadableError(found, SAVE_AS_CSV)
