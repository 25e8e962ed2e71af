"""The sample catalog, read from its Data Package into a store of its own, once per session."""

from __future__ import annotations

from pathlib import Path

import pytest

from xref_app.core.resources import folder
from xref_app.exchange.data_package import read_data_package
from xref_app.services.catalog import Catalog
from xref_app.services.load_catalog import load_catalog
from xref_app.store.engine import create_store, open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository


@pytest.fixture(scope="session")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Catalog:
    """The sample catalog as the services see it."""
    path = tmp_path_factory.mktemp("sample") / "sample.sqlite"
    create_store(path)
    engine = open_engine(path)
    import_catalog(engine, read_data_package(Path(str(folder("sample_catalog")))), who="test", why="the sample")
    catalog = load_catalog(CatalogRepository(engine))
    engine.dispose()
    return catalog
