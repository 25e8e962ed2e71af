from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import small_catalog
from xref_app.store.engine import open_engine
from xref_app.store.importing import import_catalog


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "store" / "shop.sqlite"


@pytest.fixture
def engine(path: Path) -> Iterator[Engine]:
    """A real, empty store in a file."""
    opened = open_engine(path)
    yield opened
    opened.dispose()


@pytest.fixture
def filled(engine: Engine) -> Engine:
    """The same store with the small catalog in it."""
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    return engine
