"""A store of numbers kept as one file beside the catalog, mapped into memory when it is opened."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Final

import numpy as np

from xref_app.files import array_file
from xref_app.search.compact import Compact
from xref_app.search.filed import NumberRow

_NAME: Final = b"numbers3"
_ARRAYS: Final = tuple(field.name for field in fields(Compact) if field.name != "kinds")


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
    told = {"kinds": store.kinds, "overlong": [[row.text, row.entry_id, row.kind] for row in overlong]}
    arrays = {name: getattr(store, name) for name in _ARRAYS}
    array_file.write_arrays(path, _NAME, arrays, stamp=stamp, told=told)


def open_index(path: Path, stamp: str) -> Opened | None:
    """Return what the file holds, mapped into memory; None if it is not there, damaged, or has another stamp."""
    file = array_file.open_arrays(path, _NAME, stamp)
    if file is None:
        return None
    try:
        store = Compact(**{name: file.array(name) for name in _ARRAYS}, kinds=tuple(file.told["kinds"]))
        overlong = tuple(NumberRow(*row) for row in file.told["overlong"])
    except (KeyError, TypeError, ValueError):
        return None
    return Opened(store, overlong) if _holds_together(store) else None


def is_sound(path: Path) -> bool:
    """Say whether every byte of the file is as it was written: reads the whole of it."""
    return array_file.is_sound(path, _NAME)


def _holds_together(store: Compact) -> bool:
    """Return whether the arrays that say where others begin and end do so; cheap, they are short."""
    first, ends = store.first_of_length, store.list_ends
    if first[0] != 0 or first[-1] != len(store) or (np.diff(first) < 0).any():
        return False
    if int(np.diff(first) @ np.arange(len(first) - 1)) != len(store.codes):
        return False
    return not len(ends) or bool((ends[1:] >= ends[:-1]).all() and ends[0] == 0 and ends[-1] == len(store.postings))
