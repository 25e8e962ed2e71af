"""What was done to the catalog, by whom and why: rows are only ever added, each chained to the one before."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from sqlalchemy import Connection, Engine, RowMapping, bindparam, insert, select

from xref_app.store.connect import place_of, reading
from xref_app.store.errors import DamagedStoreError
from xref_app.store.row_hash import text_hash
from xref_app.store.tables import HISTORY
from xref_app.store.tally import Tallies, Tally, empty_tallies, tallies_as_text, tallies_from_text

_HASHED: Final = tuple(name for name in HISTORY.c.keys() if name != "own_hash")  # noqa: SIM118 - a column collection

# Written down once: building a statement takes longer than running it.
_ADD: Final = insert(HISTORY)
_LAST: Final = (
    select(HISTORY.c.serial, HISTORY.c.own_hash, HISTORY.c.tallies).order_by(HISTORY.c.serial.desc()).limit(1)
)
_ONE: Final = select(HISTORY).where(HISTORY.c.serial == bindparam("wanted"))


@dataclass(frozen=True, slots=True)
class Change:
    """One act: ``before`` and ``after`` are what stood there and what stands there now, as plain values."""

    who: str
    action: str
    why: str
    table: str = ""
    key: tuple[str, ...] = ()
    before: Mapping[str, object] | None = None
    after: Mapping[str, object] | None = None


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """One act as kept; ``at`` is UTC, ISO 8601."""

    serial: int
    at: str
    change: Change


@dataclass(frozen=True, slots=True)
class ChainBreak:
    """The first place where the history is not what was written."""

    serial: int
    why: str


@dataclass(frozen=True, slots=True)
class Head:
    """The end of the history: what the next row is chained to and what every table should hold."""

    serial: int
    own_hash: str
    tallies: Mapping[str, Tally]


def read_head(connection: Connection) -> Head:
    """Return the end of the history; raise ValueError where it cannot be read."""
    last = connection.execute(_LAST).first()
    if last is None:
        return Head(0, "", empty_tallies())
    return Head(last.serial, last.own_hash, tallies_from_text(last.tallies))


def last_serial(engine: Engine) -> int:
    """Return the serial of the last act; 0 for an empty store; raise DamagedStoreError where it cannot be read."""
    with reading(engine) as connection:
        return read_head_or_refuse(connection).serial


def append(connection: Connection, head: Head, change: Change, tallies: Tallies) -> int:
    """Add ``change`` after ``head`` inside the transaction that makes it, and return its serial."""
    row = {
        "serial": head.serial + 1,
        "at": datetime.now(UTC).isoformat(timespec="milliseconds"),
        "who": change.who,
        "action": change.action,
        "table_name": change.table,
        "row_key": _as_text(change.key),
        "before": _as_text(change.before),
        "after": _as_text(change.after),
        "why": change.why,
        "tallies": tallies_as_text(tallies),
        "previous_hash": head.own_hash,
    }
    connection.execute(_ADD, {**row, "own_hash": _hash(row)})
    return head.serial + 1


def read_history(engine: Engine, *, limit: int = 100) -> tuple[HistoryRow, ...]:
    """Return the last ``limit`` acts, newest first."""
    with reading(engine) as connection:
        found = connection.execute(select(HISTORY).order_by(HISTORY.c.serial.desc()).limit(limit)).mappings()
        return tuple(_as_history_row(row) for row in found)


def read_head_or_refuse(connection: Connection) -> Head:
    """Return the end of the history, or raise DamagedStoreError: nothing can be chained to what cannot be read."""
    try:
        return read_head(connection)
    except (ValueError, TypeError, AttributeError) as error:
        raise DamagedStoreError(place_of(connection.engine), "the last row of the history cannot be read") from error


def read_act(connection: Connection, serial: int) -> HistoryRow:
    """Return the act ``serial``, or raise DamagedStoreError where it is missing or not what was written."""
    row = connection.execute(_ONE, {"wanted": serial}).mappings().first()
    if row is None or row["own_hash"] != _hash(row):
        raise DamagedStoreError(place_of(connection.engine), f"row {serial} of the history is not what was written")
    return _as_history_row(row)


def acts_naming(connection: Connection, table: str, key: Mapping[str, object]) -> Iterator[HistoryRow]:
    """Yield the acts whose rows may hold the row ``key`` of ``table``, newest first; the caller looks closer.

    The whole history is searched, so this is for words about a change, not for making one.
    """
    named = [HISTORY.c.after.contains(_cell(one), autoescape=True) for one in key.items()]
    query = select(HISTORY.c.serial).where(HISTORY.c.table_name.in_((table, "")), *named)
    query = query.order_by(HISTORY.c.serial.desc())
    for serial in connection.scalars(query).all():
        yield read_act(connection, serial)


def _cell(cell: tuple[str, object]) -> str:
    return _as_text(dict([cell]))[1:-1]


def first_break(connection: Connection) -> ChainBreak | None:
    """Return where the chain is broken first: a row altered, taken out, put in or moved; None where it is whole.

    Rows cut off at the end leave a whole chain; the tallies of what is then the last row disagree with the tables.
    """
    expected, previous = 1, ""
    for row in connection.execute(select(HISTORY).order_by(HISTORY.c.serial)).mappings():
        if row["serial"] != expected:
            return ChainBreak(expected, "the row is missing")
        if row["previous_hash"] != previous:
            return ChainBreak(expected, "the row does not follow the one before")
        if row["own_hash"] != _hash(row):
            return ChainBreak(expected, "the row was altered")
        expected, previous = expected + 1, row["own_hash"]
    return None


def _hash(row: Mapping[str, object] | RowMapping) -> str:
    return text_hash(_as_text([str(row[name]) for name in _HASHED]))


def _as_text(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, sort_keys=True)


def _as_history_row(row: RowMapping) -> HistoryRow:
    change = Change(
        who=row["who"],
        action=row["action"],
        why=row["why"],
        table=row["table_name"],
        key=tuple(json.loads(row["row_key"])),
        before=json.loads(row["before"]),
        after=json.loads(row["after"]),
    )
    return HistoryRow(row["serial"], row["at"], change)
