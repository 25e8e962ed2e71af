"""A large store is asked entry by entry: the same answers as from memory, kept files, and no lost row unseen.

The stores here are small ones that are opened as if they were large.
"""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine, text

from tests.sample.make_sample_catalog import sample_rows
from tests.services.bench_store import sample_store
from tests.services.test_value_table import values_of
from tests.services.tiny import Cancelled, Quiet
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import Entry, Number
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.progress import Progress, WorkCancelledError
from xref_app.files.array_file import open_arrays
from xref_app.services import live_desk
from xref_app.services.answers import Candidates
from xref_app.services.builds import builds_of
from xref_app.services.called import entries_called
from xref_app.services.catalog import Catalog
from xref_app.services.duplicates import duplicates
from xref_app.services.find_pump import Finder
from xref_app.services.judge_all import judge_all
from xref_app.services.judge_candidates import judgement_of
from xref_app.services.kept_tables import table_of_kind
from xref_app.services.live_desk import LiveDesk
from xref_app.services.machine_side import job_values
from xref_app.services.opened_catalog import open_catalog, reread
from xref_app.services.pump_table import pumps_said
from xref_app.services.sayings import known_of_said
from xref_app.store.edits import RowEdit, save_edits, undo
from xref_app.store.engine import Store
from xref_app.store.importing import import_catalog
from xref_app.store.numbers import Numbers

MACHINE, FITTING, OTHER = "M-019", "P-030", "P-034"
TYPED = ("MY 30", "QV 2230", "K4?7-2?", "27*", "LM [38]", "Tallow", "M-019", "00 11")


NUMBER = next(row.number for row in sample_rows().numbers if row.entry_id == FITTING and row.role == "maker")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Engine]:
    engine = sample_store(tmp_path)
    yield engine
    engine.dispose()


def in_memory(store: Engine) -> Finder:
    return open_catalog(store)


def stored(store: Engine) -> Finder:
    return open_catalog(store, most_in_memory=0)


def beside(tmp_path: Path) -> tuple[Path, Path]:
    return tmp_path / "shop.sqlite.outline", tmp_path / "shop.sqlite.numbers"


def altered(store: Engine, words: str) -> None:
    with store.begin() as connection:
        connection.execute(text(words))


def verdict(catalog: Catalog, pump: str = FITTING) -> Verdict:
    return judgement_of(catalog, job_values(catalog, None, MACHINE), pump).verdict


def renamed(store: Engine, entry_id: str, name: str) -> None:
    before = open_catalog(store).catalog.entries[entry_id]
    edit = RowEdit("entries", before, replace(before, name=name))
    save_edits(store, lambda _numbers: [edit], name="rename", who="Ana", why="wrong", save_id=f"{entry_id} {name}")


def added(store: Engine, entry_id: str, number: str) -> None:
    def edits(_numbers: Numbers) -> list[RowEdit]:
        return [
            RowEdit("entries", None, Entry(entry_id, "pump", "Quillmere", "added")),
            RowEdit("numbers", None, Number(entry_id, number, "maker", "sheet")),
        ]

    save_edits(store, edits, name="add", who="Ana", why="new", save_id=f"add {entry_id}")


# -- the same as in memory


def test_every_row_of_every_entry_is_as_in_memory(store: Engine) -> None:
    here, there = in_memory(store).catalog, stored(store).catalog
    for name in ("entries", "machines", "drivers"):
        assert dict(getattr(there, name)) == dict(getattr(here, name))
    for name in ("numbers", "observations", "ports", "photos"):
        assert {key: rows for key, rows in getattr(there, name).items() if rows} == {
            key: rows for key, rows in getattr(here, name).items() if rows
        }
    assert len(there.entries) == len(here.entries) > 100
    for kind in ("pump", "driver", "machine"):
        assert sorted(there.ids_of(kind)) == sorted(here.ids_of(kind))
    for row in here.machines.values():
        assert there.builds_of(row.model) == here.builds_of(row.model)
        if row.pump_id:
            assert set(there.machines_with(row.pump_id)) == set(here.machines_with(row.pump_id))
    assert "P-999" not in there.entries
    assert there.observations.get("P-999", ()) == ()


@pytest.mark.parametrize("typed", TYPED)
def test_what_is_typed_finds_the_same(store: Engine, typed: str) -> None:
    assert stored(store).find(typed) == in_memory(store).find(typed)


