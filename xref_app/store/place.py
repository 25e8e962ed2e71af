"""Where stores lie: the shop's own, and the sample's, which is another file and can be made again at any time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from hashlib import blake2b
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Final

from platformdirs import user_cache_path, user_data_path
from sqlalchemy import Engine

from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.files.syncing import sync_file
from xref_app.store.copies import name_finished, unfinished_name
from xref_app.store.engine import create_store, open_engine
from xref_app.store.errors import CopyFailedError, StoreError
from xref_app.store.importing import import_catalog
from xref_app.store.sqlite_file import discard
from xref_app.store.stamp import HEAD

_PROGRAM: Final = "xref_app"


def own_store_path() -> Path:
    """Return where the shop's own store lies, in the user's data folder of this system."""
    return user_data_path(_PROGRAM, appauthor=False) / "store" / "shop.sqlite"


def sample_store_path(sample: Traversable) -> Path:
    """Return where the store made from the packaged folder ``sample`` lies; another content has another name."""
    name = f"sample-{HEAD}-{folder_hash(sample)}.sqlite"
    return user_cache_path(_PROGRAM, appauthor=False) / "sample" / name


def folder_hash(folder: Traversable) -> str:
    """Return the BLAKE2b over names and contents of all files in ``folder``, 32 hexadecimal digits."""
    digest = blake2b(digest_size=16)
    for name, file in sorted(_files(folder, "")):
        content = file.read_bytes()
        digest.update(f"{len(name)} {name} {len(content)} ".encode())
        digest.update(content)
    return digest.hexdigest()


def open_sample_store(sample: Traversable, read: Callable[[Traversable], CatalogRows]) -> Engine:
    """Open the sample's store, made anew with ``read`` where it is missing, unreadable or of another content.

    The shop's own store is never opened, and stores of earlier samples are removed.
    """
    path = sample_store_path(sample)
    if path.exists():
        with suppress(StoreError):
            return open_engine(path, create=False)
        discard(path)
    _build(path, read(sample))
    for old in path.parent.glob("sample-*.sqlite"):
        if old != path:
            discard(old)
    return open_engine(path, create=False)


def _build(path: Path, rows: CatalogRows) -> None:
    part = unfinished_name(path)
    create_store(part)
    try:
        engine = open_engine(part, create=False)
        try:
            import_catalog(engine, rows, who="the program", why="the sample catalog that came with it")
        finally:
            engine.dispose()
        sync_file(part)
        with suppress(CopyFailedError):  # another window made the same sample meanwhile
            name_finished(part, path)
    finally:
        discard(part)


def _files(folder: Traversable, prefix: str) -> Iterator[tuple[str, Traversable]]:
    for one in folder.iterdir():
        name = f"{prefix}{one.name}"
        if one.is_dir():
            yield from _files(one, f"{name}/")
        else:
            yield name, one
