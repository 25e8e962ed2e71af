"""A supplier's catalog file: shown first, taken as one act or not at all, and never over what is the shop's own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine, insert

from tests.store.rows import small_catalog
from xref_app.core.errors import XrefError
from xref_app.core.model.catalog import Entry, Number, Observation, OutcomeRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.catalog_file import catalog_file_bytes
from xref_app.exchange.signing_keys import SigningKey, load_signing_key, new_key_files
from xref_app.services.catalog_update import (
    CatalogUpdate,
    MakingWish,
    look_at_catalog,
    make_catalog_file,
    take_catalog,
)
from xref_app.services.kept_copies import Kind, is_good, kept_copies
from xref_app.services.restore import Way, restore
from xref_app.services.supplier_keys import SupplierError, known_suppliers, suppliers_file, trust_supplier
from xref_app.store import catalog_plan
from xref_app.store.catalog_act import OlderCatalogError
from xref_app.store.connect import writing
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.engine import open_engine
from xref_app.store.errors import DamagedStoreError
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.repository import CatalogRepository
from xref_app.store.tables import JOBS
from xref_app.store.undoing import next_undo, redo, undo
from xref_app.store.writing import add_observation, withdraw


def catalog() -> CatalogRows:
    """Return the small catalog as a supplier would send it: in ids that a catalog file may have, sizes in range."""
    rows = small_catalog()
    kept = tuple(
        replace(one, value=20.0, as_typed="20 mm") for one in rows.observations if one.field.startswith("bore")
    )
    return CatalogRows(
        entries=tuple(sorted(rows.entries, key=lambda one: one.entry_id)),
        numbers=rows.numbers,
        observations=tuple(one for one in kept if one.field == "bore_diameter_mm"),
        drivers=rows.drivers,
        machines=rows.machines,
        parts=rows.parts,
        outcomes=(OutcomeRow("OUT-1", "M001", "P003", "installed and fine"),),
    )


@pytest.fixture(scope="module")
def keys(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("keys")
    new_key_files(folder)
    return folder


@pytest.fixture(scope="module")
def key(keys: Path) -> SigningKey:
    return load_signing_key(keys / "signing.key")


@pytest.fixture
def shop(tmp_path: Path, keys: Path) -> Iterator[Engine]:
    engine = open_engine(tmp_path / "shop" / "shop.sqlite")
    fingerprint = fingerprint_of(keys, engine)
    trust_supplier(engine, keys / "public.pem", name="Torbic", fingerprint=fingerprint)
    yield engine
    engine.dispose()


def fingerprint_of(keys: Path, engine: Engine) -> str:
    """Return the fingerprint as the refusal of a wrong one tells it."""
    with pytest.raises(SupplierError) as caught:
        trust_supplier(engine, keys / "public.pem", name="Torbic", fingerprint="0")
    return str(caught.value).partition("fingerprint ")[2].partition(",")[0].upper()


def looked(
    shop: Engine, key: SigningKey, folder: Path, rows: CatalogRows, serial: int = 1, withdrawn: tuple[str, ...] = ()
) -> CatalogUpdate:
    path = folder / f"{serial}.xrefcat"
    path.write_bytes(catalog_file_bytes(rows, title="Spring", serial=serial, withdrawn=withdrawn, key=key))
    return look_at_catalog(shop, path)


def everything(engine: Engine) -> CatalogRows:
    return CatalogRepository(engine).everything()


def later(rows: CatalogRows) -> CatalogRows:
    """Return the next edition: one name changed, one pump new with a number, one pump gone."""
    changed = replace(rows.entries[4], name="Renamed")
    entries = (*rows.entries[:4], changed, *rows.entries[6:], Entry("P900", "pump", "Torbic", "New"))
    return replace(
        rows,
        entries=entries,
        numbers=(*(one for one in rows.numbers if one.entry_id != "P003"), Number("P900", "NX-1", "maker", "sheet")),
        observations=tuple(one for one in rows.observations if one.entry_id != "P003"),
        outcomes=(),
    )


def test_looking_changes_nothing_and_tells_what_would_be_done(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog()), who="Ana")
    job = {"job_id": "J1", "turn": 1, "content": '{"pump": ["P003"]}', "changed_at": "", "row_hash": ""}
    with writing(shop) as connection:
        connection.execute(insert(JOBS).values(**job))
        connection.execute(insert(JOBS).values(**{**job, "job_id": "J2", "turn": 2, "content": '"P0031"'}))
    before = everything(shop)
    update = looked(shop, key, tmp_path, later(catalog()), 2, ("P003", "P999"))
    assert update.added == ("P900",)
    assert set(update.touched) == {"P002", "P003"}
    assert update.withdrawn == ("P003",)
    assert [one.outcome_id for one in update.outcomes] == ["OUT-1"]
    assert update.jobs == ("J1",)
    assert everything(shop) == before


def test_a_file_taken_is_one_act_undone_and_done_again_by_name(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    first = take_catalog(shop, looked(shop, key, tmp_path, catalog()), who="Ana")
    assert first.before is None  # there was nothing to copy
    stood = everything(shop)
    assert stood == catalog()
    update = looked(shop, key, tmp_path, later(catalog()), 2, ("P003",))
    taken = take_catalog(shop, update, who="Ben")
    assert (len(taken.plan.added), len(taken.plan.changed), len(taken.plan.withdrawn)) == (2, 1, 1)
    assert taken.before is not None
    assert taken.before.kind is Kind.CATALOG
    assert is_good(taken.before)
    newest = read_history(shop, limit=1)[0]
    assert (newest.serial, newest.change.who) == (2, "Ben")
    assert newest.change.why.startswith("number 2 of Torbic, signed with key ")
    now = everything(shop)
    assert {one.entry_id for one in now.entries if one.withdrawn_on} == {"P003"}
    step = next_undo(shop)
    assert step is not None
    assert step.name == "Spring (Torbic, 2)"
    undo(shop, who="Ana")
    back = everything(shop)
    assert [one for one in back.entries if not one.withdrawn_on] == list(stood.entries)
    assert back.numbers == stood.numbers
    redo(shop, who="Ana")
    assert everything(shop) == now
    assert check_store(shop).is_whole


def test_the_same_file_again_changes_nothing(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    update = looked(shop, key, tmp_path, catalog())
    take_catalog(shop, update, who="Ana")
    again = take_catalog(shop, looked(shop, key, tmp_path, catalog()), who="Ana")
    assert not again.plan.changes
    assert len(read_history(shop)) == 1


def test_a_number_that_does_not_rise_is_refused_unless_somebody_answers_for_it(
    shop: Engine, key: SigningKey, tmp_path: Path
) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, later(catalog()), 5), who="Ana")
    before = everything(shop)
    update = looked(shop, key, tmp_path, catalog(), 4)
    assert update.is_older
    with pytest.raises(OlderCatalogError) as caught:
        take_catalog(shop, update, who="Ana")
    assert str(caught.value) == (
        "The catalog file has number 4, and number 5 was taken already; nothing was changed: "
        "ask for a newer one, or take it all the same."
    )
    with pytest.raises(OlderCatalogError, match="another file of that number was taken already"):
        take_catalog(shop, looked(shop, key, tmp_path, catalog(), 5), who="Ana")
    assert everything(shop) == before
    take_catalog(shop, update, who="Ana", older_too=True)
    assert read_history(shop, limit=1)[0].change.why.endswith("; taken though number 5 was taken before")
    assert not looked(shop, key, tmp_path, later(catalog()), 5).is_older


def test_an_undone_file_still_counts_and_can_be_taken_again(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog(), 2), who="Ana")
    undo(shop, who="Ana")
    with pytest.raises(OlderCatalogError):
        take_catalog(shop, looked(shop, key, tmp_path, catalog(), 1), who="Ana")
    again = take_catalog(shop, looked(shop, key, tmp_path, catalog(), 2), who="Ana")
    assert not again.plan.added  # they were withdrawn by the undo, and what the shop withdrew stays so


def test_a_file_that_brings_nothing_new_still_raises_the_number(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog(), 2), who="Ana")
    take_catalog(shop, looked(shop, key, tmp_path, catalog(), 9), who="Ana")
    with pytest.raises(OlderCatalogError, match="number 9 was taken already"):
        take_catalog(shop, looked(shop, key, tmp_path, catalog(), 3), who="Ana")


def test_what_is_the_shops_own_is_neither_overwritten_nor_withdrawn(
    shop: Engine, key: SigningKey, tmp_path: Path
) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog(), 1), who="Ana")
    own = Entry("OWN-0001", "pump", "Quenna", "Ours")
    save_edits(shop, lambda _numbers: [RowEdit("entries", None, own)], name="Ours", who="A", why="x", save_id="1")
    seen = Observation(0, "P001", "pump_length_mm", "90", 90.0, "", 1.0, "measured")
    mine = add_observation(shop, seen, who="Ana", why="measured")
    hostile = replace(
        catalog(),
        entries=(*catalog().entries, replace(own, name="Theirs"), Entry("OWN-0002", "pump", "Torbic", "Theirs")),
        numbers=(*catalog().numbers, Number("OWN-0001", "EVIL-1", "maker", "plate")),
        observations=(*catalog().observations, replace(mine, value=80.0, as_typed="80")),
    )
    update = looked(shop, key, tmp_path, hostile, 2)
    assert update.plan.left_out == 4
    assert not update.plan.changes
    with_withdrawal = looked(shop, key, tmp_path, catalog(), 3, ("OWN-0001",))
    take_catalog(shop, with_withdrawal, who="Ana")
    repository = CatalogRepository(shop)
    assert repository.entry("OWN-0001") == own
    assert repository.entry("OWN-0002") is None
    assert not repository.numbers_of("OWN-0001")
    assert mine in repository.observations_of(["P001"])["P001"]


def test_what_lies_in_the_shop_is_not_a_suppliers_to_say(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    rows = small_catalog()
    shelf = (replace(rows.shelf[0], shelf_id="H-01"),)
    held = (replace(rows.reservations[0], shelf_id="H-01"),)
    units = (replace(rows.salvaged_units[0], unit_id="U-01"),)
    full = replace(catalog(), shelf=shelf, reservations=held, salvaged_units=units, photos=rows.photos)
    take_catalog(shop, looked(shop, key, tmp_path, full), who="Ana")
    assert everything(shop) == catalog()


def test_what_the_shop_withdrew_stays_withdrawn(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog(), 1), who="Ana")
    withdraw(shop, "entries", ("P004",), who="Ana", why="scrap")
    renamed = tuple(replace(one, note="new") for one in catalog().entries)
    take_catalog(shop, looked(shop, key, tmp_path, replace(catalog(), entries=renamed), 2), who="Ana")
    found = CatalogRepository(shop).entry("P004")
    assert found is not None
    assert found.withdrawn_on
    assert found.note == "new"


def test_a_whole_catalog_is_told_as_an_import_and_the_copy_is_the_way_back(
    shop: Engine, key: SigningKey, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog(), 1), who="Ana")
    monkeypatch.setattr(catalog_plan, "MOST_UNDONE_ROWS", 3)
    update = looked(shop, key, tmp_path, later(catalog()), 2, ("P003",))
    assert not update.plan.can_be_undone
    before = everything(shop)
    taken = take_catalog(shop, update, who="Ana")
    act = read_history(shop, limit=1)[0].change
    assert (act.action, act.after) == ("import", {"added": 2, "changed": 1, "withdrawn": 1})
    assert next_undo(shop) is None
    assert check_store(shop).is_whole
    assert taken.before is not None
    restore(tmp_path / "shop" / "shop.sqlite", taken.before.path, Way.ALL, who="Ana")
    assert [one for one in everything(shop).entries if not one.withdrawn_on] == list(before.entries)


def test_nothing_is_built_upon_damaged_rows(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog()), who="Ana")
    with writing(shop) as connection:
        connection.exec_driver_sql("UPDATE entries SET note = 'x' WHERE entry_id = 'P002'")
    before = everything(shop)
    with pytest.raises(DamagedStoreError, match="row P002 of entries does not match its check sum"):
        looked(shop, key, tmp_path, later(catalog()), 2)
    assert everything(shop) == before


def test_a_shop_makes_a_file_that_another_takes(shop: Engine, keys: Path, tmp_path: Path) -> None:
    other = open_engine(tmp_path / "other" / "shop.sqlite")
    path = tmp_path / "theirs.xrefcat"
    take_rows(other)
    made = make_catalog_file(other, path, keys / "signing.key", MakingWish("Autumn", 3, ("P002",)))
    assert made == len(catalog().entries) - 1
    taken = take_catalog(shop, look_at_catalog(shop, path), who="Ana")
    assert taken.plan.left_out == 0
    assert CatalogRepository(shop).entry("P002") is None
    assert len(everything(shop).entries) == made
    with pytest.raises(XrefError, match="has no number that counts up; nothing was changed"):
        make_catalog_file(other, path, keys / "signing.key", MakingWish("Autumn", 0))
    other.dispose()


def take_rows(engine: Engine) -> None:
    edits = [RowEdit("entries", None, one) for one in (*catalog().entries, Entry("OWN-0001", "pump", "Q", "Ours"))]
    edits += [RowEdit("numbers", None, one) for one in catalog().numbers]
    save_edits(engine, lambda _numbers: edits, name="x", who="A", why="x", save_id="1")


def test_keys_are_taken_by_their_fingerprint_alone(shop: Engine, keys: Path) -> None:
    with pytest.raises(SupplierError, match="is no new name of a supplier"):
        trust_supplier(shop, keys / "public.pem", name="Torbic", fingerprint=fingerprint_of(keys, shop))
    with pytest.raises(SupplierError, match="is one that the shop has already"):
        trust_supplier(shop, keys / "public.pem", name="Odrin", fingerprint=fingerprint_of(keys, shop))
    assert [one.name for one in known_suppliers(shop)] == ["Torbic"]
    for damage in ("{", '[{"name": "x", "keys": ["00"]}]', '[{"name": "x"}]'):
        suppliers_file(shop).write_text(damage)
        with pytest.raises(SupplierError, match=r"add (the suppliers' keys|them) anew"):
            known_suppliers(shop)


def test_without_room_for_the_copy_nothing_is_taken(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    take_catalog(shop, looked(shop, key, tmp_path, catalog(), 1), who="Ana")
    (tmp_path / "shop" / "copies").write_text("a file where the folder should be")
    before = everything(shop)
    with pytest.raises(XrefError, match="was not made because"):
        take_catalog(shop, looked(shop, key, tmp_path, later(catalog()), 2), who="Ana")
    assert everything(shop) == before
    assert not kept_copies(tmp_path / "shop" / "shop.sqlite")


def test_a_reading_that_the_supplier_recalls_counts_no_more(shop: Engine, key: SigningKey, tmp_path: Path) -> None:
    rows = catalog()
    take_catalog(shop, looked(shop, key, tmp_path, rows), who="Ana")
    first, *others = rows.observations
    recalled = replace(rows, observations=(replace(first, withdrawn_on="2026-05-01"), *others))
    update = looked(shop, key, tmp_path, recalled, 2)
    assert update.touched == (first.entry_id,)
    take_catalog(shop, update, who="Ana")
    read = CatalogRepository(shop).observations_of((first.entry_id,)).get(first.entry_id, ())
    assert first.observation_id not in {one.observation_id for one in read}
    undo(shop, who="Ana")
    assert first in CatalogRepository(shop).observations_of((first.entry_id,))[first.entry_id]
