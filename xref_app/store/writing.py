"""The shop's own changes of single rows, one transaction and one history row each. Nothing is ever deleted.

Each function takes the shared Engine and opens its own transaction, so threads may call them at the same time; they
wait for each other. A function that returned has its change on the disk.
"""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import Connection, Engine

from xref_app.core.model.catalog import Observation
from xref_app.store.connect import place_of, reading, writing
from xref_app.store.errors import DamagedStoreError, RowMissingError
from xref_app.store.history import Change, read_head_or_refuse
from xref_app.store.numbers import Numbers
from xref_app.store.package import spelled
from xref_app.store.row_changes import RowChange, carry_out, find_row, refuse_lost_references, today, with_mark
from xref_app.store.row_hash import Value, to_values
from xref_app.store.tables import OBSERVATIONS, TABLES_BY_NAME, AnyTable
from xref_app.store.verified import as_row


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
        numbered = replace(observation, observation_id=Numbers(connection).observation_id())
        change = RowChange(OBSERVATIONS, None, to_values(OBSERVATIONS, numbered))
        refuse_lost_references(connection, (change,))
        _act(connection, change, Change(who=who, action="add", why=why))
    return _read_back(engine, numbered.observation_id)


def withdraw(engine: Engine, table: str, key: tuple[Value, ...], *, who: str, why: str) -> None:
    """Mark the row ``key`` of ``table`` as withdrawn today; it stays where it is and is left out of all answers.

    Raises:
        RowMissingError: there is no such row, or it is withdrawn already.
        StoreError: another of its kinds; nothing was changed.
    """
    _mark(engine, TABLES_BY_NAME[table], key, Change(who=who, action="withdraw", why=why), withdrawn_on=today())


def bring_back(engine: Engine, table: str, key: tuple[Value, ...], *, who: str, why: str) -> None:
    """Take the withdrawal of the row ``key`` of ``table`` back, as a new act.

    Raises:
        RowMissingError: there is no such row, or it is not withdrawn.
        StoreError: another of its kinds; nothing was changed.
    """
    _mark(engine, TABLES_BY_NAME[table], key, Change(who=who, action="bring back", why=why), withdrawn_on="")


def _mark(engine: Engine, table: AnyTable, key: tuple[Value, ...], change: Change, *, withdrawn_on: str) -> None:
    with writing(engine) as connection:
        before = find_row(connection, table, dict(zip(table.key, key, strict=True)))
        if before is None or bool(before["withdrawn_on"]) == bool(withdrawn_on):
            raise RowMissingError(table=table.name, key=spelled(key))
        _act(connection, RowChange(table, before, with_mark(table, before, withdrawn_on)), change)


def _act(connection: Connection, row: RowChange, change: Change) -> None:
    key = tuple(str(one) for one in row.key)
    told = replace(change, table=row.table.name, key=key, before=row.before, after=row.after)
    carry_out(connection, read_head_or_refuse(connection), (row,), told)


def _read_back(engine: Engine, observation_id: int) -> Observation:
    with reading(engine) as connection:
        found = find_row(connection, OBSERVATIONS, {"observation_id": observation_id})
    if found is None:
        raise DamagedStoreError(place_of(engine), f"observation {observation_id} was saved and cannot be read back")
    return as_row(OBSERVATIONS, found)
