"""From an older format to this one: copy first, one transaction, checked before it is kept. There is no way back down.

Alembic is imported only here, and only when the stamp differs.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from sqlalchemy import Connection, Engine

from xref_app.store.connect import place_of, writing
from xref_app.store.copies import make_copy
from xref_app.store.errors import DamagedStoreError
from xref_app.store.sqlite_file import writable_engine
from xref_app.store.stamp import HEAD, read_stamp, refuse_newer

if TYPE_CHECKING:
    from alembic.config import Config

STEPS_FOLDER: Final = Path(__file__).parent / "migrations"


def alembic_config(more_steps: Sequence[Path] = ()) -> Config:
    """Return Alembic's settings for our steps, and those in ``more_steps`` (tests of a format still to come)."""
    from alembic.config import Config  # noqa: PLC0415 - a tenth of a second that most starts do not need

    config = Config()
    config.set_main_option("script_location", str(STEPS_FOLDER).replace("%", "%%"))
    folders = (STEPS_FOLDER / "versions", *more_steps)
    config.set_main_option("path_separator", "newline")
    config.set_main_option("version_locations", "\n".join(str(one) for one in folders).replace("%", "%%"))
    return config


def upgrade_file(path: Path, *, head: str = HEAD, more_steps: Sequence[Path] = ()) -> Path | None:
    """Bring the store in ``path`` to format ``head`` and return the copy made before, None where nothing was due.

    Raises:
        NewerStoreError: the store is newer than ``head``; nothing was changed.
        DamagedStoreError: afterwards a row would name a lost one; nothing was changed.
        CopyFailedError: no copy could be made first; nothing was changed.
    """
    engine = writable_engine(path, foreign_keys=False)
    try:
        found = read_stamp(engine)
        refuse_newer(engine, found, known=head)
        if found == head:
            return None
        copy = free_copy_name(path, found)
        make_copy(engine, copy)
        run_steps(engine, head=head, more_steps=more_steps)
        return copy
    finally:
        engine.dispose()


def run_steps(engine: Engine, *, head: str = HEAD, more_steps: Sequence[Path] = ()) -> None:
    """Run every missing step up to ``head`` in one transaction: afterwards all of them are done, or none."""
    from alembic import command  # noqa: PLC0415 - see alembic_config

    config = alembic_config(more_steps)
    with writing(engine) as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, head)
        _refuse_lost_references(connection, place_of(engine))


def free_copy_name(path: Path, found: str) -> Path:
    """Return a name in the folder ``copies`` beside the store, such as ``shop.format-0001.2.sqlite``."""
    folder = path.parent / "copies"
    number = 1
    while (name := folder / f"{path.stem}.format-{found}.{number}{path.suffix}").exists():
        number += 1
    return name


def _refuse_lost_references(connection: Connection, where: str) -> None:
    if connection.dialect.name != "sqlite":
        return
    lost = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    if lost is not None:
        raise DamagedStoreError(where, f"the upgrade would leave a row of {lost[0]} that names a lost {lost[2]}")
