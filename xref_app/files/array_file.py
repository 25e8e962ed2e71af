"""Named arrays in one file, mapped into memory when opened: nothing is read until it is asked for.

Layout: eight bytes of name, the length of the head (8 bytes, little end first), its BLAKE2b (32 bytes), the head as
JSON, then the arrays, each on a 64-byte border. The head holds the stamp, the length of the file, what its owner tells,
and for each array its type, place, length and CRC-32. A file that is not what it should be counts as not there.
"""

from __future__ import annotations

import hashlib
import json
import os
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO, Final

import numpy as np
from numpy.typing import NDArray

from xref_app.files.errors import DamagedArrayError
from xref_app.files.syncing import sync_folder

_NAME_BYTES: Final = 8
_HASH_BYTES: Final = 32
_BORDER: Final = 64
_HEAD_STARTS: Final = _NAME_BYTES + 8 + _HASH_BYTES
_CHUNK: Final = 1 << 20
_TYPES: Final = {"|u1", "|b1", "<u2", "<u4", "<u8", "<i8"}


@dataclass(frozen=True, slots=True)
class ArrayFile:
    """An open file: its stamp, what its owner told, and its arrays, mapped."""

    stamp: str
    told: Mapping[str, Any]
    _mapped: NDArray[np.uint8]
    _start: int
    _places: Mapping[str, Mapping[str, Any]]

    def __contains__(self, name: str) -> bool:
        return name in self._places

    def array(self, name: str) -> NDArray[Any]:
        """Return an array as it lies in the file, its bytes not checked; KeyError where there is none."""
        place = self._places[name]
        kind = np.dtype(place["type"])
        begin = self._start + place["at"]
        return self._mapped[begin : begin + place["length"] * kind.itemsize].view(kind)

    def checked(self, name: str) -> NDArray[Any]:
        """Return an array once every byte of it has been compared with its sum.

        Raises:
            DamagedArrayError: they differ.
        """
        found = self.array(name)
        if zlib.crc32(found.view(np.uint8).data) != self._places[name]["crc"]:
            raise DamagedArrayError(name)
        return found


def write_arrays(
    path: Path, name: bytes, arrays: Mapping[str, NDArray[Any]], *, stamp: str, told: Mapping[str, Any]
) -> None:
    """Write the file in one step: afterwards the whole new one is there, or the old one still is.

    Args:
        path: Where; what is there is replaced.
        name: Eight bytes that say what kind of file this is, and of which format.
        arrays: Of one dimension each.
        stamp: What the arrays were taken from; the file opens only for the same.
        told: Whatever else is to be kept, as JSON.

    Raises:
        OSError: it cannot be written.
    """
    flat = {key: np.ascontiguousarray(array) for key, array in arrays.items()}
    places: dict[str, dict[str, object]] = {}
    at = 0
    for key, array in flat.items():
        places[key] = {
            "type": array.dtype.str, "at": at, "length": len(array), "crc": zlib.crc32(array.view(np.uint8).data)
        }  # fmt: skip
        at += -(-array.nbytes // _BORDER) * _BORDER
    head = json.dumps({"stamp": stamp, "told": told, "arrays": places, "bytes": at}).encode()
    begin = b"".join([name, len(head).to_bytes(8, "little"), _hash(head), head])
    _replace(path, [begin.ljust(_arrays_start(len(head)), b"\0"), *_padded(list(flat.values()))])


def open_arrays(path: Path, name: bytes, stamp: str | None = None) -> ArrayFile | None:
    """Return the file, mapped into memory; None if it is not there, cut, damaged in its head, or of another stamp.

    Without ``stamp`` any will do.
    """
    try:
        head, start = _head(path, name)
        if head is None or path.stat().st_size != start + head["bytes"]:
            return None
        if stamp is not None and head["stamp"] != stamp:
            return None
        if any(place["type"] not in _TYPES for place in head["arrays"].values()):
            return None
        # A file without a byte of arrays cannot be mapped, and need not be.
        mapped = np.asarray(np.memmap(path, np.uint8, "r")) if head["bytes"] else np.empty(start, np.uint8)
        return ArrayFile(head["stamp"], head["told"], mapped, start, head["arrays"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def is_sound(path: Path, name: bytes) -> bool:
    """Say whether every byte of every array is as it was written: reads the whole file, and maps nothing of it."""
    try:
        head, start = _head(path, name)
        if head is None:
            return False
        with path.open("rb") as file:
            return all(_sum(file, start, place) == place["crc"] for place in head["arrays"].values())
    except (OSError, ValueError, KeyError, TypeError):
        return False


def _sum(file: BinaryIO, start: int, place: Mapping[str, Any]) -> int:
    file.seek(start + place["at"])
    left, crc = place["length"] * np.dtype(place["type"]).itemsize, 0
    while left and (read := file.read(min(left, _CHUNK))):
        crc, left = zlib.crc32(read, crc), left - len(read)
    return crc


def _head(path: Path, name: bytes) -> tuple[dict[str, Any] | None, int]:
    """Return the head as read from JSON (therefore ``Any``) if it is whole, and where the arrays start."""
    with path.open("rb") as file:
        begin = file.read(_HEAD_STARTS)
        length = int.from_bytes(begin[_NAME_BYTES : _NAME_BYTES + 8], "little")
        if not begin.startswith(name) or length > path.stat().st_size:
            return None, 0
        head = file.read(length)
    if _hash(head) != begin[_NAME_BYTES + 8 :]:
        return None, 0
    return json.loads(head), _arrays_start(length)


def _hash(head: bytes) -> bytes:
    return hashlib.blake2b(head, digest_size=_HASH_BYTES).digest()


def _arrays_start(head_length: int) -> int:
    return -(-(_HEAD_STARTS + head_length) // _BORDER) * _BORDER


def _padded(arrays: Sequence[NDArray[Any]]) -> Iterator[memoryview | bytes]:
    for array in arrays:
        yield array.view(np.uint8).data
        yield bytes(-array.nbytes % _BORDER)


def _replace(path: Path, parts: Sequence[memoryview | bytes]) -> None:
    """Write ``parts`` beside ``path``, make sure they reached the disk, and put them in its place."""
    beside = path.with_name(f"{path.name}.{os.getpid()}.new")
    try:
        with beside.open("wb", buffering=0) as file:
            for part in parts:
                _write_all(file.fileno(), part)
            os.fsync(file.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
    sync_folder(path.parent)


def _write_all(handle: int, part: memoryview | bytes) -> None:
    rest = memoryview(part)
    while rest:
        rest = rest[os.write(handle, rest[:_CHUNK]) :]
