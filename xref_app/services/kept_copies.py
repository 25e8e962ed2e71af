"""The copies beside the store: what each is called, which serial of the history it holds, and whether it is still good.

They lie in the folder ``copies`` (0700) and are ordered by the serial of the last act they hold, never by a clock; the
day in a name tells people something and decides only which week a copy stands for. Beside a good copy lies its SHA-256
in the form of ``sha256sum``, so that anybody can check it without this program.
"""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from hashlib import file_digest
from pathlib import Path
from typing import Final

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.exchange.whole_file import NotWrittenError, write_whole
from xref_app.store.copies import CopyReport, check_copy, make_copy
from xref_app.store.engine import Store
from xref_app.store.errors import StoreError

_FOLDER: Final = "copies"
_NAME: Final = re.compile(r"(?P<stem>.+)\.(?P<serial>\d{9,})-(?P<kind>[a-z]+)-(?P<day>\d{4}-\d\d-\d\d)\.(?P<turn>\d+)")
_SUM: Final = ".sha256"


class Kind(StrEnum):
    """Why a copy was made."""

    DAILY = "daily"
    IMPORT = "import"
    CATALOG = "catalog"
    RESTORE = "restore"


@dataclass(frozen=True, slots=True)
class KeptCopy:
    """One copy by its name: the ``serial`` of the last act in it, why and on which day it was made."""

    path: Path
    serial: int
    kind: Kind
    day: str
    turn: int

    @property
    def order(self) -> tuple[int, int]:
        """Return what copies are sorted by: the history, then which was made later of the same act."""
        return (self.serial, self.turn)


def copies_folder(store: Path) -> Path:
    """Return the folder of the copies of the store at this path."""
    return store.parent / _FOLDER


def kept_copies(store: Path) -> tuple[KeptCopy, ...]:
    """Return the copies of the store at this path, newest first; files of other names are nobody's copies."""
    folder = copies_folder(store)
    if not folder.is_dir():
        return ()
    found = (_kept(path) for path in folder.glob(f"{store.stem}.*{store.suffix}"))
    return tuple(sorted((one for one in found if one), key=lambda one: one.order, reverse=True))


def _kept(path: Path) -> KeptCopy | None:
    told = _NAME.fullmatch(path.stem)
    if told is None or told["kind"] not in set(Kind) or not _is_day(told["day"]):
        return None
    return KeptCopy(path, int(told["serial"]), Kind(told["kind"]), told["day"], int(told["turn"]))


def _is_day(text: str) -> bool:
    with suppress(ValueError):
        date.fromisoformat(text)
        return True
    return False


def make_kept_copy(  # noqa: PLR0913 - what a copy is called by
    store: Store, path: Path, kind: Kind, *, serial: int, day: str, progress: Progress = NO_PROGRESS
) -> tuple[KeptCopy, CopyReport]:
    """Make a copy of ``store``, which lies at ``path``, reopen and check it, and write its check sum beside it.

    Raises:
        CopyFailedError: it could not be made; the store and all other copies are as they were.
        WorkCancelledError: ``progress`` says nobody waits any more; no copy was made.
    """
    turns = [one.turn for one in kept_copies(path) if one.serial == serial]
    turn = max(turns, default=0) + 1
    name = f"{path.stem}.{serial:09}-{kind}-{day}.{turn}{path.suffix}"
    report = make_copy(store, copies_folder(path) / name, progress)
    if report.health.is_whole:
        _write_sum(report.path)
    return KeptCopy(report.path, serial, kind, day, turn), report


def is_good(copy: KeptCopy) -> bool:
    """Say whether the copy is whole: by its check sum where there is one, else by reading every row of it."""
    told = _sum_file(copy.path)
    with suppress(OSError, UnicodeDecodeError, StoreError):
        if told.exists():
            return told.read_text(encoding="utf-8").split()[:1] == [_digest(copy.path)]
        return check_copy(copy.path).is_whole
    return False


def drop(copy: KeptCopy) -> None:
    """Remove a copy and its check sum; what cannot be removed now stays."""
    for path in (copy.path, _sum_file(copy.path)):
        with suppress(OSError):
            path.unlink(missing_ok=True)


def _write_sum(path: Path) -> None:
    """Write the check sum; without one a copy is read through instead, which takes longer."""
    with suppress(OSError, NotWrittenError):
        write_whole(_sum_file(path), f"{_digest(path)}  {path.name}\n".encode())


def _sum_file(path: Path) -> Path:
    return path.with_name(path.name + _SUM)


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()
