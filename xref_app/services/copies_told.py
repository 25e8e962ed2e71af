"""The copies there are, for a person who looks for the one to put back."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.services.kept_copies import KeptCopy, copies_folder, is_good, kept_copies
from xref_app.store.copies import check_copy
from xref_app.store.copy_glance import Glance, glance_at
from xref_app.store.errors import StoreError

# Why a copy was made that lies neither beside the store nor under a name of ours: nobody knows.
ELSEWHERE: Final = "elsewhere"


@dataclass(frozen=True, slots=True)
class CopyLine:
    """One copy: ``why`` it was made, what it holds (None: it cannot be read), and whether it is ``good`` throughout.

    ``behind`` counts the acts that the store has and the copy has not; below 0 the store itself has lost some.
    """

    path: Path
    why: str
    holds: Glance | None
    good: bool
    behind: int | None


def copy_lines(store: Path, *, serial: int | None, progress: Progress = NO_PROGRESS) -> tuple[CopyLine, ...]:
    """Return the copies of the store at this path, newest first by the history; ``serial`` is the store's last act.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    ours = {one.path: one for one in kept_copies(store)}
    folder = copies_folder(store)
    paths = sorted(folder.glob(f"{store.stem}.*{store.suffix}")) if folder.is_dir() else []
    lines = []
    for done, path in enumerate(paths):
        progress.step(done, len(paths))
        lines.append(_line(path, ours.get(path), serial))
    return tuple(sorted(lines, key=lambda one: _order(one, ours), reverse=True))


def line_of_file(path: Path, *, serial: int | None, progress: Progress = NO_PROGRESS) -> CopyLine:
    """Return what the copy at ``path`` holds, wherever it lies; ``serial`` is the last act of the store.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    holds = glance_at(path)
    behind = None if holds is None or serial is None else serial - holds.serial
    return CopyLine(path, ELSEWHERE, holds, holds is not None and _is_whole(path, progress), behind)


def newest_good_copy(store: Path) -> Path | None:
    """Return the newest copy of the store at this path that is whole, or None."""
    return next((one.path for one in kept_copies(store) if is_good(one)), None)


def _line(path: Path, kept: KeptCopy | None, serial: int | None) -> CopyLine:
    holds = glance_at(path)
    good = is_good(kept) if kept else _is_whole(path)
    behind = None if holds is None or serial is None else serial - holds.serial
    return CopyLine(path, _why(path, kept), holds, good, behind)


def _is_whole(path: Path, progress: Progress = NO_PROGRESS) -> bool:
    try:
        return check_copy(path, progress).is_whole
    except (StoreError, OSError):
        return False


def _why(path: Path, kept: KeptCopy | None) -> str:
    if kept is not None:
        return str(kept.kind)
    return "upgrade" if ".format-" in path.name else "set aside"


def _order(line: CopyLine, ours: dict[Path, KeptCopy]) -> tuple[int, int]:
    if line.path in ours:
        return ours[line.path].order
    return (line.holds.serial if line.holds else -1, 0)
