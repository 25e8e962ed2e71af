"""Undo and redo by the history: each is a new act, names what it undoes, and works across restarts.

Every act knows what may be undone after it and what may be redone: an act of the shop is its own answer, and an undo
or redo carries both serials in its key, ``[of which act, next to undo, next to redo]``. What could be undone before an
act stands at the act before it. So no step reads more than a few rows, however long the history is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine

from xref_app.core.fields.fields import all_fields
from xref_app.store.connect import reading, writing
from xref_app.store.errors import CannotUndoError
from xref_app.store.history import Change, Head, HistoryRow, read_act, read_head_or_refuse
from xref_app.store.package import spelled
from xref_app.store.row_changes import RowChange, carry_out, changes_of, find_rows, today, told, with_mark

# What the shop does to single rows. Everything else (an import) is a barrier: nothing before it can be undone.
_OWN_ACTS: Final = frozenset({"save", "add", "withdraw", "bring back"})
_STEPS: Final = frozenset({"undo", "redo"})


@dataclass(frozen=True, slots=True)
class Step:
    """An act that can be or was undone or redone: its serial, what to call it, who did it, and when (UTC)."""

    serial: int
    name: str
    who: str
    at: str


@dataclass(frozen=True, slots=True)
class _Tops:
    """The serials of the act to be undone next and of the undo to be taken back next; 0: there is none."""

    undo: int
    redo: int


def next_undo(engine: Engine) -> Step | None:
    """Return what ``undo`` would undo."""
    with reading(engine) as connection:
        tops = _tops_at(connection, read_head_or_refuse(connection).serial)
        return _step(read_act(connection, tops.undo)) if tops.undo else None


def next_redo(engine: Engine) -> Step | None:
    """Return what ``redo`` would do again."""
    with reading(engine) as connection:
        tops = _tops_at(connection, read_head_or_refuse(connection).serial)
        return _step(_undone(connection, read_act(connection, tops.redo))) if tops.redo else None


def undo(engine: Engine, *, who: str) -> Step | None:
    """Undo the last act of the shop that is not undone yet, and return it; None where there is none.

    A row it added is withdrawn, a row it changed gets its former values, a row it withdrew is back.

    Raises:
        CannotUndoError: a row is not as that act left it.
        StoreError: another of its kinds; nothing was changed.
    """
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        tops = _tops_at(connection, head.serial)
        if not tops.undo:
            return None
        act = read_act(connection, tops.undo)
        step = _step(act)
        key = (str(act.serial), str(_tops_at(connection, act.serial - 1).undo), str(head.serial + 1))
        _reverse(connection, head, act, Change(who=who, action="undo", why=step.name, key=key))
    return step


def redo(engine: Engine, *, who: str) -> Step | None:
    """Do again what was undone last, and return it; None where nothing was undone since the last act of the shop.

    Raises:
        CannotUndoError: a row is not as the undo left it.
        StoreError: another of its kinds; nothing was changed.
    """
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        tops = _tops_at(connection, head.serial)
        if not tops.redo:
            return None
        act = read_act(connection, tops.redo)
        step = _step(_undone(connection, act))
        key = (str(act.serial), str(step.serial), str(_tops_at(connection, act.serial - 1).redo))
        _reverse(connection, head, act, Change(who=who, action="redo", why=step.name, key=key))
    return step


def _tops_at(connection: Connection, serial: int) -> _Tops:
    if serial < 1:
        return _Tops(0, 0)
    act = read_act(connection, serial)
    if act.change.action in _OWN_ACTS:
        return _Tops(serial, 0)
    if act.change.action in _STEPS:
        return _Tops(int(act.change.key[1]), int(act.change.key[2]))
    return _Tops(0, 0)


def _undone(connection: Connection, undoing: HistoryRow) -> HistoryRow:
    return read_act(connection, int(undoing.change.key[0]))


def _step(act: HistoryRow) -> Step:
    return Step(act.serial, _name(act), act.change.who, act.at)


def _name(act: HistoryRow) -> str:
    """Return what to call ``act``: the name its save was given, else the field or the row it was about."""
    change = act.change
    if change.action == "save":
        return change.key[1]
    field = all_fields().get(str((change.after or {}).get("field", "")))
    return field.title if field else spelled(change.key)


def _reverse(connection: Connection, head: Head, act: HistoryRow, change: Change) -> None:
    changes = [_reversed(one) for one in changes_of(act)]
    _refuse_others_work(connection, changes, change)
    carry_out(connection, head, changes, told(change, changes))


def _reversed(done: RowChange) -> RowChange:
    former = done.before if done.before is not None else with_mark(done.table, done.after, today())
    return RowChange(done.table, done.after, former)


def _refuse_others_work(connection: Connection, changes: Sequence[RowChange], change: Change) -> None:
    there = find_rows(connection, [(one.table, one.after) for one in changes])
    for one, now in zip(changes, there, strict=True):
        if one.before is None or now is None or now["row_hash"] != one.before["row_hash"]:
            raise CannotUndoError(action=change.action, name=change.why, row=one.spelled)
