"""A zip of which every byte is told by its parts: any zip program opens it, and nothing in it can be changed unseen.

An ordinary zip says everything twice and much that nobody needs, so a reader and a checker may see different files in
it. Ours is read by no zip reader at all: the bytes are those that this module writes of the parts, or it is refused.

Source: PKWARE .ZIP File Format Specification (APPNOTE.TXT) 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

_STORED: Final = 0
_DEFLATED: Final = 8
_UTF_8_NAMES: Final = 0x0800
_VERSION: Final = 20
_FIRST_DAY: Final = 0x0021  # 1 January 1980, the first a zip can tell: the clock of this machine is nobody's business

LOCAL: Final = struct.Struct("<4s5H3L2H")
_CENTRAL: Final = struct.Struct("<4s6H3L5H2L")
_END: Final = struct.Struct("<4s4H2LH")


@dataclass(frozen=True, slots=True)
class PackedPart:
    """One file as it lies in the zip: ``content`` is deflated unless ``is_stored``; ``size`` is its full length."""

    name: str
    content: bytes
    size: int
    crc32: int
    is_stored: bool = False


def stored(name: str, content: bytes) -> PackedPart:
    """Return the part that lies there as it is."""
    return PackedPart(name, content, len(content), zlib.crc32(content), is_stored=True)


def deflated(name: str, content: bytes) -> PackedPart:
    """Return the part packed."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -zlib.MAX_WBITS)
    packed = packer.compress(content) + packer.flush()
    return PackedPart(name, packed, len(content), zlib.crc32(content))


def inflated(packed: bytes, *, size: int) -> bytes | None:
    """Return the ``size`` bytes that ``packed`` makes, None where it makes others; never makes many more."""
    unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        content = unpacker.decompress(packed, size + 1)
    except zlib.error:
        return None
    is_all = unpacker.eof and not unpacker.unused_data and not unpacker.unconsumed_tail
    return content if is_all and len(content) == size else None


def zip_bytes(parts: Sequence[PackedPart]) -> bytes:
    """Return the zip of ``parts`` in their order; the same parts give the same bytes."""
    local: list[bytes] = []
    central: list[bytes] = []
    at = 0
    for part in parts:
        name = part.name.encode()
        head = local_head(part)
        central.append(_CENTRAL.pack(b"PK\1\2", _VERSION, *_told(part), len(name), 0, 0, 0, 0, 0, at) + name)
        local += (head, part.content)
        at += len(head) + len(part.content)
    directory = b"".join(central)
    end = _END.pack(b"PK\5\6", 0, 0, len(parts), len(parts), len(directory), at, 0)
    return b"".join((*local, directory, end))


def local_head(part: PackedPart) -> bytes:
    """Return what stands before the content of ``part``."""
    name = part.name.encode()
    return LOCAL.pack(b"PK\3\4", *_told(part), len(name), 0) + name


def _told(part: PackedPart) -> tuple[int, ...]:
    method = _STORED if part.is_stored else _DEFLATED
    return (_VERSION, _UTF_8_NAMES, method, 0, _FIRST_DAY, part.crc32, len(part.content), part.size)
