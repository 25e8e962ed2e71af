"""Files that grew out of messy lists: by their grammar (cells, separators, parts of a workbook) and bit by bit."""

from __future__ import annotations

import io
import random
from collections.abc import Callable, Sequence
from zipfile import ZIP_DEFLATED, ZipFile

from tests.exchange.supplier_files.books import BOOKS
from tests.exchange.supplier_files.texts import TEXTS

_CELLS = (
    *(
        "",
        " ",
        "-",
        "N/A",
        "0",
        "19,05",
        "19.05",
        '19,05"',
        "3/4",
        "1 1/8",
        "1.234,5",
        "1,234.5",
        "-5",
        "1e9",
        "9" * 60,
    ),
    *(
        "=1+1",
        "@x",
        "\t",
        "\x0b",
        "½",
        "″",
        "\u200b",
        "\ud7ff",
        "2026-03-04",
        "#REF!",
        "200 bar / 2900 psi",
        "19 ± 1",
        "±",
    ),
    *(
        "19.05 ± ",
        "1/0",
        "7/3",
        "M22x1.5",
        "G3/8",
        "46 0; 0 46",
        ";;;",
        '"',
        '""',
        "'",
        "\n",
        "x" * 300,
        "٣",
        "²",
        "1" * 64,
    ),
    *(
        "1,2,3",
        "1.2.3",
        "1 000",
        "--",
        "+/-",
        "0/0 in",
        "inf",
        "nan",
        "1_000",
        "0x10",
        "NaN mm",
        "(",
        "[mm]",
        "psi",
        "in",
    ),
)
_XML = (
    *(b"&amp;", b"&#0;", b"&#x110000;", b"<", b">", b"</c>", b'r="A0"', b'r="ZZZZ9"', b't="s"', b't="e"', b't="b"'),
    *(
        b"<v>1e999</v>",
        b"<v>-1</v>",
        b"<v>x</v>",
        b"<f>1</f>",
        b"<v></v>",
        b'r="-1"',
        b's="99"',
        b"<!--",
        b"<![CDATA[",
        b"",
    ),
    *(
        b'<mergeCell ref="B2:A1"/>',
        b'<mergeCell ref="A1:XFD9"/>',
        b't="d"',
        b"<v>2026-99-99</v>",
        b't="inlineStr"',
        b"\x00",
    ),
)


def mutant(seed: int) -> bytes:
    """Return a file, the same for the same seed."""
    chance = random.Random(seed)
    grow: Callable[[random.Random], bytes] = chance.choice((_of_text, _of_text, _of_text, _of_book, _of_book, _of_bits))
    return grow(chance)


def _of_text(chance: random.Random) -> bytes:
    try:
        text = chance.choice(TEXTS).data.decode("utf-8")
    except UnicodeDecodeError:
        text = TEXTS[0].data.decode()
    separator = max(";,\t|", key=text.count)
    rows = [line.split(separator) for line in text.split("\n")]
    for _ in range(chance.randint(1, 12)):
        _change(rows, chance)
    joined = chance.choice((separator, separator, separator, ";", ",", "\t"))
    end = chance.choice(("\n", "\n", "\r\n", "\r", "\n\n"))
    encoding = chance.choice(("utf-8", "utf-8", "utf-16", "utf-16-be", "cp1252", "utf-8-sig"))
    return end.join(joined.join(row) for row in rows).encode(encoding, "replace")


def _change(rows: list[list[str]], chance: random.Random) -> None:
    if not rows:
        rows.append(["No.", "psi"])
    row = chance.randrange(len(rows))
    match chance.randrange(7):
        case 0:
            rows.insert(row, list(chance.choice(rows)))
        case 1:
            del rows[row]
        case 2:
            rows[row].insert(chance.randint(0, len(rows[row])), chance.choice(_CELLS))
        case 3:
            rows[row] = [*rows[row], *[chance.choice(_CELLS)] * chance.randint(1, 60)]
        case _:
            if rows[row]:
                rows[row][chance.randrange(len(rows[row]))] = chance.choice(_CELLS)


def _of_book(chance: random.Random) -> bytes:
    data = chance.choice(BOOKS).data
    made = io.BytesIO()
    with ZipFile(io.BytesIO(data)) as old, ZipFile(made, "w", ZIP_DEFLATED) as new:
        names = old.namelist()
        hit = chance.choice(
            [one for one in names if "sheet" in one or "workbook" in one or "style" in one or "String" in one]
        )
        for name in names:
            content = old.read(name)
            if name == hit:
                content = _xml(content, chance)
            if chance.random() > 0.01:
                new.writestr(name, content)
    return made.getvalue()


def _xml(content: bytes, chance: random.Random) -> bytes:
    for _ in range(chance.randint(1, 4)):
        places: Sequence[int] = [place for place, one in enumerate(content) if one in b'<>"'] or [0]
        start, stop = sorted((chance.choice(places), chance.choice(places)))
        if chance.random() < 0.5 and stop - start < 200:
            content = content[:start] + chance.choice(_XML) + content[stop:]
        else:
            content = content[:start] + chance.choice(_XML) + content[start:]
    return content


def _of_bits(chance: random.Random) -> bytes:
    data = bytearray(chance.choice((*TEXTS, *BOOKS)).data)
    for _ in range(chance.randint(1, 20)):
        data[chance.randrange(len(data))] = chance.randrange(256)
    return bytes(data[: chance.randint(1, len(data))] if chance.random() < 0.2 else data)
