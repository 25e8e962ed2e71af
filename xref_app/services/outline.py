"""The outline of a large catalog: which entries there are, what is said of them in columns, and how to miss a lost row.

It is made by reading every row of the store once, and kept in a file beside it, under the moment of that reading.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path
from typing import Any, Final, overload

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import all_fields
from xref_app.core.model.catalog import number_to_call
from xref_app.files.array_file import open_arrays, write_arrays
from xref_app.files.errors import DamagedArrayError
from xref_app.services.said_file import said_arrays, said_in
from xref_app.services.said_table import SaidTable, SaidWriter
from xref_app.services.sayings import said_by_field
from xref_app.store.entry_rows import EntryRows, Moment

_NAME: Final = b"outline3"
_ARRAYS: Final = ("kinds", "digests", "models", "pumps", "drivers", "listed", "gone_digests")
KINDS: Final = ("", "pump", "driver", "machine")
"""The kinds of entries by their numbers; 0 stands for one whose own row cannot be read."""


class Texts(Sequence[str]):
    """Many texts, sorted, in one run of bytes (UTF-8, whose order is that of the characters)."""

    def __init__(self, joined: NDArray[np.uint8], ends: NDArray[np.uint32]) -> None:
        self.joined, self.ends = joined, ends

    @classmethod
    def of(cls, texts: Iterable[str]) -> Texts:
        """Return ``texts``, which must be sorted."""
        joined, ends = bytearray(), array("I")
        for text in texts:
            joined += text.encode()
            ends.append(len(joined))
        return cls(np.frombuffer(bytes(joined), np.uint8), np.frombuffer(ends.tobytes(), np.uint32))

    def __len__(self) -> int:
        return len(self.ends)

    @overload
    def __getitem__(self, place: int) -> str: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[str]: ...
    def __getitem__(self, place: int | slice) -> str | Sequence[str]:
        if isinstance(place, slice):
            return [self[one] for one in range(*place.indices(len(self)))]
        if not -len(self) <= place < len(self):
            raise IndexError(place)
        at = place % len(self)
        start = int(self.ends[at - 1]) if at else 0
        return self.joined[start : int(self.ends[at])].tobytes().decode()

    def place(self, text: str) -> int | None:
        """Return where ``text`` stands, None where it does not."""
        at = bisect_left(self, text)
        return at if at < len(self) and self[at] == text else None


@dataclass(frozen=True, slots=True, weakref_slot=True, eq=False)
class Outline:
    """n entries in the order of their ids, in arrays of n.

    ``kinds`` are places in ``KINDS``; ``digests`` the sums of the hashes of each entry's rows; ``models`` the hash of a
    machine's model, ``pumps`` and ``drivers`` those of the ids of the pump it came with and of what drives it, 0 for
    other entries. ``listed`` holds all places in the order of the entries' numbers, and ``said`` what is said of the
    entries of each kind, in that order. ``gone`` are the entries that are withdrawn, sorted, with their digests.
    """

    ids: Texts
    kinds: NDArray[np.uint8]
    digests: NDArray[np.uint64]
    models: NDArray[np.uint64]
    pumps: NDArray[np.uint64]
    drivers: NDArray[np.uint64]
    listed: NDArray[np.uint32]
    said: Mapping[str, SaidTable]
    gone: Texts
    gone_digests: NDArray[np.uint64]

    def digest(self, entry_id: str) -> int:
        """Return the digest of an entry's rows, 0 where there were none; of a withdrawn one that of what is left."""
        for ids, digests in ((self.ids, self.digests), (self.gone, self.gone_digests)):
            place = ids.place(entry_id)
            if place is not None:
                return int(digests[place])
        return 0

    def places_of(self, kind: str) -> NDArray[np.intp]:
        """Return the places of the entries of a kind, in the order of their numbers."""
        listed = self.listed.astype(np.intp)
        found: NDArray[np.intp] = listed[self.kinds[listed] == KINDS.index(kind)]
        return found


def hashed(text: str) -> int:
    """Return 64 bits that stand for a text; never 0, which stands for none."""
    return int.from_bytes(blake2b(text.encode(), digest_size=8).digest(), "little") or 1


