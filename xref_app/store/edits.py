"""What somebody enters, saved as one act with a name: all of it or nothing, once however often it is sent."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, bindparam, delete, insert, select

from xref_app.store.connect import place_of, reading, writing
from xref_app.store.errors import ChangedMeanwhileError, DamagedStoreError, DoubledKeyError, RowMissingError
from xref_app.store.history import Change, acts_naming, read_act, read_head_or_refuse
from xref_app.store.numbers import Numbers
from xref_app.store.package import spelled
from xref_app.store.row_changes import (
    RowChange,
    carry_out,
    changes_of,
    find_rows,
    refuse_lost_references,
    today,
    told,
    with_mark,
)
from xref_app.store.row_hash import Values, to_values
from xref_app.store.tables import DRAFTS, SAVES, TABLES_BY_NAME, AnyTable, CatalogRow
from xref_app.store.undoing import Step, next_redo, next_undo, redo, undo
from xref_app.store.verified import as_row

__all__ = ["Numbers", "RowEdit", "Saved", "Step", "next_redo", "next_undo", "redo", "save_edits", "undo"]

_SERIAL_OF: Final = select(SAVES.c.serial).where(SAVES.c.save_id == bindparam("wanted"))
_ADD_SAVE: Final = insert(SAVES)
_DROP_DRAFT: Final = delete(DRAFTS).where(DRAFTS.c.draft_id == bindparam("wanted"))


@dataclass(frozen=True, slots=True)
class RowEdit:
    """One row of ``table`` before and after an edit; no ``before``: a new row; no ``after``: withdraw it today."""

    table: str
    before: CatalogRow | None
    after: CatalogRow | None


@dataclass(frozen=True, slots=True)
class Saved:
    """What a save did, as read back: its serial in the history (0: nothing was to be done) and its edits.

    ``again`` says that this save had been carried out before, so that nothing was done now.
    """

    serial: int
    edits: tuple[RowEdit, ...]
    again: bool


def save_edits(  # noqa: PLR0913 - one save has a name, a person, a reason and an id
    engine: Engine, build: Callable[[Numbers], Sequence[RowEdit]], *, name: str, who: str, why: str, save_id: str
) -> Saved:
    """Save what ``build`` returns as one act, and return it as read back from the disk.

    ``build`` runs inside the transaction, so the numbers it is given are its own; it must not open another one. A row
    that is withdrawn may be added anew. A draft whose id is ``save_id`` has become this save and is dropped with it.

    Args:
        engine: the store.
        build: makes the edits; edits that change nothing are left out.
        name: what to call the act when it is undone, such as the name of the entry.
        who: who says so.
        why: the reason, in words.
        save_id: made up once per save by the caller; the same one again changes nothing.

    Raises:
        ChangedMeanwhileError: somebody else changed one of the rows.
        LostReferenceError: a row names one that nobody has.
        RowMissingError: a row to be changed is not there.
        DamagedStoreError: a row is damaged; or what was saved does not come back (the same id again tells whether).
        StoreError: another of its kinds; nothing was changed.
        ValueError: an edit without rows, or one that changes a key.
    """
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        serial, again = connection.scalar(_SERIAL_OF, {"wanted": save_id}), True
        if serial is None:
            changes = _planned(connection, build(Numbers(connection)))
            change = told(Change(who=who, action="save", why=why, key=(save_id, name)), changes)
            serial, again = carry_out(connection, head, changes, change) if changes else 0, False
            if changes:
                connection.execute(_ADD_SAVE, {"save_id": save_id, "serial": serial})
            connection.execute(_DROP_DRAFT, {"wanted": save_id})
    return _read_back(engine, serial, save_id, again=again) if serial else Saved(0, (), again=False)


def _planned(connection: Connection, edits: Sequence[RowEdit]) -> tuple[RowChange, ...]:
    planned: dict[tuple[object, ...], RowChange] = {}
    given = [_given(edit) for edit in edits]
    there = find_rows(connection, [(one.table, one.before or one.after or {}) for one in given])
    for edit, now in zip(given, there, strict=True):
        change = _plan(connection, edit, now)
        place = (change.table.name, *change.key)
        if place in planned:
            raise DoubledKeyError(
                table=change.table.name, key=spelled(change.key), why="it is edited twice in one save"
            )
        planned[place] = change
    changes = tuple(one for one in planned.values() if one.alters)
    refuse_lost_references(connection, changes)
    return changes


@dataclass(frozen=True, slots=True)
class _Given:
    """An edit in canonical form; one of its two rows is there."""

    table: AnyTable
    before: Values | None
    after: Values | None


def _given(edit: RowEdit) -> _Given:
    table = TABLES_BY_NAME[edit.table]
    before, after = (None if row is None else to_values(table, row) for row in (edit.before, edit.after))
    if before is None and after is None:
        raise ValueError(f"an edit of {table.name} has neither a row before nor a row after")
    if before and after and any(before[name] != after[name] for name in table.key):
        raise ValueError(f"an edit of {table.name} {spelled(_key(table, before))} changes the row's key")
    return _Given(table, before, after)


def _plan(connection: Connection, edit: _Given, now: Values | None) -> RowChange:
    table, before, after = edit.table, edit.before, edit.after
    given = after or before or {}
    _refuse_others_version(connection, table, given, before, now)
    if after is None:
        after = given if given["withdrawn_on"] else with_mark(table, given, today())
    return RowChange(table, now, after)


def _refuse_others_version(
    connection: Connection, table: AnyTable, given: Values, before: Values | None, now: Values | None
) -> None:
    if before is None and (now is None or now["withdrawn_on"]):
        return
    if now is None:
        raise RowMissingError(table=table.name, key=spelled(_key(table, given)))
    if before is None or before["row_hash"] != now["row_hash"]:
        raise _changed_meanwhile(connection, table, now)


def _changed_meanwhile(connection: Connection, table: AnyTable, now: Values) -> ChangedMeanwhileError:
    """Return the fault with who left the row as it stands ``now``, where the history tells it."""
    who, at = "", ""
    for act in acts_naming(connection, table.name, {"row_hash": now["row_hash"]}):
        who, at = act.change.who, act.at
        break
    return ChangedMeanwhileError(
        table=table.name, key=spelled(_key(table, now)), who=who, at=at, theirs=as_row(table, now)
    )


def _key(table: AnyTable, values: Values) -> tuple[object, ...]:
    return tuple(values[name] for name in table.key)


def _read_back(engine: Engine, serial: int, save_id: str, *, again: bool) -> Saved:
    with reading(engine) as connection:
        act = read_act(connection, serial)
        changes = changes_of(act)
        untouched = not again and read_head_or_refuse(connection).serial == serial
        stands = not untouched or _stand(connection, changes)
    if act.change.key[:1] != (save_id,) or not stands:
        raise DamagedStoreError(place_of(engine), f"act {serial} was saved and cannot be read back")
    return Saved(serial, tuple(_edit(one) for one in changes), again)


def _stand(connection: Connection, changes: Sequence[RowChange]) -> bool:
    there = find_rows(connection, [(one.table, one.after) for one in changes])
    return all(
        now is not None and now["row_hash"] == one.after["row_hash"] for one, now in zip(changes, there, strict=True)
    )


def _edit(change: RowChange) -> RowEdit:
    table, before, after = change.table, change.before, change.after
    withdrawn = before is not None and not before["withdrawn_on"] and bool(after["withdrawn_on"])
    return RowEdit(
        table.name,
        None if before is None else as_row(table, before),
        None if withdrawn else as_row(table, after),
    )
