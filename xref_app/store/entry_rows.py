"""All that the store says of an entry, read entry by entry: so a large catalog need not be held in memory."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import Final, cast

from sqlalchemy import Connection, Engine, func, select

from xref_app.core.model.catalog import DriverRow, Entry, MachineRow, Number, Observation, Photo, PortRow
from xref_app.store.connect import reading
from xref_app.store.history import read_head
from xref_app.store.tables import (
    DRIVERS,
    ENTRIES,
    MACHINES,
    NUMBERS,
    OBSERVATIONS,
    PHOTOS,
    PORTS,
    AnyTable,
    CatalogRow,
    CatalogTable,
    R,
)
from xref_app.store.tally import Tally
from xref_app.store.touched import digest_of, digests_since, is_in_history
from xref_app.store.verified import DamagedRow, as_row, read_verified

# The tables whose rows belong to one entry, and go where it goes.
OWNED: Final[tuple[AnyTable, ...]] = (ENTRIES, NUMBERS, OBSERVATIONS, DRIVERS, MACHINES, PORTS, PHOTOS)
_OWNED_NAMES: Final = frozenset(table.name for table in OWNED)
# SQLite takes some thousand values in one question; far fewer keep each answer small (house rule).
_AT_ONCE: Final = 400
DIGESTS: Final = 1 << 64
"""How many digests there are: sums of hashes are counted round."""


@dataclass(frozen=True, slots=True)
class EntryRows:
    """What is known of one entry, without what is withdrawn.

    ``entry`` is None where there is none, or none any more; nothing else is told then. ``digest`` is the sum of the
    hashes of all rows that are not withdrawn, 64 bits of it: a row that was lost, altered or added makes another.
    ``damaged`` counts the rows set aside.
    """

    entry: Entry | None = None
    numbers: tuple[Number, ...] = ()
    observations: tuple[Observation, ...] = ()
    driver: DriverRow | None = None
    machine: MachineRow | None = None
    ports: tuple[PortRow, ...] = ()
    photos: tuple[Photo, ...] = ()
    digest: int = 0
    damaged: int = 0


NO_ROWS: Final = EntryRows()


class EntryReader:
    """Reads entries out of one store; each question is a short transaction of its own."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def read(self, entry_ids: Collection[str]) -> Mapping[str, EntryRows]:
        """Return the rows of each of ``entry_ids``, also of one that is not there."""
        found: dict[str, EntryRows] = {}
        with reading(self._engine) as connection:
            for batch in batched(sorted(set(entry_ids))):
                found.update(_Batch(connection, batch).entries())
        return found

    def digests_since(self, moment: Moment) -> Mapping[str, int] | None:
        """Return by how much each entry's digest differs since ``moment``; None where the history cannot tell.

        Raises:
            DamagedStoreError: the history since then is not what was written.
        """
        with reading(self._engine) as connection:
            if not is_in_history(connection, moment.serial, moment.stamp):
                return None
            return digests_since(connection, moment.serial, _OWNED_NAMES)

    def has_any(self) -> bool:
        """Say whether there is any entry that is not withdrawn."""
        live = select(ENTRIES.table.c.entry_id).where(ENTRIES.table.c.withdrawn_on == "").limit(1)
        with reading(self._engine) as connection:
            return connection.scalars(live).first() is not None

    def count(self) -> int:
        """Return how many entries there are, withdrawn ones too."""
        with reading(self._engine) as connection:
            return int(connection.scalar(select(func.count()).select_from(ENTRIES.table)) or 0)

    @contextmanager
    def reading_all(self) -> Iterator[WholeReading]:
        """Yield a reading of every entry at one moment."""
        with reading(self._engine) as connection:
            yield WholeReading(connection)


@dataclass(frozen=True, slots=True)
class Moment:
    """A moment of a store: its last change, and that change's hash, which hangs on all changes before."""

    serial: int
    stamp: str

    def __str__(self) -> str:
        return f"{self.serial} {self.stamp}"


NO_MOMENT: Final = Moment(-1, "")
"""What stands where the end of the history cannot be read."""


