"""Looking at a catalog file and taking it can be stopped at any moment, and a plan is only as good as its moment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.heard import Heard
from tests.services.test_catalog_update import catalog, everything, later
from xref_app.core import progress
from xref_app.core.model.catalog import Entry
from xref_app.core.progress import WorkCancelledError
from xref_app.exchange import table_schema_rows
from xref_app.exchange.catalog_file import catalog_file_bytes
from xref_app.exchange.signing_keys import SigningKey, load_signing_key, load_supplier, new_key_files
from xref_app.services.catalog_update import look_at_catalog, take_catalog
from xref_app.services.kept_copies import is_good, kept_copies
from xref_app.services.supplier_keys import trust_supplier
from xref_app.store import catalog_act, catalog_plan, row_writing, stopping, verified
from xref_app.store.catalog_plan import CatalogPlan
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.engine import open_engine
from xref_app.store.errors import StoreError
from xref_app.store.health import check_store
from xref_app.store.history import last_serial
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import withdraw


@pytest.fixture(scope="module")
def keys(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("keys")
    new_key_files(folder)
    return folder


@pytest.fixture(scope="module")
def key(keys: Path) -> SigningKey:
    return load_signing_key(keys / "signing.key")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shop" / "shop.sqlite"


@pytest.fixture
def shop(path: Path, tmp_path: Path, keys: Path, key: SigningKey) -> Iterator[Engine]:
    """Return a store that holds the first edition."""
    engine = open_engine(path)
    fingerprint = load_supplier(keys / "public.pem", "Torbic").fingerprint
    trust_supplier(engine, keys / "public.pem", name="Torbic", fingerprint=fingerprint)
    first = tmp_path / "1.xrefcat"
    first.write_bytes(catalog_file_bytes(catalog(), title="Spring", serial=1, withdrawn=(), key=key))
    take_catalog(engine, look_at_catalog(engine, first), who="Ana")
    yield engine
    engine.dispose()


@pytest.fixture
def second(tmp_path: Path, key: SigningKey) -> Path:
    """Return the file of the next edition."""
    file = tmp_path / "2.xrefcat"
    file.write_bytes(catalog_file_bytes(later(catalog()), title="Spring", serial=2, withdrawn=("P003",), key=key))
    return file


@pytest.fixture
def often(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have somebody told after every single row."""
    for module, name in (
        (progress, "_ITEMS_AT_ONCE"),
        (table_schema_rows, "_TOLD_EVERY"),
        (catalog_plan, "_ROWS_AT_ONCE"),
        (verified, "_ROWS_AT_ONCE"),
        (row_writing, "_AT_ONCE"),
        (stopping, "_STEPS"),
    ):
        monkeypatch.setattr(module, name, 1)


@pytest.mark.usefixtures("often")
def test_looking_tells_how_far_it_is_and_can_be_stopped_anywhere(shop: Engine, second: Path) -> None:
    heard = Heard()
    look_at_catalog(shop, second, heard)
    assert heard.shares == sorted(heard.shares)
    assert heard.shares[0] < 0.1
    assert heard.shares[-1] > 0.9
    for patience in range(0, len(heard.shares), 7):
        with pytest.raises(WorkCancelledError):
            look_at_catalog(shop, second, Heard(patience))


@pytest.mark.usefixtures("often")
@pytest.mark.parametrize("as_import", [False, True])
def test_taking_can_be_stopped_anywhere_and_then_nothing_was_taken(
    shop: Engine, second: Path, path: Path, monkeypatch: pytest.MonkeyPatch, *, as_import: bool
) -> None:
    if as_import:
        monkeypatch.setattr(catalog_plan, "MOST_UNDONE_ROWS", 0)
    update = look_at_catalog(shop, second)
    before = everything(shop)
    stopped = patience = 0
    heard = Heard(patience)
    while not stopped:
        heard = Heard(patience)
        try:
            take_catalog(shop, update, who="Ana", progress=heard)
        except WorkCancelledError:
            assert (everything(shop), last_serial(shop)) == (before, 1)
            assert not list(path.parent.rglob("*.part*"))
            patience += 1 if patience < 5 else patience // 3
        else:
            stopped = patience
    assert stopped > 100
    assert heard.shares == sorted(heard.shares)
    assert all(map(is_good, kept_copies(path)))
    assert last_serial(shop) == 2
    assert check_store(shop).is_whole


