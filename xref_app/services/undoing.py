"""What undo and redo would do, by name, and which entries a step touched."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.store.connect import reading
from xref_app.store.edits import Step, next_redo, next_undo
from xref_app.store.engine import Store
from xref_app.store.history import read_act
from xref_app.store.row_changes import changes_of
from xref_app.store.touched import owners_of


@dataclass(frozen=True, slots=True)
class UndoNames:
    """The names of what would be undone and done again next; empty where there is nothing."""

    undo: str
    redo: str


def undo_names(store: Store) -> UndoNames:
    """Return what undo and redo would do now."""
    undo, redo = next_undo(store), next_redo(store)
    return UndoNames(undo.name if undo else "", redo.name if redo else "")


def entries_touched(store: Store, step: Step) -> tuple[str, ...]:
    """Return the entries whose rows a step changed, taken back or done again."""
    with reading(store) as connection:
        act = read_act(connection, step.serial)
    return owners_of(changes_of(act))
