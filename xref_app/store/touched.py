"""Which entries were changed since a moment, as the history tells."""

from __future__ import annotations

from typing import Final

from sqlalchemy import Connection, select

from xref_app.store.history import read_act
from xref_app.store.row_changes import changes_of
from xref_app.store.tables import HISTORY

# An import tells only how many rows it changed.
_IMPORT: Final = "import"


def touched_since(connection: Connection, serial: int) -> frozenset[str] | None:
    """Return the entries whose rows were changed after change ``serial``; None where that cannot be told.

    Raises:
        DamagedStoreError: a row of the history is not what was written.
    """
    after = select(HISTORY.c.serial, HISTORY.c.action).where(HISTORY.c.serial > serial).order_by(HISTORY.c.serial)
    acts = connection.execute(after).all()
    if any(one.action == _IMPORT for one in acts):
        return None
    changes = (one for act in acts for one in changes_of(read_act(connection, act.serial)))
    return frozenset(str(owner) for one in changes if (owner := one.after.get("entry_id")))


def is_in_history(connection: Connection, serial: int, own_hash: str) -> bool:
    """Say whether change ``serial`` is the one with this hash: whether a moment is one of this store's past."""
    found = connection.scalar(select(HISTORY.c.own_hash).where(HISTORY.c.serial == serial))
    return found == own_hash
