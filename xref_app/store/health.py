"""Is every row of the store what was written: SQLite's own check, every hash, every count, the chain of the history."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, inspect

from xref_app.core.progress import NO_PROGRESS, Progress, stretches
from xref_app.store.connect import reading
from xref_app.store.errors import DamagedStoreError
from xref_app.store.history import ChainBreak, first_break, read_head
from xref_app.store.stopping import stoppable
from xref_app.store.tables import CATALOG_TABLES, AnyTable
from xref_app.store.tally import Tallies, Tally, count_table
from xref_app.store.verified import CheckedRows, DamagedRow, check_rows

# How long reading the rows, SQLite's own check and all else take beside each other, for the progress only.
_SHARES: Final = (7, 2, 1)


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
    rows, own_check, rest = stretches(progress, *_SHARES)
    with reading(engine) as connection:
        read = _check_tables(connection, rows)
        with stoppable(connection, own_check):
            complaints = _complaints(connection)
        with stoppable(connection, rest):
            chain_break = first_break(connection)
        tallies = {one.name: read[one.name].tally if one.name in read else Tally() for one in CATALOG_TABLES}
        return HealthReport(
            complaints=complaints,
            damaged=tuple(row for found in read.values() for row in found.damaged),
            tally_breaks=_tally_breaks(connection, tallies),
            chain_break=chain_break,
            rows={name: found.sound for name, found in read.items()},
            last_serial=_last_serial(connection),
        )


def _check_tables(connection: Connection, progress: Progress) -> Mapping[str, CheckedRows]:
    tables = _tables_there(connection)
    expected = _expected(connection) or {}
    sizes = [expected.get(one.name, Tally()).rows for one in tables]
    return {
        table.name: check_rows(connection, table, lacking=_lacking(connection, table), expected=size, progress=one)
        for table, size, one in zip(tables, sizes, stretches(progress, *sizes), strict=True)
    }


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
    there = _tables_there(connection)
    return _tally_breaks(connection, {one.name: _tally(connection, one) if one in there else Tally() for one in tables})


def _tally(connection: Connection, table: AnyTable) -> Tally | None:
    try:
        return count_table(connection, table)
    except ValueError:
        return None


def _tally_breaks(connection: Connection, found: Mapping[str, Tally | None]) -> tuple[TallyBreak, ...]:
    """Return which tables hold other rows than they should; None stands for a hash that is none."""
    expected = _expected(connection)
    if expected is None:
        return (TallyBreak("history", 0, 0),)
    return tuple(
        TallyBreak(name, expected.get(name, Tally()).rows, -1 if tally is None else tally.rows)
        for name, tally in found.items()
        if tally != expected.get(name, Tally())
    )


def _expected(connection: Connection) -> Tallies | None:
    """Return what the history says should be in each table; None where it cannot be read."""
    try:
        return read_head(connection).tallies
    except (ValueError, TypeError, AttributeError):
        return None


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


def last_act_of(engine: Engine) -> int:
    """Return the serial of the last act; 0 where there is none, or none that can be read."""
    with reading(engine) as connection:
        return _last_serial(connection)


def _last_serial(connection: Connection) -> int:
    try:
        return read_head(connection).serial
    except (ValueError, TypeError, AttributeError):
        return 0
