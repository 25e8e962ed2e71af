"""The sample catalog in a store of its own, copied for each test; everything in it is made up."""

from __future__ import annotations

import shutil
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from xref_app.core.resources import folder
from xref_app.exchange.data_package import read_data_package
from xref_app.services.live_desk import LiveDesk
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.store.engine import Store, open_engine
from xref_app.store.importing import import_catalog


@cache
def _made_once() -> Path:
    """Return a finished sample store, made once per process; only its copies are opened."""
    path = Path(mkdtemp(prefix="xref-tests-")) / "sample.sqlite"
    engine = open_engine(path)
    import_catalog(engine, read_data_package(Path(str(folder("sample_catalog")))), who="test", why="sample")
    engine.dispose()
    return path


def sample_store(place: Path) -> Store:
    """Return an open store in ``place`` with the sample catalog in it."""
    path = place / "shop.sqlite"
    if not path.exists():
        shutil.copyfile(_made_once(), path)
    return open_engine(path)


def sample_desk(place: Path, *, most_in_memory: int = MOST_IN_MEMORY) -> LiveDesk:
    """Return a desk over a sample store in ``place``; the second call on one place opens the same store again."""
    return LiveDesk(sample_store(place), "Sample", most_in_memory=most_in_memory)
