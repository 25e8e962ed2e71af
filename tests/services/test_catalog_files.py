"""What the window asks about catalog files: told line by line, refused without harm, and known afterwards."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pysqlite3.dbapi2 as binding
import pytest

from tests.gui.signed_files import (
    CHANGED_PUMP,
    GONE_PUMP,
    NEW_PUMP,
    SUPPLIER,
    key_folder,
    next_edition,
    sample_rows,
    strange_key_folder,
    trust,
    write_file,
    write_update,
)
from tests.services.bench_store import sample_store
from xref_app.core.model.catalog import PartRow
from xref_app.core.progress import NO_PROGRESS, WorkCancelledError
from xref_app.exchange.signing_keys import load_supplier
from xref_app.services.catalog_file_lines import LineKind, counts
from xref_app.services.catalog_files import IS_SAMPLE, CatalogFilesError, InUse, LookedAt, Refused
from xref_app.services.export_rows import ExportWish
from xref_app.services.live_desk import LiveDesk
from xref_app.services.sample_name import SAMPLE_NAME
from xref_app.store.catalog_act import OlderCatalogError
from xref_app.store.engine import Store
from xref_app.store.repository import CatalogRepository


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = sample_store(tmp_path)
    trust(store)
    yield store
    store.dispose()


@pytest.fixture
def desk(store: Store) -> LiveDesk:
    return LiveDesk(store, "Own catalog")


def looked(desk: LiveDesk, path: Path) -> LookedAt:
    found = desk.catalog_files.look(path, NO_PROGRESS)
    assert isinstance(found, LookedAt)
    return found


def take(desk: LiveDesk, path: Path) -> LookedAt:
    found = looked(desk, path)
    desk.catalog_files.take(found, "Ilvane", NO_PROGRESS)
    return found


def told(found: LookedAt) -> dict[str, list[str]]:
    return {str(one.called): [str(word) for word in one.words()] for one in found.lines if not one.kind.is_ours}


def test_every_change_is_told_under_its_entry(desk: LiveDesk, tmp_path: Path) -> None:
    found = looked(desk, write_update(tmp_path))
    assert told(found) == {
        "Pellawin PL36V50 (P-004)": [],
        "Pellawin KO7-4410 (P-002)": ["Bore diameter: .876 in → 28.0 mm"],
        "Pellawin PL77C02 (P-900)": [
            "Pump: Pellawin, Pump vertical 7/8 in",
            "Number PL77C02: maker, sheet",
            "Bore diameter: 22.23 mm, sheet",
        ],
    }
    kinds = counts(found.lines)
    assert (kinds[LineKind.WITHDRAWN], kinds[LineKind.CHANGED], kinds[LineKind.ADDED]) == (1, 1, 1)
    assert (found.number, found.last_number, found.supplier) == (42, None, SUPPLIER)
    assert found.is_copied_first
    assert not found.too_old


def test_the_catalog_of_the_moment_has_what_was_taken(desk: LiveDesk, tmp_path: Path) -> None:
    assert GONE_PUMP in desk.catalog.entries
    take(desk, write_update(tmp_path))
    assert NEW_PUMP in desk.catalog.entries
    assert GONE_PUMP not in desk.catalog.entries
    bores = [one.as_typed for one in desk.catalog.observations[CHANGED_PUMP] if one.field == "bore_diameter_mm"]
    assert bores == ["28.0 mm"]
    desk.undo("Ilvane")
    assert NEW_PUMP not in desk.catalog.entries
    assert GONE_PUMP in desk.catalog.entries


def test_many_changed_entries_open_the_catalog_anew(
    desk: LiveDesk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("xref_app.services.live_desk._MOST_REREAD", 1)
    before = desk.catalog
    take(desk, write_update(tmp_path))
    assert desk.catalog is not before
    assert NEW_PUMP in desk.catalog.entries
    assert GONE_PUMP not in desk.catalog.entries
    desk.close()


def test_listed_parts_of_a_file_are_there_at_once(desk: LiveDesk, tmp_path: Path) -> None:
    rows = sample_rows()
    dearer = tuple(replace(one, cost=99.5) if one is rows.parts[0] else one for one in rows.parts)
    new = PartRow("SP-900", "spacer", "Spacer 9 mm", thickness_mm=9.0)
    assert desk.catalog.parts
    found = take(desk, write_file(tmp_path, replace(rows, parts=(*dearer, new)), 5))
    assert "Listed part Spacer 9 mm (SP-900)" in told(found)
    changed = told(found)[f"Listed part {rows.parts[0].name} ({rows.parts[0].part_id})"]
    assert changed == [f"Cost: {rows.parts[0].cost:g} → 99.5"]
    by_id = {one.part_id: one for one in desk.catalog.parts}
    assert by_id["SP-900"] == new
    assert by_id[rows.parts[0].part_id].cost == 99.5


def test_an_older_number_says_why_and_is_taken_only_when_somebody_answers_for_it(
    desk: LiveDesk, tmp_path: Path
) -> None:
    take(desk, write_update(tmp_path))
    older = looked(desk, write_file(tmp_path, sample_rows(), 41))
    assert older.too_old.startswith("The catalog file has number 41, and number 42 was taken already;")
    with pytest.raises(OlderCatalogError):
        desk.catalog_files.take(older, "Ilvane", NO_PROGRESS)
    other = looked(desk, write_file(tmp_path, sample_rows(), 42))
    assert "another file of that number was taken already" in other.too_old
    assert not other.is_known
    desk.catalog_files.take(older, "Ilvane", NO_PROGRESS, older_too=True)
    assert looked(desk, write_update(tmp_path)).too_old == ""


def test_the_very_same_file_is_known_again(desk: LiveDesk, tmp_path: Path) -> None:
    path = write_update(tmp_path)
    take(desk, path)
    again = looked(desk, path)
    assert (again.is_known, again.changes_nothing, again.too_old, again.last_number) == (True, True, "", 42)


def test_a_strange_signature_is_told_apart_from_damage(desk: LiveDesk, tmp_path: Path) -> None:
    strange = desk.catalog_files.look(write_file(tmp_path, next_edition(), 7, keys=strange_key_folder()), NO_PROGRESS)
    assert isinstance(strange, Refused)
    assert (strange.is_strange, strange.known) == (True, (SUPPLIER,))
    path = write_update(tmp_path)
    path.write_bytes(path.read_bytes()[:-9])
    damaged = desk.catalog_files.look(path, NO_PROGRESS)
    assert isinstance(damaged, Refused)
    assert not damaged.is_strange


def test_the_newest_file_of_each_supplier_is_in_use(desk: LiveDesk, tmp_path: Path) -> None:
    files = desk.catalog_files
    assert files.in_use() == ()
    take(desk, write_update(tmp_path))
    take(desk, write_file(tmp_path, next_edition(), 43))
    keys = strange_key_folder() / "public.pem"
    assert files.fingerprint_of(keys) == load_supplier(keys, "").fingerprint
    assert files.trust(keys, " Quorley ", files.fingerprint_of(keys)) == "Quorley"
    assert files.in_use() == (InUse(SUPPLIER, 43),)
    take(desk, write_file(tmp_path, next_edition(), 7, keys=strange_key_folder()))
    assert files.in_use() == (InUse(SUPPLIER, 43), InUse("Quorley", 7))


def test_nothing_is_taken_or_trusted_namelessly(desk: LiveDesk, store: Store, tmp_path: Path) -> None:
    found = looked(desk, write_update(tmp_path))
    before = CatalogRepository(store).everything()
    with pytest.raises(CatalogFilesError, match="Say who takes the file; nothing was changed"):
        desk.catalog_files.take(found, "  ", NO_PROGRESS)
    assert CatalogRepository(store).everything() == before
    keys = key_folder() / "public.pem"
    with pytest.raises(CatalogFilesError, match="it has no name"):
        desk.catalog_files.trust(keys, " ", "00")
    with pytest.raises(CatalogFilesError, match="no fingerprint was typed"):
        desk.catalog_files.trust(keys, "Odrin", "   ")


def test_the_sample_takes_no_catalog_files(store: Store, tmp_path: Path) -> None:
    files = LiveDesk(store, SAMPLE_NAME).catalog_files
    keys = key_folder() / "public.pem"
    acts: tuple[Callable[[], object], ...] = (
        lambda: files.look(write_update(tmp_path), NO_PROGRESS),
        lambda: files.fingerprint_of(keys),
        lambda: files.trust(keys, "Odrin", "00"),
    )
    for act in acts:
        with pytest.raises(CatalogFilesError) as caught:
            act()
        assert str(caught.value) == IS_SAMPLE
    assert files.refusal() == IS_SAMPLE
    assert files.in_use() == ()
    assert LiveDesk(store, "Own catalog").catalog_files.refusal() == ""


def test_the_sample_goes_out_as_the_sample(store: Store, tmp_path: Path) -> None:
    files = LiveDesk(store, SAMPLE_NAME).catalog_files
    written = files.export_folder(tmp_path / "out", ExportWish(), NO_PROGRESS)
    assert (written.of_sample, written.damaged) == (0, 0)
    assert "SAMPLE" in (tmp_path / "out" / "datapackage.json").read_text()


class _Gone:
    """Progress of work that nobody waits for any more."""

    def step(self, done: int, total: int) -> None:  # noqa: ARG002 - as Progress has it
        raise WorkCancelledError


def test_reading_is_given_up_when_nobody_waits(desk: LiveDesk, store: Store, tmp_path: Path) -> None:
    before = CatalogRepository(store).everything()
    path = write_update(tmp_path)
    with pytest.raises(WorkCancelledError):
        desk.catalog_files.look(path, _Gone())
    with pytest.raises(WorkCancelledError):
        desk.catalog_files.take(looked(desk, path), "Ilvane", _Gone())
    assert CatalogRepository(store).everything() == before


@pytest.mark.parametrize("table", ["history", "entries"])
def test_what_was_done_is_not_told_as_failed_where_it_cannot_be_read_again(
    desk: LiveDesk, tmp_path: Path, table: str
) -> None:
    assert len(desk.catalog.entries)
    with binding.connect(tmp_path / "shop.sqlite") as other:
        other.execute(f"ALTER TABLE {table} RENAME TO nobody_knows")
    other.close()
    desk._taken([CHANGED_PUMP])
    desk._reopen()
    desk.close()
