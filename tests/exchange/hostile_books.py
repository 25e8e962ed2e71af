"""Files made to hurt whoever reads them: each must be refused with a sentence (ux.md, R11)."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from typing import Final
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from openpyxl import Workbook

_SHEET: Final = "xl/worksheets/sheet1.xml"
_START: Final = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
_END: Final = b"</sheetData></worksheet>"


def good_book() -> bytes:
    """Return a workbook that is read."""
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.append(["No.", "Bore mm"])
    sheet.append(["A-1", 19.05])
    data = io.BytesIO()
    book.save(data)
    return data.getvalue()


def with_part(name: str, content: bytes, *, packed: bool = False) -> bytes:
    """Return a workbook with one part replaced or added; not packed, so that it is not refused for that alone."""
    made = io.BytesIO()
    with ZipFile(io.BytesIO(good_book())) as old, ZipFile(made, "w", ZIP_DEFLATED) as new:
        for info in old.infolist():
            if info.filename != name:
                new.writestr(info, old.read(info))
        new.writestr(name, content, ZIP_DEFLATED if packed else ZIP_STORED)
    return made.getvalue()


def _sheet(inside: bytes) -> bytes:
    return with_part(_SHEET, _START + inside + _END)


def _text_cell(text: bytes) -> bytes:
    return b'<row r="1"><c r="A1" t="inlineStr"><is><t>' + text + b"</t></is></c></row>"


def zip_bomb() -> bytes:
    """Return 200 MB that pack into 200 KB."""
    return with_part("xl/media/picture.bin", bytes(200 * 2**20), packed=True)


def million_columns() -> bytes:
    """Return a row of a million cells."""
    return _sheet(b'<row r="1">' + b"<c><v>1</v></c>" * 1_000_000 + b"</row>")


def million_columns_of_text() -> bytes:
    """Return a line of a million cells."""
    return b"No.;Bore mm\n" + b"1;" * 1_000_000 + b"\n"


def far_corner() -> bytes:
    """Return a cell in the last row and column that there can be."""
    return _sheet(b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')


def far_below() -> bytes:
    """Return a cell in the last row that there can be."""
    return _sheet(b'<row r="1048576"><c r="A1048576"><v>1</v></c></row>')


def billion_laughs() -> bytes:
    """Return entities that grow to a billion words."""
    lines = [b'<!ENTITY a "lol">'] + [
        b'<!ENTITY %c "%s">' % (98 + place, b"&%c;" % (97 + place) * 10) for place in range(9)
    ]
    head = b'<?xml version="1.0"?><!DOCTYPE w [' + b"".join(lines) + b"]>"
    return with_part(_SHEET, head + _START + _text_cell(b"&j;") + _END)


def external_entity() -> bytes:
    """Return an entity that names a file of this machine."""
    head = b'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/hostname">]>'
    return with_part(_SHEET, head + _START + _text_cell(b"&x;") + _END)


def entity_in_other_letters() -> bytes:
    """Return the same in UTF-16, where a search for ASCII letters finds nothing."""
    text = '<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/hostname">]>'
    return with_part(_SHEET, (text + (_START + _text_cell(b"&x;") + _END).decode()).encode("utf-16"))


def entity_across_chunks() -> bytes:
    """Return a DTD that begins on the last bytes of what is looked at in one go."""
    head = b'<?xml version="1.0"?>' + b" " * (2**20 - 21 - 4) + b"<!DOCTYPE w []>"
    return with_part(_SHEET, head + _START + b" " * 2**20 + _END)


def spaces() -> bytes:
    """Return 500 MB of spaces in a small zip."""
    made = io.BytesIO(good_book())
    about = ZipInfo("xl/spaces.xml")
    about.compress_type = ZIP_DEFLATED
    with ZipFile(made, "a") as book, book.open(about, "w", force_zip64=True) as part:
        for _ in range(500):
            part.write(b" " * 2**20)
    return made.getvalue()


def many_sheets() -> bytes:
    """Return 100,000 sheets."""
    made = io.BytesIO(good_book())
    with ZipFile(made, "a") as book:
        for place in range(100_000):
            book.writestr(f"xl/worksheets/sheet{place + 2}.xml", b"")
    return made.getvalue()


def listed_sheets() -> bytes:
    """Return a list of 100,000 sheets that are all one part."""
    names = b"".join(b'<sheet name="s%d" sheetId="%d" r:id="rId1"/>' % (one, one) for one in range(1, 100_001))
    head = (
        b'<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r='
        b'"http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>'
    )
    return with_part("xl/workbook.xml", head + names + b"</sheets></workbook>")


def nested_zip() -> bytes:
    """Return a workbook with a workbook inside."""
    return with_part("xl/embeddings/book.xlsx", good_book())


def nested_under_another_name() -> bytes:
    """Return the same, named as a picture."""
    return with_part("xl/media/image1.png", good_book())


def macro() -> bytes:
    """Return a workbook with a program."""
    return with_part("xl/vbaProject.bin", b"program")


def macro_by_type() -> bytes:
    """Return a workbook that says it has a program."""
    kinds = b'<Types><Override ContentType="application/vnd.ms-excel.sheet.macroEnabled.main+xml"/></Types>'
    return with_part("[Content_Types].xml", kinds)


def locked() -> bytes:
    """Return a zip whose parts are said to be locked with a password."""
    data = bytearray(good_book())
    place = data.find(b"PK\x01\x02")
    while place >= 0:
        data[place + 8] |= 1
        place = data.find(b"PK\x01\x02", place + 4)
    return bytes(data)


def unstored_formula() -> bytes:
    """Return a formula without its result."""
    return _sheet(b'<row r="1"><c r="A1"><f>1+1</f><v></v></c></row>')


def merged_all_over() -> bytes:
    """Return 20,000 merged ranges."""
    ranges = b"".join(b'<mergeCell ref="A%d:XFD%d"/>' % (one, one) for one in range(1, 20_001))
    head = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData/>'
    return with_part(_SHEET, head + b"<mergeCells>" + ranges + b"</mergeCells></worksheet>")


def merged_over_everything() -> bytes:
    """Return one cell merged over every row there can be, many times."""
    cells = b"".join(b'<row r="%d"><c r="A%d"><v>1</v></c></row>' % (one, one) for one in range(1, 20_001))
    ranges = b"".join(b'<mergeCell ref="A%d:SR1048576"/>' % one for one in range(1, 9_001))
    head = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
    return with_part(_SHEET, head + cells + b"</sheetData><mergeCells>" + ranges + b"</mergeCells></worksheet>")


def deep() -> bytes:
    """Return XML a million levels deep."""
    return with_part(_SHEET, _START + b"<a>" * 1_000_000)


def long_text() -> bytes:
    """Return a cell of 40 million characters."""
    return b"No.;Name\nA-1;" + b"x" * 40_000_000


def endless_quote() -> bytes:
    """Return a quote that never ends before many rows."""
    return b'No.;Name\n"A-1;x\n' + b"A-2;y;z\n" * 300_000


def binary() -> bytes:
    """Return what is no text."""
    return bytes(range(256)) * 1000


def torn() -> bytes:
    """Return half a workbook."""
    book = good_book()
    return book[: len(book) // 2]


HOSTILE: Final[Mapping[str, Callable[[], bytes]]] = {
    one.__name__.replace("_", " "): one
    for one in (
        *(zip_bomb, million_columns, million_columns_of_text, far_corner, far_below, billion_laughs, external_entity),
        *(entity_in_other_letters, entity_across_chunks, spaces, many_sheets, listed_sheets, nested_zip),
        *(nested_under_another_name, macro, macro_by_type, locked, unstored_formula, merged_all_over),
        *(merged_over_everything, deep, endless_quote, binary, torn),
    )
}
