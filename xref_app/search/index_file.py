"""A store of numbers kept as one file beside the catalog, mapped into memory when opened: nothing is read until asked.

Layout: eight bytes of name, the length of the head (8 bytes, little end first), its BLAKE2b (32 bytes), the head as
JSON, then the arrays, each on a 64-byte border. The head holds the stamp, the length of the file, and for each array
its type, place, length and CRC-32. A file that is not what it should be counts as not there.
"""

from __future__ import annotations

import hashlib
import json
import os
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, Final

import numpy as np

from xref_app.search.compact import Compact
from xref_app.search.filed import NumberRow

_NAME: Final = b"numbers2"
_BORDER: Final = 64
_HEAD_STARTS: Final = len(_NAME) + 8 + 32
_CHUNK: Final = 1 << 20
_ARRAYS: Final = tuple(field.name for field in fields(Compact) if field.name != "kinds")
_TYPES: Final = {"<u1", "|u1", "<u4", "<i8"}


@dataclass(frozen=True, slots=True)
class Opened:
    """What a file holds: the store, and the numbers too long for it."""

    store: Compact
    overlong: tuple[NumberRow, ...]


def write_index(path: Path, store: Compact, overlong: Sequence[NumberRow], stamp: str) -> None:
    """Write the file in one step: afterwards the whole new one is there, or the old one still is.

    Args:
        path: Where; what is there is replaced.
        store: The numbers.
        overlong: Those too long for a store.
        stamp: What the numbers were taken from; the file opens only for the same.

    Raises:
        OSError: it cannot be written.
    """
    arrays = {name: np.ascontiguousarray(getattr(store, name)) for name in _ARRAYS}
    places: dict[str, dict[str, object]] = {}
    at = 0
    for name, array in arrays.items():
        places[name] = {
            "type": array.dtype.str, "at": at, "length": len(array), "crc": zlib.crc32(array.view(np.uint8).data)
        }  # fmt: skip
        at += -(-array.nbytes // _BORDER) * _BORDER
    head = json.dumps({
        "stamp": stamp,
        "kinds": store.kinds,
        "overlong": [[row.text, row.entry_id, row.kind] for row in overlong],
        "arrays": places,
        "bytes": at,
    }).encode()  # fmt: skip
    parts = [_NAME, len(head).to_bytes(8, "little"), hashlib.blake2b(head, digest_size=32).digest(), head]
    _replace(path, [b"".join(parts).ljust(_arrays_start(len(head)), b"\0"), *_padded(list(arrays.values()))])


def open_index(path: Path, stamp: str) -> Opened | None:
    """Return what the file holds, mapped into memory; None if it is not there, damaged, or has another stamp."""
    try:
        head, start = _head(path)
        if head is None or head["stamp"] != stamp or path.stat().st_size != start + head["bytes"]:
            return None
        mapped = np.memmap(path, np.uint8, "r")
        arrays = {name: _array(mapped, start, head["arrays"][name]) for name in _ARRAYS}
    except (OSError, ValueError, KeyError, TypeError):
        return None
    store = Compact(**arrays, kinds=tuple(head["kinds"]))
    overlong = tuple(NumberRow(*row) for row in head["overlong"])
    return Opened(store, overlong) if _holds_together(store) else None


def _holds_together(store: Compact) -> bool:
    """Return whether the arrays that say where others begin and end do so; cheap, they are short."""
    first, ends = store.first_of_length, store.list_ends
    if first[0] != 0 or first[-1] != len(store) or (np.diff(first) < 0).any():
        return False
    if int(np.diff(first) @ np.arange(len(first) - 1)) != len(store.codes):
        return False
    return not len(ends) or bool((ends[1:] >= ends[:-1]).all() and ends[0] == 0 and ends[-1] == len(store.postings))


def is_sound(path: Path) -> bool:
    """Return whether every byte of the arrays is as it was written. Reads the whole file: work for the background."""
    try:
        head, start = _head(path)
        if head is None:
            return False
        mapped = np.memmap(path, np.uint8, "r")
        return all(
            zlib.crc32(_array(mapped, start, place).view(np.uint8).data) == place["crc"]
            for place in head["arrays"].values()
        )
    except (OSError, ValueError, KeyError, TypeError):
        return False


def _head(path: Path) -> tuple[dict[str, Any] | None, int]:
    """Return the head as read from JSON (therefore ``Any``) if it is whole, and where the arrays start."""
    with path.open("rb") as file:
        begin = file.read(_HEAD_STARTS)
        length = int.from_bytes(begin[len(_NAME) : len(_NAME) + 8], "little")
        if not begin.startswith(_NAME) or length > path.stat().st_size:
            return None, 0
        head = file.read(length)
    if hashlib.blake2b(head, digest_size=32).digest() != begin[len(_NAME) + 8 :]:
        return None, 0
    return json.loads(head), _arrays_start(length)


def _arrays_start(head_length: int) -> int:
    return -(-(_HEAD_STARTS + head_length) // _BORDER) * _BORDER


def _array(mapped: np.memmap[Any, Any], start: int, place: dict[str, Any]) -> np.ndarray[Any, Any]:
    if place["type"] not in _TYPES:
        raise ValueError(place["type"])
    kind = np.dtype(place["type"])
    begin = start + int(place["at"])
    return np.asarray(mapped[begin : begin + int(place["length"]) * kind.itemsize]).view(kind)


def _padded(arrays: Sequence[np.ndarray[Any, Any]]) -> Iterator[memoryview | bytes]:
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
    _sync_folder(path.parent)


def _write_all(handle: int, part: memoryview | bytes) -> None:
    rest = memoryview(part)
    while rest:
        rest = rest[os.write(handle, rest[:_CHUNK]) :]


def _sync_folder(folder: Path) -> None:
    """Make sure the folder's entry reached the disk, where folders can be opened."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
