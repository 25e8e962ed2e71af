"""Writes a file whole or not at all: nobody ever finds half of one, and nothing is called saved that is not."""

from __future__ import annotations

import errno
import os
from collections.abc import Mapping
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from uuid import uuid4

from xref_app.core.errors import XrefError

_CAUSES: Mapping[int, tuple[str, str]] = {
    errno.ENOSPC: ("the disk is full", "make room, or save on another drive"),
    errno.EDQUOT: ("your share of the disk is used up", "make room, or save on another drive"),
    errno.EACCES: ("you may not write there", "choose another folder"),
    errno.EPERM: ("you may not write there", "choose another folder"),
    errno.EROFS: ("nothing can be written on that drive", "choose another folder"),
    errno.ENOENT: ("there is no such folder", "choose another folder"),
    errno.ENOTDIR: ("there is no such folder", "choose another folder"),
    errno.EISDIR: ("that is a folder", "give the file another name"),
    errno.ENAMETOOLONG: ("the name is too long", "give the file a shorter one"),
}


class NotWrittenError(XrefError):
    """A file that was not written; what was there before is there still."""

    def __init__(self, path: Path, found: str, advice: str) -> None:
        super().__init__(f"“{path.name}” is not saved: {found} – {advice}.")
        self.path = path
        self.found = found
        self.advice = advice


def write_whole(path: Path, content: bytes) -> None:
    """Write ``content`` to ``path``: first beside it, read back and compared, then put in its place in one step.

    Raises:
        NotWrittenError: it could not be written, or reads differently; ``path`` is as it was before.
    """
    if path.is_dir():
        raise NotWrittenError(path, *_CAUSES[errno.EISDIR])
    part = path.with_name(f".{uuid4().hex}.part")
    try:
        _write_and_sync(part, content)
        if sha256(part.read_bytes()).digest() != sha256(content).digest():
            raise NotWrittenError(path, "the disk gave back something else than was written", "use another drive")
        part.replace(path)
    except OSError as error:
        default = (error.strerror or "the disk failed", "choose another folder")
        raise NotWrittenError(path, *_CAUSES.get(error.errno or 0, default)) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def _write_and_sync(part: Path, content: bytes) -> None:
    with part.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
