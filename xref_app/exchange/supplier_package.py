"""What a workbook's zip file may hold, looked at before anything in it is read as a workbook."""

from __future__ import annotations

import io
import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final
from zipfile import BadZipFile, ZipFile, ZipInfo

from xref_app.exchange.supplier_errors import ANOTHER_FILE, SAVE_AS_CSV, SPLIT, UnreadableError
from xref_app.exchange.supplier_limits import (
    MOST_COLUMNS,
    MOST_MERGED,
    MOST_SHEETS,
)
from xref_app.exchange.zip_limits import MOST_PARTS, MOST_TIMES_PACKED, MOST_UNPACKED_BYTES

_CHUNK: Final = 1 << 20
# No mark that is looked for is longer; chunks overlap by so much.
_OVERLAP: Final = 512
# House rule: spreadsheet programs have 16,384 columns, and empty cells that are formatted are written down, too.
_MOST_CELLS_IN_A_ROW: Final = 20_000
_XML: Final = (".xml", ".rels", ".vml")
_INSIDE: Final = (b"PK\x03\x04", b"PK\x05\x06", b"\xd0\xcf\x11\xe0", b"Rar!", b"7z\xbc\xaf", b"\x1f\x8b", b"MZ")
_MACRO: Final = re.compile(rb"macroEnabled|vbaProject", re.IGNORECASE)
_DEFINES: Final = re.compile(rb"<!\s*(?:DOCTYPE|ENTITY|ELEMENT|ATTLIST|NOTATION)", re.IGNORECASE)
_LISTED: Final = re.compile(rb"<(?:\w+:)?sheet\s")
_MERGED: Final = re.compile(rb"<(?:\w+:)?mergeCell\b[^>]*?\bref=[\"']([A-Z]{1,3}\d{1,7}):([A-Z]{1,3}\d{1,7})[\"']")
_NO_RESULT: Final = re.compile(
    rb"(?:</(?:\w+:)?f>|<(?:\w+:)?f(?:\s[^>]*)?/>)\s*(?:<(?:\w+:)?v\s*/>|<(?:\w+:)?v>\s*</(?:\w+:)?v>)?\s*</(?:\w+:)?c>"
)


@dataclass(frozen=True, slots=True)
class Package:
    """A workbook that was looked at: the merged ranges of each part, as ``("A1", "C1")``."""

    merged: dict[str, tuple[tuple[str, str], ...]]


def looked_at(data: bytes) -> Package:
    """Return what the zip file says of itself, if it is safe to read.

    Raises:
        UnreadableError: it is torn, too large unpacked, or holds what no list of pumps needs.
    """
    try:
        with ZipFile(io.BytesIO(data)) as package:
            infos = package.infolist()
            _refuse_sizes(infos, len(data))
            if "[Content_Types].xml" not in {one.filename for one in infos}:
                raise UnreadableError("is a zip file, but no workbook", "unpack it and pick the list itself")
            return Package({one.filename: _looked_through(package, one) for one in infos if not one.is_dir()})
    except (BadZipFile, zlib.error, OSError, EOFError, NotImplementedError, ValueError, RuntimeError) as error:
        raise UnreadableError("is torn: it cannot be unpacked", "fetch it again") from error


def _refuse_sizes(infos: list[ZipInfo], packed: int) -> None:
    unpacked = sum(one.file_size for one in infos)
    if len(infos) > MOST_PARTS:
        raise UnreadableError(f"is made of more than {MOST_PARTS} parts", SAVE_AS_CSV)
    if unpacked > MOST_UNPACKED_BYTES:
        raise UnreadableError(f"unpacks to more than {MOST_UNPACKED_BYTES // 2**20} MB", SPLIT)
    if unpacked > MOST_TIMES_PACKED * packed:
        raise UnreadableError(f"unpacks to more than {MOST_TIMES_PACKED} times its size", SAVE_AS_CSV)
    if any(one.flag_bits & 1 for one in infos):
        raise UnreadableError("is locked with a password", "ask for it without one")


def _looked_through(package: ZipFile, info: ZipInfo) -> tuple[tuple[str, str], ...]:
    name = info.filename.casefold()
    if "vbaproject" in name:
        raise UnreadableError("holds a program (macro)", SAVE_AS_CSV)
    merged: set[tuple[str, str]] = set()
    sheets, cells, first = 0, 0, True
    for chunk in _chunks(package, info):
        if first and chunk.startswith(_INSIDE):
            raise UnreadableError("holds another file inside", SAVE_AS_CSV)
        first = False
        if name.endswith(_XML):
            _refuse_xml(chunk)
            sheets += len(_LISTED.findall(chunk)) if name == "xl/workbook.xml" else 0
            if sheets > MOST_SHEETS:
                raise UnreadableError(f"has more than {MOST_SHEETS} sheets", SAVE_AS_CSV)
            if "sheet" in name:
                merged.update((one[0].decode(), one[1].decode()) for one in _MERGED.findall(chunk))
                cells = _refuse_long_rows(chunk, cells)
                _refuse_sheet(chunk, len(merged))
    return tuple(merged)


def _chunks(package: ZipFile, info: ZipInfo) -> Iterator[bytes]:
    before = b""
    with package.open(info) as part:
        while chunk := part.read(_CHUNK):
            yield before + chunk
            before = chunk[-_OVERLAP:]


def _refuse_xml(chunk: bytes) -> None:
    if b"\x00" in chunk:
        raise UnreadableError("is written in a way that no spreadsheet program writes", SAVE_AS_CSV)
    if _DEFINES.search(chunk):
        raise UnreadableError("defines words of its own (a DTD), as no spreadsheet program does", ANOTHER_FILE)
    if _MACRO.search(chunk):
        raise UnreadableError("holds a program (macro)", SAVE_AS_CSV)


def _refuse_long_rows(chunk: bytes, begun: int) -> int:
    """Return how many cells the last row has so far, of which ``begun`` came before; refuse more than there can be."""
    rows = [one.count(b"<c") for one in chunk.split(b"<row")]
    rows[0] += begun
    if max(rows) > _MOST_CELLS_IN_A_ROW:
        raise UnreadableError(f"has a row of more than {MOST_COLUMNS} columns", SPLIT)
    return rows[-1]


def _refuse_sheet(chunk: bytes, merged: int) -> None:
    if merged > MOST_MERGED:
        raise UnreadableError(f"has more than {MOST_MERGED} merged cells", SAVE_AS_CSV)
    if _NO_RESULT.search(chunk):
        raise UnreadableError(
            "holds a formula whose result was never stored", "open it in a spreadsheet program and save it again"
        )