@pytest.mark.parametrize("machine", ["M-001", "M-009", MACHINE])
def test_every_pump_is_judged_the_same(store: Engine, machine: str) -> None:
    here, there = in_memory(store).catalog, stored(store).catalog
    assert judge_all(there, job_values(there, None, machine), guessed_number=False, progress=Quiet()) == judge_all(
        here, job_values(here, None, machine), guessed_number=False, progress=Quiet()
    )


def test_what_is_said_in_columns_is_what_is_known_of_each_pump(store: Engine) -> None:
    stored(store)
    catalog = stored(store).catalog  # from the files
    ids, said = pumps_said(catalog)
    for place, entry_id in enumerate(ids):
        known = catalog.known(entry_id)
        numbers = {field: int(column[place]) for field, column in said.columns.items()}
        told = {
            field: known_of_said(field, said.said[field][number - 1]) for field, number in numbers.items() if number
        }
        assert {field: versions for field, versions in told.items() if versions} == known


# -- the files


def test_the_files_are_kept_and_used(store: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = stored(store)
    assert all(path.exists() for path in beside(tmp_path))
    monkeypatch.setattr("xref_app.store.entry_rows.WholeReading.entries", _must_not_be_read)
    assert stored(store).find(NUMBER) == first.find(NUMBER)


def _must_not_be_read(_self: object) -> None:
    raise AssertionError("the whole store was read again")


@pytest.mark.parametrize("which", [0, 1])
@pytest.mark.parametrize("at", [3, 100, -5])
def test_a_damaged_file_is_made_anew_and_changes_no_answer(store: Engine, tmp_path: Path, which: int, at: int) -> None:
    expected = judged(stored(store).catalog)
    path = beside(tmp_path)[which]
    damaged = bytearray(path.read_bytes())
    damaged[at] ^= 0x10
    path.write_bytes(damaged)
    finder = stored(store)
    assert finder.find(NUMBER).hits[0].entry_id == FITTING
    assert judged(finder.catalog) == expected


def judged(catalog: Catalog) -> Candidates:
    return judge_all(catalog, job_values(catalog, None, MACHINE), guessed_number=False, progress=Quiet())


def test_a_cut_or_foreign_file_is_made_anew(store: Engine, tmp_path: Path) -> None:
    stored(store)
    for path in beside(tmp_path):
        whole = path.read_bytes()
        for other in (b"", whole[: len(whole) // 2], b"something else" * 100):
            path.write_bytes(other)
            assert stored(store).find(NUMBER).hits[0].entry_id == FITTING
            assert path.read_bytes() == whole


def test_files_of_another_store_are_not_believed(store: Engine, tmp_path: Path) -> None:
    stored(store)
    other = tmp_path / "other"
    other.mkdir()
    theirs = sample_store(other)
    renamed(theirs, FITTING, "theirs")
    stored(theirs)
    for ours, path in zip(beside(tmp_path), beside(other), strict=True):
        shutil.copyfile(path, ours)
    assert stored(store).catalog.entries[FITTING].name != "theirs"
    theirs.dispose()


def test_what_was_changed_since_the_files_were_made_is_told(store: Engine, tmp_path: Path) -> None:
    stored(store)
    before = [path.read_bytes() for path in beside(tmp_path)]
    renamed(store, FITTING, "another name")
    added(store, "P-900", "ZZ 90-00-1")
    finder = stored(store)
    assert [path.read_bytes() for path in beside(tmp_path)] == before  # not made anew for two entries
    assert finder.catalog.entries[FITTING].name == "another name"
    assert finder.find("ZZ 90-00-1").hits[0].entry_id == "P-900"
    assert judged(finder.catalog) == judged(in_memory(store).catalog)


def test_a_save_changes_the_catalog_of_the_moment_and_leaves_the_one_before(store: Engine) -> None:
    finder = stored(store)
    name = finder.catalog.entries[FITTING].name
    renamed(store, FITTING, "another name")
    added(store, "P-900", "ZZ 90-00-1")
    after = finder.after(reread(finder.catalog, store, [FITTING, "P-900"]), [FITTING, "P-900"])
    assert after.catalog.entries[FITTING].name == "another name"
    assert after.find("ZZ 90-00-1").hits[0].entry_id == "P-900"
    assert finder.catalog.entries[FITTING].name == name
    assert finder.find("ZZ 90-00-1").hits == ()


def test_reading_a_large_store_can_be_stopped(store: Engine, tmp_path: Path) -> None:
    with pytest.raises(WorkCancelledError):
        open_catalog(store, Cancelled(5), most_in_memory=0)
    assert not any(path.exists() for path in beside(tmp_path))


def test_a_file_that_proves_damaged_while_it_is_used_is_made_anew_and_the_question_answered(
    store: Engine, tmp_path: Path
) -> None:
    expected = judged(stored(store).catalog)
    path = beside(tmp_path)[0]
    whole = path.read_bytes()
    # The head holds a sum for each field; what is said of the bores comes first among the fields.
    file = open_arrays(path, b"outline3")
    assert file is not None
    said = file.array("pump/bore_diameter_mm").tobytes()
    at = whole.index(said)
    path.write_bytes(whole[:at] + bytes(len(said)) + whole[at + len(said) :])
    desk = LiveDesk(store, "Sample", most_in_memory=0)
    job = desk.pick_build(desk.open_job(None, MACHINE, Quiet()), MACHINE, Quiet())
    assert desk.judge_all(job, Quiet()) == expected
    assert path.read_bytes() == whole


def test_a_question_given_up_does_not_begin_the_opening_anew(store: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Store] = []

    def counted(of: Store, progress: Progress, *, most_in_memory: int) -> Finder:
        opened.append(of)
        return open_catalog(of, progress, most_in_memory=most_in_memory)

    monkeypatch.setattr(live_desk, "open_catalog", counted)
    desk = LiveDesk(store, "Sample", most_in_memory=0)
    with suppress(WorkCancelledError):
        desk.find(NUMBER, Cancelled())
    assert desk.find(NUMBER, Quiet()).hits[0].entry_id == FITTING
    assert len(opened) == 1
    desk.close()


# -- damage


@pytest.mark.parametrize("files_there", [True, False])
@pytest.mark.parametrize(
    "words",
    [
        f"UPDATE observations SET value = value + 1 WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'",
        f"DELETE FROM observations WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'",
        f"UPDATE observations SET entry_id = 'P-031' WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'",
        f"UPDATE observations SET withdrawn_on = '2024-01-01' WHERE entry_id = '{FITTING}' AND field = 'oil'",
        f"UPDATE entries SET maker = 'Eve' WHERE entry_id = '{FITTING}'",
        f"UPDATE ports SET thread = 'M22x1.5' WHERE entry_id = '{FITTING}' AND port = 'inlet'",
    ],
)
def test_a_damaged_lost_or_strayed_row_keeps_its_pump_from_fitting(
    store: Engine, words: str, *, files_there: bool
) -> None:
    if files_there:
        assert verdict(stored(store).catalog) is Verdict.FITS
    altered(store, words)
    catalog = stored(store).catalog
    assert verdict(catalog) is Verdict.NOT_KNOWN_YET
    found = judge_all(catalog, job_values(catalog, None, MACHINE), guessed_number=False, progress=Quiet())
    # Of an entry whose own row is damaged only the files know that it is a pump.
    verdicts = {row.entry_id: row.judgement.verdict for row in found.rows}
    assert verdicts.get(FITTING, Verdict.NOT_KNOWN_YET) is Verdict.NOT_KNOWN_YET
    assert FITTING in verdicts or (not files_there and "UPDATE entries" in words)
    assert FITTING in catalog.damaged.known().entries or catalog.damaged.known().anywhere


def test_with_the_files_a_lost_row_of_one_pump_leaves_the_others_alone(store: Engine) -> None:
    stored(store)
    altered(store, f"DELETE FROM observations WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'")
    assert verdict(stored(store).catalog, OTHER) is Verdict.FITS


def test_files_are_not_made_of_a_damaged_store(store: Engine, tmp_path: Path) -> None:
    altered(
        store, f"UPDATE observations SET value = value + 1 WHERE entry_id = '{FITTING}' AND field = 'bore_depth_mm'"
    )
    stored(store)
    assert not any(path.exists() for path in beside(tmp_path))


def test_a_strayed_row_is_missed_in_memory_too(store: Engine) -> None:
    altered(
        store, f"UPDATE observations SET entry_id = '{OTHER}' WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'"
    )
    assert verdict(in_memory(store).catalog) is Verdict.NOT_KNOWN_YET


def test_damage_that_was_found_is_not_forgotten_with_the_next_save(store: Engine) -> None:
    altered(
        store, f"UPDATE observations SET value = value + 1 WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'"
    )
    for catalog in (in_memory(store).catalog, stored(store).catalog):
        assert verdict(catalog) is Verdict.NOT_KNOWN_YET
        assert verdict(reread(catalog, store, [OTHER])) is Verdict.NOT_KNOWN_YET


def test_a_damaged_part_keeps_everything_from_fitting(store: Engine) -> None:
    stored(store)
    altered(store, "UPDATE parts SET cost = cost + 1")
    assert verdict(stored(store).catalog) is Verdict.NOT_KNOWN_YET


# -- the bench


@pytest.mark.parametrize("kind", ["pump", "driver", "machine"])
def test_the_tables_of_the_bench_are_as_in_memory(store: Engine, kind: str) -> None:
    stored(store)
    here, there = in_memory(store).catalog, stored(store).catalog
    table = table_of_kind(there, kind)
    assert table.ids == table_of_kind(here, kind).ids
    assert values_of(table) == values_of(table_of_kind(here, kind))


def test_the_tables_of_the_bench_tell_what_was_changed(store: Engine) -> None:
    finder = stored(store)
    driver = finder.catalog.machines[MACHINE].driver_id
    (row,) = [one for one in finder.catalog.observations[driver] if one.field == "shaft_projection_mm"]
    edit = RowEdit("observations", row, replace(row, value=71.0, as_typed="71"))
    save_edits(store, lambda _numbers: [edit], name="size", who="Ana", why="again", save_id="one")
    added(store, "P-900", "AA 90-00-1")
    changed = [driver, "P-900"]
    for catalog in (reread(finder.catalog, store, changed), stored(store).catalog):
        for kind in ("pump", "driver", "machine"):
            expected = table_of_kind(in_memory(store).catalog, kind)
            assert table_of_kind(catalog, kind).ids == expected.ids
            assert values_of(table_of_kind(catalog, kind)) == values_of(expected)


def test_a_number_nearly_the_same_is_found_in_the_store_too(store: Engine) -> None:
    here, there = in_memory(store).catalog, stored(store).catalog
    for number in (NUMBER, NUMBER.replace("0", "O"), NUMBER[:-1], "QV 2238"):
        assert duplicates(there, "pump", {}, [number]) == duplicates(here, "pump", {}, [number])


def test_an_entry_is_named_by_id_number_or_model(store: Engine) -> None:
    here, there = in_memory(store).catalog, stored(store).catalog
    machine = here.machines[MACHINE]
    for name in (FITTING, FITTING.lower(), NUMBER.lower(), machine.model.upper(), "P-999", "no such name", "?", ""):
        assert entries_called(there, name) == entries_called(here, name), name
    assert FITTING in entries_called(there, NUMBER)
    assert MACHINE in entries_called(there, machine.model)


# -- many changes


def edit_at_random(rng: random.Random, catalog: Catalog, serial: int) -> tuple[str, list[RowEdit]]:
    """Return an act on some pump: another number, another size, its withdrawal, or a new one."""
    entry_id = rng.choice(sorted(catalog.ids_of("pump")))
    match rng.randrange(4):
        case 0:
            entry_id = f"P-{900 + serial}"
            number = Number(entry_id, f"ZQ {rng.randrange(1000):03}-{serial}", "maker", "sheet")
            return entry_id, [
                RowEdit("entries", None, Entry(entry_id, "pump", "Quillmere", "added")),
                RowEdit("numbers", None, number),
            ]
        case 1:
            return entry_id, [RowEdit("entries", catalog.entries[entry_id], None)]
        case 2:
            more = Number(entry_id, f"ZQ {rng.randrange(1000):03}-{serial}", "seller", "sheet")
            return entry_id, [RowEdit("numbers", None, more)]
        case _:
            sizes = [one for one in catalog.observations[entry_id] if one.value]
            if not sizes:
                return entry_id, []
            row = rng.choice(sizes)
            return entry_id, [RowEdit("observations", row, replace(row, value=(row.value or 0.0) * 1.02))]


@pytest.mark.parametrize("seed", range(3))
def test_changes_in_any_order_give_the_answers_of_a_fresh_opening(store: Engine, tmp_path: Path, seed: int) -> None:
    rng = random.Random(seed)
    finder = stored(store)
    for serial in range(25):
        entry_id, edits = edit_at_random(rng, finder.catalog, serial)
        if edits:
            save_edits(store, lambda _n, e=edits: e, name="act", who="Ana", why="", save_id=f"{seed} {serial}")  # type: ignore[misc]
            finder = finder.after(reread(finder.catalog, store, [entry_id]), [entry_id])
    later = stored(store)
    for path in beside(tmp_path):
        path.unlink()
    anew, here = stored(store), in_memory(store)
    for typed in (*TYPED, "ZQ", "ZQ 1*", "ZQ ?0"):
        assert finder.find(typed) == later.find(typed) == anew.find(typed) == here.find(typed), typed
    expected = values_of(table_of_kind(here.catalog, "pump"))
    rows = {row.entry_id: row for row in judged(here.catalog).rows}
    for one in (finder, later, anew):
        assert values_of(table_of_kind(one.catalog, "pump")) == expected
        assert {row.entry_id: row for row in judged(one.catalog).rows} == rows


# -- damage of what was changed


LOST = f"DELETE FROM observations WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'"


def test_a_row_lost_of_a_pump_stays_missed_when_that_pump_is_saved(store: Engine) -> None:
    stored(store)
    altered(store, LOST)
    catalog = stored(store).catalog
    assert verdict(catalog) is Verdict.NOT_KNOWN_YET
    renamed(store, FITTING, "another name")
    assert verdict(reread(catalog, store, [FITTING])) is Verdict.NOT_KNOWN_YET
    assert verdict(stored(store).catalog) is Verdict.NOT_KNOWN_YET


def test_a_row_lost_after_a_pump_was_changed_is_missed_at_the_next_opening(store: Engine) -> None:
    stored(store)
    renamed(store, FITTING, "another name")
    assert verdict(stored(store).catalog) is Verdict.FITS
    altered(store, LOST)
    assert verdict(stored(store).catalog) is Verdict.NOT_KNOWN_YET


@pytest.mark.parametrize("most_in_memory", [0, 5_000])
def test_a_strayed_row_stays_missed_when_its_owner_is_saved(store: Engine, most_in_memory: int) -> None:
    stored(store)
    altered(
        store, f"UPDATE observations SET entry_id = '{OTHER}' WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'"
    )
    catalog = open_catalog(store, most_in_memory=most_in_memory).catalog
    renamed(store, FITTING, "another name")
    assert verdict(reread(catalog, store, [FITTING])) is Verdict.NOT_KNOWN_YET


def test_an_import_by_somebody_else_explains_no_lost_row(store: Engine) -> None:
    catalog = stored(store).catalog
    import_catalog(store, CatalogRows(entries=(Entry("P-901", "pump", "Quillmere", "theirs"),)), who="Ben", why="stick")
    altered(store, LOST)
    assert verdict(catalog) is Verdict.NOT_KNOWN_YET


def test_withdrawn_and_brought_back_an_entry_is_whole(store: Engine) -> None:
    row = in_memory(store).catalog.entries[FITTING]
    withdraw = RowEdit("entries", row, None)
    save_edits(store, lambda _numbers: [withdraw], name="withdraw", who="Ana", why="", save_id="gone")
    gone = stored(store)  # the files are made while it is withdrawn
    assert FITTING not in gone.catalog.entries
    undo(store, who="Ana")
    for catalog in (reread(gone.catalog, store, [FITTING]), stored(store).catalog):
        assert verdict(catalog) is Verdict.FITS


def test_what_is_shown_is_counted_so(store: Engine) -> None:
    before = judged(stored(store).catalog)
    altered(store, LOST)
    after = judged(stored(store).catalog)
    assert after.counted[Verdict.FITS] == before.counted[Verdict.FITS] - 1
    assert after.counted[Verdict.NOT_KNOWN_YET] == before.counted[Verdict.NOT_KNOWN_YET] + 1


@pytest.mark.parametrize("most_in_memory", [0, 5_000])
def test_a_build_whose_row_cannot_be_read_is_never_left_out_in_silence(store: Engine, most_in_memory: int) -> None:
    stored(store)
    alone = in_memory(store).catalog
    model = next(row.model for row in alone.machines.values() if len(alone.builds_of(row.model)) == 2)
    kept, hit = (row.entry_id for row in alone.builds_of(model))
    altered(store, f"UPDATE machines SET built_from = '1999-01-01' WHERE entry_id = '{hit}'")
    catalog = open_catalog(store, most_in_memory=most_in_memory).catalog
    builds = builds_of(catalog, None, kept)
    assert builds.settled == ()
    assert [one.entry_id for one in builds.choices] == [kept]
    assert builds.question is not None
