"""The store that a process is killed over."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.store.rows import small_catalog
from xref_app.store.engine import open_engine
from xref_app.store.importing import import_catalog


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Return the path of a store with a small catalog in it, open nowhere."""
    path = tmp_path / "shop.sqlite"
    engine = open_engine(path)
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    engine.dispose()
    return path
