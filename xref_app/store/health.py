"""Is every row of the store what was written: SQLite's own check, every hash, every count, the chain of the history."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Engine, inspect

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.store.connect import reading
from xref_app.store.errors import DamagedStoreError
from xref_app.store.history import ChainBreak, first_break, read_head
from xref_app.store.tables import CATALOG_TABLES, AnyTable
from xref_app.store.tally import Tally, count_table
from xref_app.store.verified import DamagedRow, read_verified


@dataclass(frozen=True, slots=True)
class TallyBreak:
    """A table that has lost or gained rows behind the program's back."""

    table: str
    expected_rows: int
    found_rows: int


@dataclass(frozen=True, slots=True)
class HealthReport:
    """What is wrong with a store; ``complaints`` are SQLite's own words and ``rows`` the sound rows per table."""

    complaints: tuple[str, ...]
    damaged: tuple[DamagedRow, ...]
    tally_breaks: tuple[TallyBreak, ...]
    chain_break: ChainBreak | None
    rows: dict[str, int]
    last_serial: int

    @property
    def is_whole(self) -> bool:
        """Say whether nothing at all is wrong."""
        return not (self.complaints or self.damaged or self.tally_breaks or self.chain_break)


def check_store(engine: Engine, progress: Progress = NO_PROGRESS) -> HealthReport:
    """Read every row of the store once and report what is wrong.

    Raises:
        DamagedStoreError: SQLite cannot read the file at all.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    with reading(engine) as connection:
        counted = _Counted(progress, _expected_rows(connection))
        read = {
            table.name: read_verified(connection, table, lacking=_lacking(connection, table), heard=counted.hear)
            for table in _tables_there(connection)
        }
        return HealthReport(
            complaints=_complaints(connection),
            damaged=tuple(row for found in read.values() for row in found.damaged),
            tally_breaks=tally_breaks(connection),
            chain_break=first_break(connection),
            rows={name: len(found.sound) for name, found in read.items()},
            last_serial=_last_serial(connection),
        )


class _Counted:
    """Rows of all tables counted together, for ``progress``."""

    def __init__(self, progress: Progress, total: int) -> None:
        self._progress, self._total, self._done = progress, total, 0

    def hear(self, rows: int) -> None:
        """Note that so many more were read."""
        self._done = min(self._done + rows, self._total)
        self._progress.step(self._done, self._total)


def _expected_rows(connection: Connection) -> int:
    """Return how many rows the history says there are; 0 where it cannot be read."""
    try:
        return sum(one.rows for one in read_head(connection).tallies.values())
    except (ValueError, TypeError, AttributeError):
        return 0


def can_be_built_upon(engine: Engine) -> bool:
    """Say whether an act can be added: file and history are sound, whatever single rows are like."""
    try:
        with reading(engine) as connection:
            is_sound = connection.dialect.name != "sqlite" or _integrity(connection) == ["ok"]
            read_head(connection)
            return is_sound and first_break(connection) is None
    except (DamagedStoreError, ValueError, TypeError, AttributeError):
        return False


def tally_breaks(connection: Connection, tables: Sequence[AnyTable] = CATALOG_TABLES) -> tuple[TallyBreak, ...]:
    """Return which of ``tables`` have rows that are not those that the history says should be there."""
    try:
        expected = read_head(connection).tallies
    except (ValueError, TypeError, AttributeError):
        return (TallyBreak("history", 0, 0),)
    there = _tables_there(connection)
    breaks = []
    for table in tables:
        should = expected.get(table.name, Tally())
        try:
            found = count_table(connection, table) if table in there else Tally()
        except ValueError:
            found = Tally(-1, 0)
        if found != should:
            breaks.append(TallyBreak(table.name, should.rows, found.rows))
    return tuple(breaks)


def _tables_there(connection: Connection) -> list[AnyTable]:
    """Return the tables that the store has: one of an older format, about to be upgraded, lacks the later ones."""
    there = set(inspect(connection).get_table_names())
    return [table for table in CATALOG_TABLES if table.name in there]


def _lacking(connection: Connection, table: AnyTable) -> frozenset[str]:
    """Return the later columns that the table of an older format does not have yet."""
    if not table.later:
        return frozenset()
    return table.later - {str(one["name"]) for one in inspect(connection).get_columns(table.name)}


def _complaints(connection: Connection) -> tuple[str, ...]:
    if connection.dialect.name != "sqlite":
        return ()
    found = _integrity(connection)
    found += [f"{row[0]} names a lost {row[2]}" for row in connection.exec_driver_sql("PRAGMA foreign_key_check")]
    return tuple(one for one in found if one != "ok")


def _integrity(connection: Connection) -> list[str]:
    return [str(one) for one in connection.exec_driver_sql("PRAGMA integrity_check").scalars()]


def _last_serial(connection: Connection) -> int:
    try:
        return read_head(connection).serial
    except (ValueError, TypeError, AttributeError):
        return 0
