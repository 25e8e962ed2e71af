"""Whether a copy was put back lately, and which: nobody should forget to work from an older state."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, and_, or_, select

from xref_app.store.connect import reading
from xref_app.store.engine import Store
from xref_app.store.history import read_act, read_head_or_refuse
from xref_app.store.tables import HISTORY

# After so many acts nobody needs to be reminded (house rule).
_LATELY_ACTS: Final = 200
_WHOLE_COPY: Final = '["restore-all:%'


@dataclass(frozen=True, slots=True)
class LastRestore:
    """The act that put a whole copy back, and what that copy is called."""

    serial: int
    name: str


def last_restore(engine: Store) -> LastRestore | None:
    """Return the last whole copy that was put back; None where it was taken back, or lies long behind.

    Raises:
        DamagedStoreError: the history cannot be read.
    """
    with reading(engine) as connection:
        head = read_head_or_refuse(connection)
        is_restore = or_(
            HISTORY.c.action == "restore", and_(HISTORY.c.action == "save", HISTORY.c.row_key.like(_WHOLE_COPY))
        )
        lately = HISTORY.c.serial > head.serial - _LATELY_ACTS
        found = select(HISTORY.c.serial).where(is_restore, lately).order_by(HISTORY.c.serial.desc()).limit(1)
        serial = connection.scalar(found)
        if serial is None:
            return None
        act = read_act(connection, serial)
        if act.change.action == "save" and not _stands(connection, serial):
            return None
        return LastRestore(serial, act.change.key[1] if len(act.change.key) > 1 else act.change.why)


def _stands(connection: Connection, serial: int) -> bool:
    """Say whether an act was not undone, or was done again; a step names the act, or the undo, that it takes back."""
    steps = select(HISTORY.c.serial, HISTORY.c.row_key).where(
        HISTORY.c.serial > serial, HISTORY.c.action.in_(("undo", "redo"))
    )
    taken_back, is_standing = str(serial), True
    for step in connection.execute(steps.order_by(HISTORY.c.serial)):
        if json.loads(step.row_key)[0] == taken_back:
            taken_back, is_standing = str(step.serial), not is_standing
            if is_standing:
                taken_back = str(serial)
    return is_standing
