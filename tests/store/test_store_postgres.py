"""The same repositories on a PostgreSQL server; CI starts one and names it in XREF_TEST_POSTGRES_URL."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError

from tests.store.rows import small_catalog
from xref_app.store.engine import open_engine
from xref_app.store.errors import StoreError
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.importing import ImportCount, import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import bring_back, withdraw

URL = os.environ.get("XREF_TEST_POSTGRES_URL", "")

pytestmark = pytest.mark.skipif(not URL, reason="no PostgreSQL server is named in XREF_TEST_POSTGRES_URL")


@pytest.fixture
def server() -> Iterator[Engine]:
    """An empty store on the server; whatever lay there is dropped first."""
    engine = open_engine(URL)
    with engine.begin() as connection:
        connection.execute(text("DROP SCHEMA public CASCADE"))
        connection.execute(text("CREATE SCHEMA public"))
    engine.dispose()
    engine = open_engine(URL)
    yield engine
    engine.dispose()


def test_a_package_goes_in_comes_out_equal_and_goes_in_once(server: Engine) -> None:
    first = import_catalog(server, small_catalog(), who="Ana", why="first stock")
    assert first.changed == 0
    assert import_catalog(server, small_catalog(), who="Ana", why="again") == ImportCount(0, 0, first.added)
    stored, given = CatalogRepository(server).everything(), small_catalog()
    assert set(stored.observations) == set(given.observations)
    assert set(stored.entries) == set(given.entries)
    assert set(stored.parts) == set(given.parts)
    assert check_store(server).is_whole


def test_withdrawing_and_bringing_back_are_kept_in_the_history(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    withdraw(server, "numbers", ("P001", "QX-0001"), who="Ana", why="belongs to another pump")
    assert CatalogRepository(server).numbers_of("P001") == ()
    bring_back(server, "numbers", ("P001", "QX-0001"), who="Ben", why="it was right")
    assert [row.change.action for row in read_history(server)] == ["bring back", "withdraw", "import"]
    assert check_store(server).is_whole


def test_an_altered_row_is_set_aside(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    with server.begin() as connection:
        connection.execute(text("UPDATE observations SET value = 99 WHERE observation_id = 6"))
    repository = CatalogRepository(server)
    repository.all_observations("pump")
    assert [one.key for one in repository.damaged()] == [("6",)]


def test_the_server_too_keeps_the_history(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    with pytest.raises((DBAPIError, StoreError)), server.begin() as connection:
        connection.execute(text("DELETE FROM history"))
    assert len(read_history(server)) == 1
