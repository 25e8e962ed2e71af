"""One save is one act: whole or not at all, once however often it is sent, and never over somebody else's work."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine

from xref_app.core.model.catalog import Entry, Number, Observation, PortRow, ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import reading, writing
from xref_app.store.drafts import Draft, keep_draft, read_drafts
from xref_app.store.edits import Numbers, RowEdit, Saved, save_edits
from xref_app.store.engine import open_engine
from xref_app.store.errors import (
    ChangedMeanwhileError,
    ChangeRefusedError,
    DamagedStoreError,
    DoubledKeyError,
    LostReferenceError,
    RowMissingError,
    StoreError,
)
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.importing import import_catalog
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import add_observation, bring_back, withdraw

Build = Callable[[Numbers], Sequence[RowEdit]]


def save(engine: Engine, build: Build, save_id: str = "s1", name: str = "A pump", who: str = "Ana") -> Saved:
    return save_edits(engine, build, name=name, who=who, why="on the bench", save_id=save_id)


def edits(*given: RowEdit) -> Build:
    return lambda _numbers: given


def a_pump(numbers: Numbers) -> list[RowEdit]:
    """Return a new pump with a number, a port and two sizes, its rows in no order of use."""
    entry = numbers.entry_id()
    sizes = [
        Observation(numbers.observation_id(), entry, field, "20 mm", 20.0, "", 0.05, "measured", "Ana", "2026-11-25")
        for field in ("bore_diameter_mm", "bore_depth_mm")
    ]
    return [
        *(RowEdit("observations", None, one) for one in sizes),
        RowEdit("ports", None, PortRow(entry, "inlet", "3/4-11.5 NH", "female", swivel=True)),
        RowEdit("numbers", None, Number(entry, "NW 77", "plate", "plate")),
        RowEdit("entries", None, Entry(entry, "pump", "Invented & Söhne", "From the bench", added_on="2026-11-25")),
    ]


def test_a_new_entry_is_one_act_and_comes_back_as_it_stands(path: Path, filled: Engine) -> None:
    saved = save(filled, a_pump)
    assert (saved.serial, saved.again, len(saved.edits)) == (2, False, 5)
    newest = read_history(filled)[0].change
    assert (newest.action, newest.table, newest.key) == ("save", "", ("s1", "A pump"))
    assert (newest.who, newest.why, newest.before) == ("Ana", "on the bench", {})
    assert newest.after is not None
    assert {name: len(rows) for name, rows in newest.after.items() if isinstance(rows, list)} == {
        "entries": 1,
        "numbers": 1,
        "observations": 2,
        "ports": 1,
    }
    filled.dispose()
    again = open_engine(path)
    rows = CatalogRepository(again).rows_of(["OWN-0001"])
    kept = {(edit.table, edit.after) for edit in saved.edits}
    assert kept == {
        *(("entries", one) for one in rows.entries),
        *(("numbers", one) for one in rows.numbers),
        *(("observations", one) for one in rows.observations),
        *(("ports", one) for one in rows.ports),
    }
    assert [one.observation_id for one in rows.observations] == [OWN_OBSERVATIONS_FROM, OWN_OBSERVATIONS_FROM + 1]
    assert check_store(again).is_whole
    again.dispose()


def test_the_same_save_again_changes_nothing_and_builds_nothing(filled: Engine) -> None:
    first = save(filled, a_pump)
    save(filled, a_pump, "s2")
    before = read_history(filled)

    def never(_numbers: Numbers) -> list[RowEdit]:
        raise AssertionError

    assert save(filled, never) == replace(first, again=True)
    assert read_history(filled) == before


def test_the_same_save_from_two_threads_is_done_once(path: Path, filled: Engine) -> None:
    other = open_engine(path)
    with ThreadPoolExecutor(4) as pool:
        results = list(pool.map(lambda n: save(other if n % 2 else filled, a_pump, f"s{n // 4}"), range(40)))
    other.dispose()
    assert sum(not one.again for one in results) == 10
    assert len({one.serial for one in results}) == 10
    assert len(CatalogRepository(filled).entries("pump")) == 12 + 10


def test_own_numbers_go_on_where_they_ended_and_are_never_given_twice(filled: Engine) -> None:
    ids = [save(filled, a_pump, f"s{place}").edits[0].after for place in range(3)]
    withdraw(filled, "entries", ("OWN-0003",), who="Ana", why="twice")
    taken = Entry("OWN-0041", "pump", "Nobody", "From another shop's package")
    strange = Entry("OWN-LIKE-9999", "pump", "Nobody", "No number of ours")
    import_catalog(filled, CatalogRows(entries=(taken, strange)), who="Ana", why="exchange")

    def two(numbers: Numbers) -> list[RowEdit]:
        return [RowEdit("entries", None, Entry(numbers.entry_id(), "pump", "Nobody", "Next")) for _ in range(2)]

    ids += [one.after for one in save(filled, two, "s9").edits]
    assert [one.entry_id for one in ids if isinstance(one, Entry)] == [
        *("OWN-0001", "OWN-0002", "OWN-0003"),
        *("OWN-0042", "OWN-0043"),
    ]


def test_after_9999_own_entries_the_count_goes_on(engine: Engine) -> None:
    last = Entry("OWN-9999", "pump", "Nobody", "x")
    import_catalog(engine, CatalogRows(entries=(last, replace(last, entry_id="OWN-10000"))), who="Ana", why="")
    entry = save(engine, a_pump).edits[0].after
    assert isinstance(entry, Entry)
    assert entry.entry_id == "OWN-10001"


@pytest.mark.parametrize("table", ["entries", "numbers", "ports"])
def test_no_package_alters_an_entry_of_the_shop(filled: Engine, table: str) -> None:
    save(filled, a_pump)
    own = CatalogRepository(filled).rows_of(["OWN-0001"])
    import_catalog(filled, own, who="Ana", why="our own package, unaltered: goes in and changes nothing")
    changed = {
        "entries": replace(own.entries[0], name="Theirs"),
        "numbers": replace(own.numbers[0], role="old"),
        "ports": replace(own.ports[0], thread="G 1/2"),
    }
    with pytest.raises(DoubledKeyError, match="it is of an entry that the shop made itself"):
        import_catalog(filled, CatalogRows(**{table: (changed[table],)}), who="Ana", why="theirs")  # type: ignore[arg-type]  # by name
    assert CatalogRepository(filled).rows_of(["OWN-0001"]) == own


def test_a_row_is_changed_and_withdrawn_from_what_was_seen(filled: Engine) -> None:
    repository = CatalogRepository(filled)
    entry = repository.entry("P001")
    port = repository.ports_of(["P001"])["P001"][0]
    assert entry is not None
    better = replace(entry, note="with a dent")
    saved = save(filled, edits(RowEdit("entries", entry, better), RowEdit("ports", port, None)))
    assert saved.edits == (RowEdit("entries", entry, better), RowEdit("ports", port, None))
    assert repository.entry("P001") == better
    assert repository.ports_of(["P001"]) == {"P001": ()}
    again = save(filled, edits(RowEdit("ports", None, replace(port, thread="G 1/2"))), "s2")  # over the withdrawn one
    assert again.edits == (RowEdit("ports", port, replace(port, thread="G 1/2")),)
    assert repository.ports_of(["P001"])["P001"] == (replace(port, thread="G 1/2"),)
    assert check_store(filled).is_whole


def test_what_changes_nothing_writes_nothing(filled: Engine) -> None:
    entry = CatalogRepository(filled).entry("P001")
    assert save(filled, edits(RowEdit("entries", entry, entry))) == Saved(0, (), again=False)
    assert save(filled, edits()) == Saved(0, (), again=False)
    assert len(read_history(filled)) == 1


def changed_entry(engine: Engine) -> RowEdit:
    entry = CatalogRepository(engine).entry("P001")
    assert entry is not None
    edit = RowEdit("entries", entry, replace(entry, note="mine"))
    save(engine, edits(RowEdit("entries", entry, replace(entry, note="theirs"))), "theirs", who="Ben")
    return edit


def test_somebody_elses_change_is_not_overwritten(filled: Engine) -> None:
    edit = changed_entry(filled)
    act = read_history(filled, limit=1)[0]
    add_observation(
        filled, Observation(0, "P001", "bore_depth_mm", "1", 1.0, "", 1.0, "measured"), who="Cem", why="other"
    )
    with pytest.raises(ChangedMeanwhileError) as caught:
        save(filled, lambda numbers: [*a_pump(numbers), edit])
    fault = caught.value
    assert (fault.table, fault.key, fault.who, fault.at) == ("entries", "P001", "Ben", act.at)
    assert fault.theirs == CatalogRepository(filled).entry("P001")
    when = act.at[:16].replace("T", " ")
    assert str(fault) == f"Ben changed entries P001 at {when} UTC; nothing was saved: look at both and save again."
    assert CatalogRepository(filled).entry("OWN-0001") is None  # nor anything else of that save
    assert check_store(filled).is_whole


def test_also_a_withdrawal_and_a_new_row_of_the_same_key_are_somebody_elses_change(filled: Engine) -> None:
    number = CatalogRepository(filled).numbers_of("P001")[0]
    withdraw(filled, "numbers", ("P001", "QX-0001"), who="Ben", why="of another pump")
    with pytest.raises(ChangedMeanwhileError, match=r"^Ben changed numbers P001 QX-0001 at "):
        save(filled, edits(RowEdit("numbers", number, replace(number, role="old"))))
    bring_back(filled, "numbers", ("P001", "QX-0001"), who="Cem", why="no, of this")
    with pytest.raises(ChangedMeanwhileError, match=r"^Cem changed"):
        save(filled, edits(RowEdit("numbers", None, number)))


def test_what_came_with_a_package_has_no_name_in_the_fault(filled: Engine) -> None:
    number = CatalogRepository(filled).numbers_of("P001")[0]
    with pytest.raises(ChangedMeanwhileError) as caught:
        save(filled, edits(RowEdit("numbers", None, replace(number, role="old"))))
    assert str(caught.value).startswith("Somebody else changed numbers P001 QX-0001; nothing was saved")


Faulty = Callable[[Engine, Numbers], RowEdit]
FAULTS: list[tuple[Faulty, type[Exception]]] = [
    (lambda _e, _n: RowEdit("numbers", None, Number("P999", "X", "maker", "plate")), LostReferenceError),
    (lambda _e, _n: RowEdit("numbers", Number("P001", "none", "maker", "plate"), None), RowMissingError),
    (
        lambda _e, _n: RowEdit("entries", None, Entry("OWN-0001", "pump", "Nobody", "twice in one save")),
        DoubledKeyError,
    ),
    (lambda _e, _n: RowEdit("entries", None, None), ValueError),
    (lambda e, _n: RowEdit("entries", CatalogRepository(e).entry("P001"), Entry("P500", "pump", "", "")), ValueError),
    (lambda _e, _n: RowEdit("entries", None, Entry("P501", "pump", "\0", "")), StoreError),
    (lambda _e, _n: RowEdit("shelf", None, ShelfRow("H9", "none", "", "C3", 1)), LostReferenceError),
]


@pytest.mark.parametrize(("faulty", "fault"), FAULTS)
def test_one_edit_that_cannot_be_saved_saves_none(filled: Engine, faulty: Faulty, fault: type[Exception]) -> None:
    before, history = CatalogRepository(filled).everything(), read_history(filled)
    keep_draft(filled, Draft("s1", "pump", "{}", "2026-11-25T10:00:00+00:00"))
    with pytest.raises(fault):
        save(filled, lambda numbers: [*a_pump(numbers), faulty(filled, numbers)])
    assert CatalogRepository(filled).everything() == before
    assert read_history(filled) == history
    assert len(read_drafts(filled)) == 1
    assert not save(filled, a_pump).again  # and the id of the failed save is still free


def test_a_draft_that_became_a_save_is_gone_with_it(filled: Engine) -> None:
    for one in ("s1", "s2"):
        keep_draft(filled, Draft(one, "pump", "{}", "2026-11-25T10:00:00+00:00"))
    save(filled, a_pump)
    assert [one.draft_id for one in read_drafts(filled)] == ["s2"]


def test_a_damaged_row_is_not_built_upon(filled: Engine) -> None:
    entry = CatalogRepository(filled).entry("P001")
    assert entry is not None
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE entries SET note = 'altered' WHERE entry_id = 'P001'")
    with pytest.raises(DamagedStoreError, match="row P001 of entries does not match its check sum"):
        save(filled, edits(RowEdit("entries", entry, replace(entry, name="New"))))


@pytest.mark.parametrize("spoil", ["UPDATE numbers SET role = 'x'", "DELETE FROM numbers"])
def test_a_save_that_reads_back_otherwise_is_not_called_saved(filled: Engine, spoil: str) -> None:
    """A trigger alters what was written, as a fault of the disk or of another program would."""
    with writing(filled) as connection:
        connection.exec_driver_sql(
            f"CREATE TRIGGER spoil AFTER INSERT ON numbers BEGIN {spoil} WHERE role = 'plate'; END"
        )
    with pytest.raises(DamagedStoreError):
        save(filled, a_pump)


def test_the_table_of_saves_cannot_be_made_to_lie_in_silence(filled: Engine) -> None:
    save(filled, a_pump)
    with pytest.raises(ChangeRefusedError), writing(filled) as connection:
        connection.exec_driver_sql("UPDATE saves SET serial = 99")
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE saves SET serial = 1")
    with pytest.raises(DamagedStoreError, match="act 1 was saved and cannot be read back"):
        save(filled, a_pump)


def test_racing_counters_lose_no_change(path: Path, filled: Engine) -> None:
    """Two Engines, four threads, 240 bookings on one bin: each is counted once or is told to look again."""
    other = open_engine(path)
    refused = []

    def book(number: int) -> None:
        engine = other if number % 2 else filled
        while True:
            bin_now = next(one for one in CatalogRepository(engine).shelf() if one.shelf_id == "H1")
            try:
                save(engine, edits(RowEdit("shelf", bin_now, replace(bin_now, count=bin_now.count + 1))), f"b{number}")
            except ChangedMeanwhileError:
                refused.append(number)
                continue
            return

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(book, range(240)))
    other.dispose()
    assert [one.count for one in CatalogRepository(filled).shelf() if one.shelf_id == "H1"] == [4 + 240]
    assert refused  # they did race
    with reading(filled) as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM history WHERE action = 'save'").scalar() == 240
    assert check_store(filled).is_whole


def test_a_version_that_lost_is_kept_with_who_when_and_why(filled: Engine) -> None:
    seen = CatalogRepository(filled).observations_of(["P001"])["P001"][0]
    mine = add_observation(filled, replace(seen, observation_id=0, value=12.0), who="Ana", why="again")
    loser = replace(seen, withdrawn_on="2024-01-02")
    package = Observation(77, "P001", seen.field, "9", 9.0, "", 1.0, "claimed", withdrawn_on="2025-06-02")
    import_catalog(filled, CatalogRows(observations=(package,)), who="Ana", why="more")
    save(filled, edits(RowEdit("observations", seen, loser)), name="Settled")
    act = read_history(filled, limit=1)[0]
    repository = CatalogRepository(filled)
    assert repository.versions_of("P001", seen.field) == (loser, package, mine)
    first, second = repository.withdrawals_of("P001", seen.field)
    assert (first.observation, first.who, first.at, first.why) == (loser, "Ana", act.at, "on the bench")
    assert (second.observation, second.who, second.at, second.why) == (package, "", "2025-06-02", "")
    bring_back(filled, "observations", (seen.observation_id,), who="Ben", why="was right")
    withdraw(filled, "observations", (seen.observation_id,), who="Cem", why="was wrong after all")
    last = repository.withdrawals_of("P001", seen.field)[0]
    assert (last.who, last.why) == ("Cem", "was wrong after all")
    assert repository.versions_of("P001", "pump_length_mm") == ()
