"""What was changed since a moment, as the history tells: which entries, and what that makes of their digests."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Final

from sqlalchemy import Connection, Engine, func, select

from xref_app.store.connect import reading
from xref_app.store.history import read_act
from xref_app.store.row_changes import RowChange, changes_of
from xref_app.store.row_hash import Values
from xref_app.store.tables import HISTORY

# An import tells only how many rows it changed.
_IMPORT: Final = "import"
_DIGITS: Final = 16
_NEWEST: Final = select(func.max(HISTORY.c.serial))


def digest_of(row_hash: str) -> int:
    """Return the share of a row in its entry's digest: the first 64 bits of its hash."""
    return int(row_hash[:_DIGITS], 16)


def owners_of(changes: Iterable[RowChange]) -> tuple[str, ...]:
    """Return the entries to which changed rows belong, each once."""
    return tuple(dict.fromkeys(str(owner) for one in changes if (owner := one.after.get("entry_id"))))


def entries_since(engine: Engine, serial: int) -> tuple[str, ...] | None:
    """Return the entries whose rows were changed after change ``serial``, by whichever program; None after an import.

    Raises:
        DamagedStoreError: a row of the history is not what was written.
    """
    later = select(HISTORY.c.serial, HISTORY.c.action).where(HISTORY.c.serial > serial).order_by(HISTORY.c.serial)
    with reading(engine) as connection:
        acts = connection.execute(later).all()
        if any(one.action == _IMPORT for one in acts):
            return None
        changes = [one for act in acts for one in changes_of(read_act(connection, act.serial))]
    return owners_of(changes)


def newest_serial(engine: Engine) -> int:
    """Return the serial of the last change, 0 before the first; nothing else of it is looked at."""
    with reading(engine) as connection:
        return int(connection.scalar(_NEWEST) or 0)


def digests_since(connection: Connection, serial: int, tables: frozenset[str]) -> Mapping[str, int] | None:
    """Return by how much the digest of each entry differs after change ``serial``, by what the history says.

    Only rows of ``tables`` count, and only while they are not withdrawn. An entry that was changed and changed back
    stands there with 0. None where that cannot be told.

    Raises:
        DamagedStoreError: a row of the history is not what was written.
    """
    after = select(HISTORY.c.serial, HISTORY.c.action).where(HISTORY.c.serial > serial).order_by(HISTORY.c.serial)
    acts = connection.execute(after).all()
    if any(one.action == _IMPORT for one in acts):
        return None
    differs: Counter[str] = Counter()
    for act in acts:
        for one in changes_of(read_act(connection, act.serial)):
            if one.table.name in tables:
                differs[str(one.after["entry_id"])] += _share(one.after)
                if one.before is not None:
                    differs[str(one.before["entry_id"])] -= _share(one.before)
    return differs


def _share(values: Values) -> int:
    return digest_of(str(values["row_hash"])) if values["withdrawn_on"] == "" else 0


def is_in_history(connection: Connection, serial: int, own_hash: str) -> bool:
    """Say whether change ``serial`` is the one with this hash: whether a moment is one of this store's past."""
    found = connection.scalar(select(HISTORY.c.own_hash).where(HISTORY.c.serial == serial))
    return found == own_hash
