"""The shop's own changes, one transaction and one history row each. Nothing is ever deleted.

Each function takes the shared Engine and opens its own transaction, so threads may call them at the same time; they
wait for each other. A function that returned has its change on the disk.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime

from sqlalchemy import Connection, Engine, func, select

from xref_app.core.model.catalog import Observation
from xref_app.store.connect import place_of, reading, writing
from xref_app.store.errors import DamagedStoreError, LostReferenceError, RowMissingError
from xref_app.store.history import Change, append
from xref_app.store.importing import OWN_OBSERVATIONS_FROM, read_head_or_refuse, spelled, write_rows
from xref_app.store.row_hash import Value, Values, row_hash, to_values
from xref_app.store.tables import ENTRIES, OBSERVATIONS, TABLES_BY_NAME, AnyTable
from xref_app.store.verified import as_row, read_verified


def add_observation(engine: Engine, observation: Observation, *, who: str, why: str) -> Observation:
    """Add what somebody saw or measured and return it with its number, as read back from the disk.

    Args:
        engine: the store.
        observation: with ``observation_id`` 0; the store numbers it.
        who: who says so.
        why: the reason, in words.

    Raises:
        ValueError: the observation has a number already.
        LostReferenceError: nobody knows its entry.
        StoreError: another of its kinds; nothing was changed.
    """
    if observation.observation_id != 0:
        raise ValueError(f"observation {observation.observation_id} has a number already; the store gives it")
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        _refuse_unknown_entry(connection, observation.entry_id)
        highest = connection.scalar(select(func.max(OBSERVATIONS.table.c.observation_id))) or 0
        numbered = replace(observation, observation_id=max(highest + 1, OWN_OBSERVATIONS_FROM))
        values = to_values(OBSERVATIONS, numbered)
        write_rows(connection, OBSERVATIONS, added=(values,))
        tallies = dict(head.tallies)
        tallies["observations"] = tallies["observations"].plus([str(values["row_hash"])])
        key = (str(numbered.observation_id),)
        change = Change(who=who, action="add", why=why, table="observations", key=key, after=values)
        append(connection, head, change, tallies)
    return _read_back(engine, numbered.observation_id)


def withdraw(engine: Engine, table: str, key: tuple[Value, ...], *, who: str, why: str) -> None:
    """Mark the row ``key`` of ``table`` as withdrawn today; it stays where it is and is left out of all answers.

    Raises:
        RowMissingError: there is no such row, or it is withdrawn already or damaged.
        StoreError: another of its kinds; nothing was changed.
    """
    today = datetime.now(UTC).date().isoformat()
    _mark(engine, TABLES_BY_NAME[table], key, Change(who=who, action="withdraw", why=why), withdrawn_on=today)


def bring_back(engine: Engine, table: str, key: tuple[Value, ...], *, who: str, why: str) -> None:
    """Take the withdrawal of the row ``key`` of ``table`` back, as a new act.

    Raises:
        RowMissingError: there is no such row, or it is not withdrawn, or damaged.
        StoreError: another of its kinds; nothing was changed.
    """
    _mark(engine, TABLES_BY_NAME[table], key, Change(who=who, action="bring back", why=why), withdrawn_on="")


def _mark(engine: Engine, table: AnyTable, key: tuple[Value, ...], change: Change, *, withdrawn_on: str) -> None:
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        before = _row(connection, table, key)
        if bool(before["withdrawn_on"]) == bool(withdrawn_on):
            raise RowMissingError(table=table.name, key=spelled(key))
        after: Values = {**before, "withdrawn_on": withdrawn_on}
        after["row_hash"] = row_hash(table, after)
        write_rows(connection, table, changed=(after,))
        tallies = dict(head.tallies)
        tally = tallies[table.name].minus([str(before["row_hash"])])
        tallies[table.name] = tally.plus([str(after["row_hash"])])
        spelled_key = tuple(str(one) for one in key)
        append(
            connection, head, replace(change, table=table.name, key=spelled_key, before=before, after=after), tallies
        )


def _row(connection: Connection, table: AnyTable, key: tuple[Value, ...]) -> Values:
    same_key = [table.table.c[name] == value for name, value in zip(table.key, key, strict=True)]
    found = read_verified(connection, table, *same_key).sound
    if not found:
        raise RowMissingError(table=table.name, key=spelled(key))
    return _plain(found[0])


def _plain(values: Mapping[str, object]) -> Values:
    return {name: value if isinstance(value, str | int | float | bool) else None for name, value in values.items()}


def _refuse_unknown_entry(connection: Connection, entry_id: str) -> None:
    known = connection.scalar(select(func.count()).where(ENTRIES.table.c.entry_id == entry_id))
    if not known:
        raise LostReferenceError(table="observations", key="new", column="entry_id", value=entry_id)


def _read_back(engine: Engine, observation_id: int) -> Observation:
    with reading(engine) as connection:
        found = read_verified(connection, OBSERVATIONS, OBSERVATIONS.table.c.observation_id == observation_id).sound
    if not found:
        raise DamagedStoreError(place_of(engine), f"observation {observation_id} was saved and cannot be read back")
    return as_row(OBSERVATIONS, found[0])
