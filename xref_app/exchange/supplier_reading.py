"""A supplier's file, read by a child: whatever the file does, this process goes on."""

from __future__ import annotations

import json
import os
import stat
import subprocess
import sys
import time
from collections.abc import Generator, Iterator
from contextlib import closing, suppress
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Thread
from typing import IO, Final

from xref_app.core.progress import Progress
from xref_app.exchange.supplier_errors import ANOTHER_FILE, SAVE_AS_CSV, SPLIT, SupplierFileError
from xref_app.exchange.supplier_limits import (
    CHILD_CLOCK_S,
    LOOK_UP_EVERY_S,
    MOST_BYTES,
    MOST_CHARACTERS,
    MOST_ROWS,
)
from xref_app.exchange.supplier_sheet import HowToRead, RawFile, RawSheet, Row

_CHILD: Final = "xref_app.exchange.supplier_child"
# A character takes six at most as JSON, two of them where it lies outside the first plane; marks between cells besides.
_MOST_HANDED_BACK: Final = 8 * MOST_CHARACTERS
_ENDED: Final = b""
_NOT_FOLLOWED: Final = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def read_supplier_file(path: Path, progress: Progress, how: HowToRead | None = None) -> RawFile:
    """Return the cells of the file at ``path``; nothing of the catalog is touched.

    Args:
        path: A csv, tsv or xlsx file; what it is is told by its content.
        progress: Told the rows read so far, of which the total is a guess.
        how: What somebody said of a file that was guessed wrong.

    Raises:
        SupplierFileError: it cannot be read; one sentence says why.
        WorkCancelledError: nobody waits any more; the child is gone.
    """
    chosen, name = how or HowToRead(), _plain_name(path)
    with _opened(path, name) as file:
        child = subprocess.Popen(  # noqa: S603 - our own interpreter and module; what varies is checked by the child
            [sys.executable, "-P", "-s", "-m", _CHILD, chosen.encoding, chosen.separator],
            stdin=file,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=_environment(),
            close_fds=True,
        )
    try:
        with closing(_lines(child, name, progress)) as lines:
            return _Gathering(name, progress).of(lines)
    finally:
        child.kill()
        child.wait()


def _opened(path: Path, name: str) -> IO[bytes]:
    """Return the file, open, if it is a file of a size that is read; a pipe or device is not waited for."""
    try:
        handle = os.open(path, os.O_RDONLY | _NOT_FOLLOWED)
    except OSError as error:
        raise SupplierFileError(name, f"cannot be opened ({error.strerror})", ANOTHER_FILE) from error
    about = os.fstat(handle)
    if stat.S_ISREG(about.st_mode) and 0 < about.st_size <= MOST_BYTES:
        return os.fdopen(handle, "rb")
    os.close(handle)
    if not stat.S_ISREG(about.st_mode):
        raise SupplierFileError(name, "is no file", ANOTHER_FILE)
    if not about.st_size:
        raise SupplierFileError(name, "is empty", ANOTHER_FILE)
    raise SupplierFileError(name, f"is larger than {MOST_BYTES // 2**20} MB", SPLIT)


def _plain_name(path: Path) -> str:
    """Return the file's name with what cannot be shown or stored replaced: names need not be text on every disk."""
    return "".join(one if one.isprintable() else "\ufffd" for one in path.name)


def _environment() -> dict[str, str]:
    """Return what the child is told: where the same modules lie as here, and nothing else of ours."""
    kept = {name: os.environ[name] for name in ("PATH", "SYSTEMROOT", "TEMP", "TMP") if name in os.environ}
    places = [one for one in sys.path if one and Path(one).exists()]
    root = str(Path(__file__).parents[2])
    return {
        **kept,
        "PYTHONPATH": os.pathsep.join(dict.fromkeys([root, *places])),
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONIOENCODING": "ascii",
        "OPENPYXL_LXML": "False",
    }


def _lines(child: subprocess.Popen[bytes], name: str, progress: Progress) -> Generator[bytes, None, None]:
    """Yield the child's lines as they come, looking up in between whether anybody still waits."""
    queue: SimpleQueue[bytes] = SimpleQueue()
    out = child.stdout
    if out is None:  # pragma: no cover - it was asked for above
        return
    reader = Thread(target=_pass_on, args=(out, queue), name="xref supplier file", daemon=True)
    reader.start()
    latest, handed_back = time.monotonic() + CHILD_CLOCK_S, 0
    try:
        while True:
            try:
                line = queue.get(timeout=LOOK_UP_EVERY_S)
            except Empty:
                progress.step(0, 0)
                if time.monotonic() > latest:
                    raise SupplierFileError(name, "takes too long to read", SAVE_AS_CSV) from None
                continue
            handed_back += len(line)
            if line == _ENDED:
                return
            if handed_back > _MOST_HANDED_BACK:
                raise SupplierFileError(name, "holds more than is read of one file", SPLIT)
            yield line
    finally:
        child.kill()
        reader.join()
        out.close()


def _pass_on(out: IO[bytes], queue: SimpleQueue[bytes]) -> None:
    with suppress(OSError, ValueError):
        for line in out:
            queue.put(line)
    queue.put(_ENDED)


class _Gathering:
    """Puts the child's lines together."""

    def __init__(self, name: str, progress: Progress) -> None:
        self._name, self._progress = name, progress
        self._sheets: list[tuple[str, list[Row]]] = []
        self._rows = 0
        self._of = 0

    def of(self, lines: Iterator[bytes]) -> RawFile:
        """Return the whole file.

        Raises:
            SupplierFileError: the child says why not, or ended before it was through.
        """
        for line in lines:
            told = _understood(line)
            if isinstance(told, list):
                self._add(told)
            elif "found" in told:
                raise SupplierFileError(self._name, str(told["found"]), str(told.get("advice")))
            elif "done" in told:
                sheets = tuple(RawSheet(name, tuple(rows)) for name, rows in self._sheets if any(rows))
                if not sheets:
                    break
                return RawFile(self._name, sheets, str(told["encoding"]), str(told["separator"]))
            elif "sheet" in told:
                self._sheets.append((str(told["sheet"]), []))
                self._of = int(str(told.get("of", 0)))
            else:
                self._progress.step(self._rows, max(self._rows, min(self._of, MOST_ROWS)))
        if self._sheets and not self._rows:
            raise SupplierFileError(self._name, "is empty", ANOTHER_FILE)
        raise SupplierFileError(self._name, "could not be read within the limits of memory and time", SAVE_AS_CSV)

    def _add(self, row: list[object]) -> None:
        if not self._sheets:
            raise SupplierFileError(self._name, "could not be read", SAVE_AS_CSV)
        self._sheets[-1][1].append(tuple(map(str, row)))
        self._rows += 1


def _understood(line: bytes) -> list[object] | dict[str, object]:
    """Return what a line says; a line cut short, where the child was ended, says nothing."""
    try:
        told = json.loads(line)
    except ValueError:
        return {"at": 0}
    return told if isinstance(told, (list, dict)) else {"at": 0}
