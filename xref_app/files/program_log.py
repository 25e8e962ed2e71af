"""What the program writes down of its own mistakes, on this machine only: where in the program, never about what.

The words of a mistake may hold a number, a price or a name, so only its kind and the lines of the program are kept.
"""

from __future__ import annotations

import faulthandler
import sys
import threading
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from traceback import extract_tb
from types import TracebackType
from typing import Final

LOG_NAME: Final = "xref_app.log"
# A mistake of the interpreter itself, or of a library that is not Python.
CRASH_LOG_NAME: Final = "xref_app.crash.log"
# House rule: the file and the one before it, each at most so long.
MOST_LOG_BYTES: Final = 1_000_000


class ProgramLog:
    """Adds to a file in ``folder``; where that cannot be written, the program goes on without."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / LOG_NAME
        self._adding = threading.Lock()
        with suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)

    def note(self, kind: type[BaseException], trace: TracebackType | None) -> None:
        """Write down one mistake: when, its kind, and the lines it went through, the innermost last."""
        lines = [f"  {_short(one.filename)}:{one.lineno} {one.name}" for one in extract_tb(trace)]
        at = datetime.now(UTC).isoformat(timespec="seconds")
        text = "\n".join([f"{at} {kind.__module__}.{kind.__qualname__}", *lines, ""])
        with self._adding, suppress(OSError):
            if self._path.exists() and self._path.stat().st_size > MOST_LOG_BYTES:
                self._path.replace(self._path.with_name(f"{LOG_NAME}.1"))
            with self._path.open("a", encoding="utf-8") as file:
                file.write(text)


def begin_log(folder: Path) -> ProgramLog:
    """Have every mistake that nobody handles written down in ``folder``, in whichever thread; it is told as before."""
    log = ProgramLog(folder)
    told_before = sys.excepthook
    told_before_in_threads = threading.excepthook

    def tell(kind: type[BaseException], mistake: BaseException, trace: TracebackType | None) -> None:
        log.note(kind, trace)
        told_before(kind, mistake, trace)

    def tell_in_thread(told: threading.ExceptHookArgs) -> None:
        log.note(told.exc_type, told.exc_traceback)
        told_before_in_threads(told)

    sys.excepthook = tell
    threading.excepthook = tell_in_thread
    return log


def keep_crashes(folder: Path) -> None:
    """Have the interpreter write down in ``folder`` where it was when it, or a library that is not Python, broke."""
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        # Open for as long as the program runs: it is written when nothing else works any more.
        faulthandler.enable((folder / CRASH_LOG_NAME).open("a", encoding="utf-8"))


def _short(path: str) -> str:
    """Return a source file without where on this machine it lies."""
    return "/".join(Path(path).parts[-3:])
