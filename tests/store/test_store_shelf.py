"""The shelf's acts: never more put by than lies there, each undone by name, the record whole after it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import count

import pytest
from sqlalchemy import Engine

from xref_app.core.model.catalog import ReservationRow, ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.model.stock import Stock, is_low, same_job, spelled_job
from xref_app.store.connect import reading, writing
from xref_app.store.edits import next_undo, redo, undo
from xref_app.store.errors import DamagedStoreError, StoreError
from xref_app.store.health import check_store
from xref_app.store.history import Change, HistoryRow, read_history
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.row_changes import changes_of, today
from xref_app.store.row_hash import text_hash, to_values
from xref_app.store.shelf_acts import (
    Act,
    Wanted,
    count_again,
    move,
    put_in,
    read_stock,
    release,
    reserve,
    set_low_mark,
    take_free,
    take_out,
)
from xref_app.store.shelf_errors import FewerThereError, NotFreeError, NotReservedError, SamePartThereError
from xref_app.store.tables import SHELF

# The small catalog has four spacers S32 at H1 (bin C3), one of them put by for job 117, and a pump P002 at H2.
NUMBER = count(1)


def act(name: str = "act", who: str = "Ana") -> Act:
    return Act(name, who, f"{name} {next(NUMBER)}")


def stock(engine: Engine) -> Stock:
    with reading(engine) as connection:
        return read_stock(connection)


def place(engine: Engine, shelf_id: str = "H1") -> ShelfRow:
    found = stock(engine).place(shelf_id)
    assert found is not None
    return found


@pytest.fixture
def two_bins(filled: Engine) -> Engine:
    """The small catalog with six more spacers in bin D1."""
    import_catalog(filled, CatalogRows(shelf=(ShelfRow("H3", "S32", "", "D1", 6),)), who="Ana", why="more")
    return filled


def test_what_is_put_by_is_no_longer_free(filled: Engine) -> None:
    reserve(filled, [Wanted(2, "S32")], act(), job="118")
    assert stock(filled).free(place(filled)) == 1
    assert stock(filled).free(place(filled), job=" 118") == 3
    made = stock(filled).open_at("H1")[-1]
    assert made == ReservationRow("OWN-R0001", "H1", 2, "118", "Ana", today())
    assert check_store(filled).is_whole


def test_the_loser_is_told_in_one_sentence_who_has_them(filled: Engine) -> None:
    release(filled, ["R-001"], act())
    reserve(filled, [Wanted(4, "S32")], act(), job="118")
    before = len(read_history(filled))
    with pytest.raises(NotFreeError) as caught:
        reserve(filled, [Wanted(4, shelf_id="H1")], act(who="Ben"), job="120")
    assert str(caught.value) == "Bin C3 has 0 free and 4 are wanted; 4 are reserved for job 118 by Ana."
    assert len(read_history(filled)) == before


def test_several_holders_and_bins_are_named(two_bins: Engine) -> None:
    reserve(two_bins, [Wanted(5, "S32")], act(who="Ben"), job="118")
    with pytest.raises(NotFreeError) as caught:
        reserve(two_bins, [Wanted(5, "S32")], act(), job="119")
    assert str(caught.value) == (
        "Bins C3 and D1 have 4 free and 5 are wanted; 1 is reserved for job 117 by José and 5 for job 118 by Ben."
    )


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        (Wanted(9, shelf_id="H2"), "Bin A1 has 1 free and 9 are wanted; nothing was changed: order the rest, or"),
        (Wanted(1, "X9", what="Shim 0.1 mm"), "Shim 0.1 mm lies in no bin: 0 free and 1 is wanted; nothing was"),
        (Wanted(1, shelf_id="H9"), "The shelf has no place H9; nothing was changed: look at the shelf again."),
        (Wanted(0, "S32"), "0 is not a number of pieces from 1 to 100000; type it again."),
    ],
)
def test_what_cannot_be_put_by_is_told(filled: Engine, line: Wanted, sentence: str) -> None:
    with pytest.raises(StoreError) as caught:
        reserve(filled, [line], act(), job="119")
    assert str(caught.value).startswith(sentence)


def test_a_list_is_put_by_whole_or_not_at_all(filled: Engine) -> None:
    before = CatalogRepository(filled).everything()
    with pytest.raises(NotFreeError):
        reserve(filled, [Wanted(1, shelf_id="H2"), Wanted(2, "S32"), Wanted(2, "S32")], act(), job="118")
    assert CatalogRepository(filled).everything() == before
    reserve(filled, [Wanted(1, shelf_id="H2"), Wanted(2, "S32"), Wanted(1, "S32")], act(), job="118")
    assert [(one.shelf_id, one.quantity) for one in stock(filled).open_at("H1", "H2") if one.job == "118"] == [
        ("H2", 1),
        ("H1", 3),
    ]


def test_one_bin_is_taken_where_one_has_enough_and_else_the_fullest_first(two_bins: Engine) -> None:
    for pieces, job in ((3, "a"), (2, "b")):
        reserve(two_bins, [Wanted(pieces, "S32")], act(), job=job)
    made = {(one.job, one.shelf_id, one.quantity) for one in stock(two_bins).reservations}
    assert made == {("job 117", "H1", 1), ("a", "H1", 3), ("b", "H3", 2)}
    for _ in range(2):
        undo(two_bins, who="Ana")
    reserve(two_bins, [Wanted(8, "S32")], act(), job="c")
    made = {(one.job, one.shelf_id, one.quantity) for one in stock(two_bins).reservations}
    assert made == {("job 117", "H1", 1), ("c", "H3", 6), ("c", "H1", 2)}


def test_filling_up_puts_by_only_what_the_job_lacks(filled: Engine) -> None:
    reserve(filled, [Wanted(1, "S32")], act(), job="118")
    reserve(filled, [Wanted(3, "S32")], act(), job="Job 118".removeprefix("Job "), filling_up=True)
    assert stock(filled).held("118", ["H1"]) == 3
    again = reserve(filled, [Wanted(3, "S32")], act(), job="118", filling_up=True)
    assert again.serial == 0
    with pytest.raises(NotFreeError, match="0 free and 1 is wanted; 1 is reserved for job 117 by José"):
        reserve(filled, [Wanted(4, "S32")], act(), job="118", filling_up=True)


def test_a_count_that_falls_and_rises_and_is_dated(filled: Engine) -> None:
    put_in(filled, "H1", 5, act())
    assert place(filled).count == 9
    take_free(filled, "H1", 8, act())
    assert place(filled).count == 1
    with pytest.raises(NotFreeError, match="Bin C3 has 0 free and 1 is wanted; 1 is reserved for job 117 by José"):
        take_free(filled, "H1", 1, act())
    assert place(filled).counted_on == ""
    count_again(filled, "H1", 0, act())
    assert (place(filled).count, place(filled).counted_on) == (0, today())
    assert stock(filled).free(place(filled)) == 0
    with pytest.raises(FewerThereError, match="Bin C3 holds 0 and 1 is to be taken out; nothing was changed"):
        take_out(filled, ["R-001"], act())


def test_taking_out_ends_the_reservation(filled: Engine) -> None:
    take_out(filled, ["R-001"], act())
    assert place(filled).count == 3
    assert stock(filled).open_at("H1") == ()
    assert stock(filled).free(place(filled)) == 3
    for again in (take_out, release):
        with pytest.raises(NotReservedError, match="R-001 is no longer open"):
            again(filled, ["R-001"], act())


def test_what_is_put_by_goes_along_into_another_bin(two_bins: Engine) -> None:
    move(two_bins, "H1", "E2", act())
    assert (place(two_bins).bin, place(two_bins).count) == ("E2", 4)
    assert [one.job for one in stock(two_bins).open_at("H1")] == ["job 117"]
    with pytest.raises(SamePartThereError, match="Bin D1 holds 6 of the same part already; nothing was changed"):
        move(two_bins, "H1", "d1", act())
    move(two_bins, "H2", "D1", act())  # another thing may lie in the same bin
    assert place(two_bins, "H2").bin == "D1"


def test_the_low_mark_is_set_and_taken_away(filled: Engine) -> None:
    set_low_mark(filled, "H1", 4, act())
    assert is_low(place(filled))
    set_low_mark(filled, "H1", 3, act())
    assert not is_low(place(filled))
    set_low_mark(filled, "H1", None, act())
    assert place(filled).low_at is None
    assert check_store(filled).is_whole


ACTS: dict[str, Callable[[Engine, Act], object]] = {
    "reserve 2 x Spacer 3.2 mm for job 118": lambda engine, made: reserve(engine, [Wanted(2, "S32")], made, job="118"),
    "release 1 x Spacer 3.2 mm for job 117": lambda engine, made: release(engine, ["R-001"], made),
    "take out 1 x Spacer 3.2 mm for job 117": lambda engine, made: take_out(engine, ["R-001"], made),
    "take out 2 x Spacer 3.2 mm": lambda engine, made: take_free(engine, "H1", 2, made),
    "put 2 x Spacer 3.2 mm into bin C3": lambda engine, made: put_in(engine, "H1", 2, made),
    "count 7 x Spacer 3.2 mm, bin C3": lambda engine, made: count_again(engine, "H1", 7, made),
    "move Spacer 3.2 mm from bin C3 to bin E2": lambda engine, made: move(engine, "H1", "E2", made),
    "low mark at 2 for Spacer 3.2 mm, bin C3": lambda engine, made: set_low_mark(engine, "H1", 2, made),
}


@pytest.mark.parametrize("name", ACTS)
def test_every_act_is_undone_and_done_again_by_name(filled: Engine, name: str) -> None:
    repository = CatalogRepository(filled)
    before = (repository.shelf(), repository.reservations())
    ACTS[name](filled, act(name))
    after = (repository.shelf(), repository.reservations())
    assert after != before
    step = next_undo(filled)
    assert step is not None
    assert step.name == name
    undo(filled, who="Ben")
    assert (repository.shelf(), repository.reservations()) == before
    redo(filled, who="Ben")
    assert (repository.shelf(), repository.reservations()) == after
    assert check_store(filled).is_whole


def test_the_same_act_sent_twice_is_done_once(filled: Engine) -> None:
    made = act("put in")
    put_in(filled, "H1", 1, made)
    put_in(filled, "H1", 1, made)
    assert place(filled).count == 5


def test_nothing_is_promised_over_a_damaged_row(filled: Engine) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE reservations SET quantity = 0 WHERE reservation_id = 'R-001'")
    with pytest.raises(DamagedStoreError, match="row R-001 of reservations does not match its check sum"):
        reserve(filled, [Wanted(1, "S32")], act(), job="118")


def test_an_act_of_before_the_low_mark_came_can_still_be_undone() -> None:
    """Its rows in the history have no such column; the hash of then, spelled out here, must be the hash of now."""
    old: dict[str, object] = {
        "shelf_id": "H1",
        "part_id": "S32",
        "entry_id": "",
        "bin": "C3",
        "count": 4,
        "price": 0.4,
        "counted_on": "",
        "withdrawn_on": "",
    }
    old["row_hash"] = text_hash('["shelf","H1","S32","","C3",4,0.4,"",""]')
    change = Change(who="Ana", action="save", why="", key=("1", "x"), before={"shelf": [old]}, after={"shelf": [old]})
    (found,) = changes_of(HistoryRow(2, "", change))
    assert found.before == found.after == to_values(SHELF, ShelfRow("H1", "S32", "", "C3", 4, 0.4))


def test_an_altered_low_mark_is_noticed(filled: Engine) -> None:
    """An empty mark counts in no hash, so a mark put in or taken out by another way must still break it."""
    for shelf_id, mark in (("H1", "3"), ("H2", "NULL")):
        with writing(filled) as connection:
            connection.exec_driver_sql(f"UPDATE shelf SET low_at = {mark} WHERE shelf_id = '{shelf_id}'")
    assert [one.key for one in check_store(filled).damaged] == [("H1",), ("H2",)]


def test_a_package_never_alters_a_reservation_of_the_shop(filled: Engine) -> None:
    reserve(filled, [Wanted(2, "S32")], act(), job="118")
    mine = stock(filled).open_at("H1")[-1]
    with pytest.raises(StoreError, match="OWN-R0001"):
        import_catalog(filled, CatalogRows(reservations=(replace(mine, quantity=1),)), who="Ben", why="")
    assert import_catalog(filled, CatalogRows(reservations=(mine,)), who="Ben", why="").same == 1


def test_jobs_are_the_same_whatever_their_blanks_and_capitals() -> None:
    assert same_job(" Job  118", "job 118")
    assert same_job("118", "Job 118")  # both are told as job 118, so they must be one job
    assert same_job("118", "JOB  118 ")
    assert not same_job("118", "119")
    assert not same_job("jobs", "s")
    assert (spelled_job("118"), spelled_job("Job 118 ")) == ("job 118", "Job 118")