class WholeReading:
    """A reading of every entry of one moment; for as long as its transaction is open."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self.moment = _moment(connection)
        ids = connection.scalars(select(ENTRIES.table.c.entry_id)).all()
        self.ids = tuple(sorted(str(one) for one in ids))
        self.damaged: list[DamagedRow] = []
        self._tallies = {table.name: Tally() for table in OWNED}

    def entries(self) -> Iterator[tuple[str, EntryRows]]:
        """Yield every entry with its rows, in the order of the ids; of a withdrawn one only the digest."""
        for ids in batched(self.ids):
            batch = _Batch(self._connection, ids)
            self.damaged += batch.damaged
            for name, hashes in batch.hashes.items():
                with suppress(ValueError):  # a torn hash is no hash, so the sum comes out another
                    self._tallies[name] = self._tallies[name].plus(hashes)
            yield from batch.entries().items()

    def is_whole(self) -> bool:
        """Say, once every entry was read, whether those were all rows that the history says there should be."""
        if self.moment is NO_MOMENT:
            return False
        expected = read_head(self._connection).tallies
        return all(self._tallies[table.name] == expected.get(table.name, Tally()) for table in OWNED)


def batched(ids: Sequence[str], size: int = _AT_ONCE) -> Iterator[Sequence[str]]:
    """Yield ``ids`` in runs of at most ``size``."""
    for start in range(0, len(ids), size):
        yield ids[start : start + size]


def _moment(connection: Connection) -> Moment:
    try:
        head = read_head(connection)
    except (ValueError, TypeError, AttributeError):
        return NO_MOMENT
    return Moment(head.serial, head.own_hash)


class _Batch:
    """The rows of a few entries, sorted by whose they are."""

    def __init__(self, connection: Connection, ids: Sequence[str]) -> None:
        self._ids = ids
        self.hashes: dict[str, list[str]] = {}
        self._live: dict[str, dict[str, list[CatalogRow]]] = {}
        self._digests: Counter[str] = Counter()
        self._damaged: Counter[str] = Counter()
        self.damaged: list[DamagedRow] = []
        for table in OWNED:
            self._live[table.name] = self._sorted(connection, table)

    def _sorted(self, connection: Connection, table: AnyTable) -> dict[str, list[CatalogRow]]:
        found = read_verified(connection, table, table.table.c.entry_id.in_(self._ids))
        self.damaged += found.damaged
        # A damaged row is there, whatever it says: it must not count as lost, too.
        self.hashes[table.name] = [
            str(one["row_hash"]) for one in (*found.sound, *(row.found for row in found.damaged))
        ]
        rows: dict[str, list[CatalogRow]] = {}
        for values in found.sound:
            if values["withdrawn_on"] == "":
                owner = str(values["entry_id"])
                rows.setdefault(owner, []).append(as_row(table, values))
                self._digests[owner] += digest_of(str(values["row_hash"]))
        return rows

    def entries(self) -> dict[str, EntryRows]:
        """Return the rows of each entry."""
        self._damaged = Counter(one.values["entry_id"] for one in self.damaged)
        return {one: self._of(one) for one in self._ids}

    def _of(self, entry_id: str) -> EntryRows:
        damaged, digest = self._damaged[entry_id], self._digests[entry_id] % DIGESTS
        entry = next(iter(self._rows(ENTRIES, entry_id)), None)
        if entry is None:
            return EntryRows(digest=digest, damaged=damaged)
        return EntryRows(
            entry=entry,
            numbers=self._rows(NUMBERS, entry_id),
            observations=self._rows(OBSERVATIONS, entry_id),
            driver=next(iter(self._rows(DRIVERS, entry_id)), None),
            machine=next(iter(self._rows(MACHINES, entry_id)), None),
            ports=self._rows(PORTS, entry_id),
            photos=self._rows(PHOTOS, entry_id),
            digest=digest,
            damaged=damaged,
        )

    def _rows(self, table: CatalogTable[R], entry_id: str) -> tuple[R, ...]:
        return cast("tuple[R, ...]", tuple(self._live[table.name].get(entry_id, ())))