def test_a_plan_of_this_moment_is_carried_out_as_it_was_shown(
    shop: Engine, second: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    update = look_at_catalog(shop, second)
    monkeypatch.setattr(catalog_act, "reckon", lambda *_told: pytest.fail("it was reckoned again"))
    assert take_catalog(shop, update, who="Ana").plan is update.plan
    assert check_store(shop).is_whole


def test_what_was_done_since_the_look_counts(shop: Engine, second: Path) -> None:
    update = look_at_catalog(shop, second)
    withdraw(shop, "entries", ("P002",), who="Ben", why="scrap")
    new = Entry("P900", "pump", "Torbic", "New")  # as the file brings it
    save_edits(shop, lambda _numbers: [RowEdit("entries", None, new)], name="x", who="B", why="x", save_id="1")
    taken = take_catalog(shop, update, who="Ana").plan
    assert (len(update.plan.added), len(taken.added)) == (2, 1)
    found = CatalogRepository(shop).entry("P002")
    assert found is not None
    assert found.withdrawn_on
    assert found.name == "Renamed"
    assert check_store(shop).is_whole


def test_a_plan_of_another_day_is_reckoned_again(shop: Engine, second: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    update = look_at_catalog(shop, second)
    monkeypatch.setattr(catalog_plan, "today", lambda: "2031-01-02")
    take_catalog(shop, update, who="Ana")
    found = CatalogRepository(shop).entry("P003")
    assert found is not None
    assert found.withdrawn_on == "2031-01-02"


def test_taking_the_same_look_twice_is_once(shop: Engine, second: Path) -> None:
    update = look_at_catalog(shop, second)
    take_catalog(shop, update, who="Ana")
    assert take_catalog(shop, update, who="Ana").plan.rows == 0
    assert last_serial(shop) == 2


def test_a_row_put_in_behind_the_programs_back_stops_the_act(shop: Engine, second: Path) -> None:
    update = look_at_catalog(shop, second)
    with shop.begin() as connection:
        connection.exec_driver_sql(
            "INSERT INTO entries SELECT 'P900', kind, maker, name, note, added_by, added_on, "
            "withdrawn_on, row_hash FROM entries WHERE entry_id = 'P001'"
        )
    before = everything(shop)
    with pytest.raises(StoreError):
        take_catalog(shop, update, who="Ana")
    assert everything(shop) == before


def test_a_whole_new_catalog_is_written_as_one_by_one(
    tmp_path: Path, keys: Path, key: SigningKey, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Told as an import or as an act that can be undone: the rows are the same, empty references as well."""
    rows = replace(catalog(), machines=tuple(replace(one, pump_id="") for one in catalog().machines), outcomes=())
    file = tmp_path / "all.xrefcat"
    file.write_bytes(catalog_file_bytes(rows, title="All", serial=1, withdrawn=(), key=key))
    taken: list[tuple[CatalogPlan, object]] = []
    for name, most in (("one", 0), ("other", 1000)):
        monkeypatch.setattr(catalog_plan, "MOST_UNDONE_ROWS", most)
        engine = open_engine(tmp_path / name / "shop.sqlite")
        fingerprint = load_supplier(keys / "public.pem", "Torbic").fingerprint
        trust_supplier(engine, keys / "public.pem", name="Torbic", fingerprint=fingerprint)
        plan = take_catalog(engine, look_at_catalog(engine, file), who="Ana").plan
        taken.append((plan, everything(engine)))
        assert check_store(engine).is_whole
        engine.dispose()
    assert taken[0][1] == taken[1][1] == rows
    assert taken[0][0].owners == taken[1][0].owners
