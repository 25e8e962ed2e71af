"""What a copy holds, told by a few rows of it: quick enough to list many."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import func, select

from xref_app.store.connect import reading
from xref_app.store.errors import StoreError
from xref_app.store.history import read_act, read_head
from xref_app.store.sqlite_file import immutable_engine
from xref_app.store.stamp import check_is_ours, read_stamp
from xref_app.store.tables import ENTRIES


@dataclass(frozen=True, slots=True)
class Glance:
    """The last act in a copy (its serial and when it was, UTC), its entries that stand, and its format."""

    serial: int
    at: str
    entries: int
    format: str


def glance_at(path: Path) -> Glance | None:
    """Return what the copy at ``path`` holds; None where it cannot be read. Its rows are not checked."""
    engine = immutable_engine(path)
    try:
        check_is_ours(path, engine)
        stamp = read_stamp(engine)
        with reading(engine) as connection:
            serial = read_head(connection).serial
            at = read_act(connection, serial).at if serial else ""
            standing = select(func.count()).select_from(ENTRIES.table).where(ENTRIES.table.c.withdrawn_on == "")
            return Glance(serial, at, connection.scalar(standing) or 0, stamp)
    except (StoreError, OSError, ValueError, TypeError, AttributeError):
        return None
    finally:
        engine.dispose()
