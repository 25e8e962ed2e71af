"""The bytes of photos: one file for each content, named by its hash in a folder beside the store.

A name that somebody gave never becomes a path. A file is whole under its name or not there at all, and what is read
back is compared with its name.
"""

from __future__ import annotations

import errno
import os
import re
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final
from uuid import uuid4

from sqlalchemy import Engine

from xref_app.core.sentence import Sentence, marked
from xref_app.files.syncing import sync_file, sync_folder
from xref_app.store.connect import place_of
from xref_app.store.errors import ReadOnlyStoreError, StoreError, StoreFullError, StoreUnreachableError
from xref_app.store.sqlite_file import make_private

_FOLDER: Final = "photos"
# A link is not followed, and a pipe not waited for (where the system knows these).
_NO_LINK: Final = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
_NAME: Final = re.compile(r"[0-9a-f]{64}")

_MISSING: Final = marked("photos", "The photo {content_hash} is not beside the catalog; put the folder “photos” back.")
_DAMAGED: Final = marked("photos", "The photo {content_hash} is damaged and is not shown; take it again.")
_NO_HASH: Final = marked("photos", "“{content_hash}” names no photo; add the photo again.")


@dataclass(frozen=True, slots=True)
class FoundPhoto:
    """Where the file of a photo is, or why it cannot be shown."""

    path: Path | None
    problem: Sentence | None


def photos_folder(where: Engine | Path) -> Path:
    """Return the folder of the photos of the store ``where``: its Engine, or the folder that the store lies in.

    Raises:
        StoreUnreachableError: the store lies on a server, so there is no folder beside it; give one.
    """
    if isinstance(where, Path):
        return where / _FOLDER
    if where.dialect.name != "sqlite":
        raise StoreUnreachableError(place_of(where), "a server keeps no photos; name a folder for them")
    return Path(place_of(where)).parent / _FOLDER


def keep_photo_file(where: Engine | Path, jpeg: bytes) -> str:
    """Keep the bytes of a photo and return their hash; once this returned they are on the disk.

    The same bytes again change nothing; a damaged file of their name is replaced.

    Raises:
        ReadOnlyStoreError: the store was opened to look only, or its folder cannot be written.
        StoreError: another of its kinds; nothing was kept.
    """
    folder = photos_folder(where)
    if isinstance(where, Engine) and where.get_execution_options().get("xref_look_only"):
        raise ReadOnlyStoreError(place_of(where))
    content_hash = sha256(jpeg).hexdigest()
    target = folder / f"{content_hash}.jpg"
    with _our_words(folder):
        _refuse_link(folder)
        if _hash_of(target) != content_hash:
            _write(target, jpeg)
    return content_hash


def find_photo(where: Engine | Path, content_hash: str) -> FoundPhoto:
    """Return where the photo ``content_hash`` is, after comparing its bytes with its hash; or why it is not shown."""
    if not _NAME.fullmatch(content_hash):
        return FoundPhoto(None, Sentence(_NO_HASH, {"content_hash": content_hash}))
    path = photos_folder(where) / f"{content_hash}.jpg"
    found = "" if path.parent.is_symlink() else _hash_of(path)
    if found == content_hash:
        return FoundPhoto(path, None)
    return FoundPhoto(None, Sentence(_DAMAGED if found else _MISSING, {"content_hash": content_hash}))


def photo_path_or_none(where: Engine | Path, content_hash: str) -> Path | None:
    """Return where the photo ``content_hash`` is; None where it is missing or damaged (find_photo says which)."""
    return find_photo(where, content_hash).path


def _write(target: Path, jpeg: bytes) -> None:
    part = target.with_name(f"{uuid4().hex}.part")
    try:
        make_private(part)
        sync_folder(target.parent.parent)
        part.write_bytes(jpeg)
        sync_file(part)
        part.replace(target)
        sync_file(target)
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def _hash_of(path: Path) -> str:
    """Return the hash of the plain file ``path``, empty where there is none; a link is not followed."""
    try:
        handle = os.open(path, os.O_RDONLY | _NO_LINK)
    except OSError:
        return ""
    try:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            return ""
        with os.fdopen(handle, "rb", closefd=False) as file:
            return sha256(file.read()).hexdigest()
    except OSError:  # a disk that fails
        return ""
    finally:
        os.close(handle)


def _refuse_link(folder: Path) -> None:
    if folder.is_symlink():
        raise StoreUnreachableError(str(folder), "it is a link to another folder")


@contextmanager
def _our_words(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise _worded(folder, error) from error


def _worded(folder: Path, error: OSError) -> StoreError:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return StoreFullError(str(folder))
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return ReadOnlyStoreError(str(folder))
    return StoreUnreachableError(str(folder), error.strerror or "no reason given")