class OutlineWriter:
    """Puts an outline together from entries in the order of their ids."""

    def __init__(self) -> None:
        self._ids: list[str] = []
        self._kinds, self._digests = array("B"), array("Q")
        self._models, self._pumps, self._drivers = array("Q"), array("Q"), array("Q")
        self._said = {kind: SaidWriter() for kind in KINDS[1:]}
        self._names: list[str] = []
        self._gone: list[str] = []
        self._gone_digests = array("Q")

    def add(self, entry_id: str, rows: EntryRows) -> None:
        """Add one entry; what is left of a withdrawn one is only counted."""
        if rows.entry is None and not rows.damaged:
            self._gone.append(entry_id)
            self._gone_digests.append(rows.digest)
            return
        kind = rows.entry.kind if rows.entry is not None else ""
        machine = rows.machine
        self._names.append(number_to_call(entry_id, rows.numbers))
        self._ids.append(entry_id)
        self._kinds.append(KINDS.index(kind))
        self._digests.append(rows.digest)
        self._models.append(hashed(machine.model) if machine else 0)
        self._pumps.append(hashed(machine.pump_id) if machine and machine.pump_id else 0)
        self._drivers.append(hashed(machine.driver_id) if machine else 0)
        if kind:
            self._said[kind].add(said_by_field(rows.observations, rows.ports))

    def outline(self) -> Outline:
        """Return the outline of all that was added."""
        kinds = np.frombuffer(self._kinds.tobytes(), np.uint8)
        listed = np.array(sorted(range(len(self._ids)), key=lambda at: (self._names[at], self._ids[at])), np.intp)
        return Outline(
            ids=Texts.of(self._ids),
            kinds=kinds,
            digests=_of(self._digests),
            models=_of(self._models),
            pumps=_of(self._pumps),
            drivers=_of(self._drivers),
            listed=listed.astype(np.uint32),
            said={kind: self._in_order(kind, kinds, listed) for kind in self._said},
            gone=Texts.of(self._gone),
            gone_digests=_of(self._gone_digests),
        )

    def _in_order(self, kind: str, kinds: NDArray[np.uint8], listed: NDArray[np.intp]) -> SaidTable:
        """Return what is said of the entries of a kind, in the order of their numbers."""
        of_kind = kinds == KINDS.index(kind)
        # They were added in the order of their ids: how many of the kind stand before each place.
        at = np.cumsum(of_kind) - 1
        return self._said[kind].table().picked(at[listed[of_kind[listed]]])


def _of(numbers: array[int]) -> NDArray[np.uint64]:
    return np.frombuffer(numbers.tobytes(), np.uint64)


def write_outline(path: Path, outline: Outline, moment: Moment) -> None:
    """Write the outline beside its store, whole or not at all; OSError where it cannot be written."""
    arrays: dict[str, NDArray[Any]] = {name: getattr(outline, name) for name in _ARRAYS}
    for name, texts in (("ids", outline.ids), ("gone", outline.gone)):
        arrays |= {f"{name}/joined": texts.joined, f"{name}/ends": texts.ends}
    for kind, table in outline.said.items():
        arrays |= said_arrays(kind, table)
    counts = {kind: table.count for kind, table in outline.said.items()}
    told = {"counts": counts, "serial": moment.serial, "moment": moment.stamp}
    # What the program's fields are decides what is kept of the rows.
    write_arrays(path, _NAME, arrays, stamp=_fields_hash(), told=told)


def open_outline(path: Path) -> tuple[Outline, Moment] | None:
    """Return the outline that is kept, and of which moment it is; None where there is none, or it is damaged.

    What is said of the entries is read, and checked, field by field when it is used.
    """
    file = open_arrays(path, _NAME, _fields_hash())
    if file is None:
        return None
    try:
        outline = Outline(
            ids=Texts(file.checked("ids/joined"), file.checked("ids/ends")),
            gone=Texts(file.checked("gone/joined"), file.checked("gone/ends")),
            **{name: file.checked(name) for name in _ARRAYS},
            said={kind: said_in(file, kind, int(count)) for kind, count in file.told["counts"].items()},
        )
        return outline, Moment(int(file.told["serial"]), str(file.told["moment"]))
    except (DamagedArrayError, KeyError, ValueError):
        return None


def _fields_hash() -> str:
    return f"{hashed(' '.join(sorted(all_fields()))):x}"
