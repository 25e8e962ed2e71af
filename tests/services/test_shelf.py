"""The shelf at the counter: only what is free counts, the job in hand keeps its own, acts reach the desk."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.sample.in_memory import catalog_of
from tests.services.tiny import Quiet, tiny_rows
from xref_app.core.fit.finding import Need
from xref_app.core.fit.from_shelf import pieces_from_shelf
from xref_app.core.model.catalog import DriverRow, Entry, PartRow, ReservationRow, ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.sentence import Sentence
from xref_app.exchange.data_package import read_data_package, write_data_package
from xref_app.services.live_desk import LiveDesk
from xref_app.services.shelf import ShelfInputError, read_job, read_pieces
from xref_app.services.shelf_lines import ShelfLine, filtered, shelf_lines
from xref_app.services.shelf_parts import MOST_OF_ONE_PART, ORDERED_PIECES
from xref_app.store.engine import Store, open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.shelf_acts import Act, Wanted, reserve
from xref_app.store.shelf_errors import NotFreeError

PARTS = (
    PartRow("T-1", "spacer", "Spacer 3.2 mm", thickness_mm=3.2, outside_mm=18.0, cost=0.4),
    PartRow("T-2", "bolt", "Bolt 5/16-18 UNC x 1", length_mm=25.4, thread="5/16-18 UNC", cost=0.3),
    PartRow("T-3", "key", "Key 5/16", width_mm=7.9375, height_mm=7.9375, length_mm=32.0, cost=1.2),
    PartRow("T-4", "shim", "Shim 0.1 mm", thickness_mm=0.1, cost=0.2),
)
BINS = (
    ShelfRow("S-1", "T-1", "", "C3", 4, 0.5, low_at=4),
    ShelfRow("S-2", "T-1", "", "D1", 2, 0.6),
    ShelfRow("S-3", "T-2", "", "B2", 0),
    ShelfRow("S-4", "T-3", "", "A1", 3, low_at=1),
    ShelfRow("S-5", "", "P1", "F1", 1, 150.0),
)
HELD = (
    ReservationRow("R-001", "S-1", 3, "118", "Ana", "2026-11-20"),
    ReservationRow("R-002", "S-1", 1, "117", "Ben", "2026-11-02", "2026-11-03"),
)


def rows() -> CatalogRows:
    tiny = tiny_rows()
    seen = tuple(replace(one, observation_id=number) for number, one in enumerate(tiny.observations, start=1))
    drivers = (DriverRow("D1", "petrol"),)
    return replace(tiny, observations=seen, drivers=drivers, parts=PARTS, shelf=BINS, reservations=HELD)


def part(job: str, part_id: str, held: tuple[ReservationRow, ...] = HELD) -> Part:
    catalog = catalog_of(replace(rows(), reservations=held)).for_job(job)
    return next(one for one in catalog.shelf if one.part_id == part_id)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    engine = open_engine(tmp_path / "shop.sqlite")
    import_catalog(engine, rows(), who="Ana", why="first stock")
    yield engine
    engine.dispose()


@pytest.fixture
def desk(store: Store) -> LiveDesk:
    return LiveDesk(store, "Own catalog")


def line(desk: LiveDesk, shelf_id: str = "S-1") -> ShelfLine:
    return next(one for one in desk.shelf.lines() if one.place.shelf_id == shelf_id)


def test_free_pieces_of_several_bins_add_up() -> None:
    found = part("", "T-1")
    assert (found.count, found.bin, found.cost, found.to_order) == (3, "C3, D1", 0.6, False)
    assert (found.reserved, found.reserved_bin) == (0, "")


def test_what_is_put_by_for_the_job_in_hand_stays_usable_by_it() -> None:
    mine = part("118", "T-1")
    assert (mine.count, mine.bin, mine.reserved, mine.reserved_bin) == (6, "C3, D1", 3, "C3")
    assert part("119", "T-1").count == 3


def test_a_part_that_others_have_wholly_is_to_order() -> None:
    others = (replace(HELD[0], quantity=4), ReservationRow("R-003", "S-2", 2, "120", "Ben"))
    found = part("121", "T-1", others)
    assert (found.to_order, found.bin, found.cost) == (True, "", 0.4)
    assert part("118", "T-1", others).count == 4
    assert part("", "T-2").to_order


def test_a_released_reservation_holds_nothing() -> None:
    assert part("", "T-1", (replace(HELD[0], released_on="2026-11-21"),)).count == 6


def test_more_put_by_than_lies_there_is_never_less_than_nothing() -> None:
    found = part("", "T-1", (replace(HELD[0], quantity=90),))
    assert (found.count, found.bin) == (2, "D1")
    mine = part("118", "T-1", (replace(HELD[0], quantity=90),))
    assert (mine.count, mine.reserved) == (6, 4)


def test_lines_tell_what_lies_where_and_who_has_it() -> None:
    lines = shelf_lines(catalog_of(rows()))
    assert [(one.kind, one.place.bin, one.free, one.reserved) for one in lines] == [
        ("spacer", "C3", 1, 3),
        ("bolt", "B2", 0, 0),
        ("key", "A1", 3, 0),
        ("spacer", "D1", 2, 0),
        ("pump", "F1", 1, 0),
    ]
    assert (lines[0].elsewhere, lines[0].price, lines[0].is_low, lines[0].is_short) == ((("D1", 2),), 0.5, True, False)
    assert (lines[1].price, lines[1].is_low) == (0.3, False)


def test_what_needs_attention_comes_first() -> None:
    more = (ReservationRow("R-003", "S-4", 9, "120", "Ben"),)
    lines = shelf_lines(catalog_of(replace(rows(), reservations=(*HELD, *more))))
    assert [one.place.bin for one in lines] == ["A1", "C3", "B2", "D1", "F1"]
    assert [(one.is_short, one.is_low) for one in lines[:3]] == [(True, False), (False, True), (False, False)]


@pytest.mark.parametrize(
    ("typed", "bins"),
    [
        ("spacer", ["C3", "D1"]),
        ("c3", ["C3"]),
        ("3.2", ["C3", "D1"]),
        ("3,2 mm", ["C3", "D1"]),
        ("18 mm", ["C3", "D1"]),
        ("5/16", ["B2", "A1"]),
        ("key 5/16", ["A1"]),
        ("0.3125 in", ["A1"]),
        ("0.3125 mm", []),
        ("1", ["B2"]),
        ("25.4", ["B2"]),
        ("118", ["C3"]),
        ("1/0", []),
        ("2", []),
        ("", ["C3", "B2", "A1", "D1", "F1"]),
    ],
)
def test_a_line_is_found_by_word_bin_job_or_size(typed: str, bins: list[str]) -> None:
    assert [one.place.bin for one in filtered(shelf_lines(catalog_of(rows())), typed)] == bins


def test_low_only_keeps_the_bins_to_fill_up() -> None:
    assert [one.place.bin for one in filtered(shelf_lines(catalog_of(rows())), "", low_only=True)] == ["C3"]


def test_acts_are_named_and_the_desk_knows_them_at_once(desk: LiveDesk) -> None:
    names = [
        desk.shelf.reserve(line(desk), 1, " 119 ", "Ana"),
        desk.shelf.release(line(desk), ["R-001"], "Ana"),
        desk.shelf.take_out(line(desk), ["OWN-R0001"], "Ana"),
        desk.shelf.take_free(line(desk), 1, "Ana"),
        desk.shelf.put_in(line(desk), 5, "Ana"),
        desk.shelf.count_again(line(desk), 6, "Ana"),
        desk.shelf.set_low_mark(line(desk), 2, "Ana"),
        desk.shelf.set_low_mark(line(desk), None, "Ana"),
    ]
    assert names == [
        "reserve 1 x Spacer 3.2 mm for job 119",
        "release 3 x Spacer 3.2 mm for job 118",
        "take out 1 x Spacer 3.2 mm for job 119",
        "take out 1 x Spacer 3.2 mm",
        "put 5 x Spacer 3.2 mm into bin C3",
        "count 6 x Spacer 3.2 mm, bin C3",
        "low mark at 2 for Spacer 3.2 mm, bin C3",
        "take the low mark off Spacer 3.2 mm, bin C3",
    ]
    assert desk.catalog.bins[0].count == 6
    for name in reversed(names):
        assert desk.undo_names().undo == name
        assert desk.undo("Ben") == name
    assert (desk.catalog.bins, desk.catalog.reservations[-2:]) == (BINS, HELD)
    assert desk.redo("Ben") == names[0]
    assert desk.catalog.stock.held("119", ["S-1"]) == 1
    assert desk.shelf.last_job() == "119"


def test_what_another_program_put_by_is_seen(desk: LiveDesk, store: Store) -> None:
    reserve(store, [Wanted(1, "T-1")], Act("x", "Ben", "x"), job="130")
    assert [one.job for one in line(desk).held] == ["118", "130"]
    with pytest.raises(NotFreeError, match="3 are reserved for job 118 by Ana and 1 for job 130 by Ben"):
        desk.shelf.reserve(line(desk), 1, "119", "Ana")


def needs(desk: LiveDesk, *wanted: tuple[str, int]) -> list[Need]:
    listed = {one.part_id: one for one in reversed(desk.catalog.shelf)}  # of two rows the one in a bin
    return [Need(Sentence(f"{part_id}"), pieces, listed.get(part_id)) for part_id, pieces in wanted]


def test_the_needs_on_the_shelf_are_put_by_in_one_act_and_the_rest_is_told(desk: LiveDesk) -> None:
    wanted = needs(desk, ("T-1", 2), ("T-3", 1), ("T-4", 2), ("standard bolt", 4))
    done = desk.shelf.reserve_needs(wanted, "119", "Ana")
    assert done.name == "reserve 2 x Spacer 3.2 mm and 1 more for job 119"
    assert done.put_by == ((2, "Spacer 3.2 mm"), (1, "Key 5/16"))
    assert done.to_order == ((2, "Shim 0.1 mm"), (4, "standard bolt"))
    again = desk.shelf.reserve_needs(wanted, "119", "Ana")
    assert (again.name, again.put_by) == ("", done.put_by)
    assert desk.catalog.stock.held("119", ["S-1", "S-2", "S-4"]) == 3
    assert desk.undo("Ana") == done.name
    assert desk.catalog.stock.held("119", ["S-1", "S-2", "S-4"]) == 0


def test_all_needs_or_none(desk: LiveDesk, store: Store) -> None:
    seen = needs(desk, ("T-3", 1), ("T-1", 3))
    reserve(store, [Wanted(1, "T-1")], Act("x", "Ben", "x"), job="130")
    with pytest.raises(NotFreeError):
        desk.shelf.reserve_needs(seen, "119", "Ana")
    assert [one.job for one in CatalogRepository(store).reservations() if not one.released_on] == ["130", "118"]


def more_of(desk: LiveDesk, part_id: str) -> Part:
    return next(one for one in desk.catalog.shelf if one.part_id == part_id and one.to_order)


def test_a_part_with_few_pieces_free_can_be_ordered_too(desk: LiveDesk) -> None:
    more = more_of(desk, "T-1")
    assert (more.count, more.lying, more.bin) == (ORDERED_PIECES, 3, "C3, D1")
    rows_of = Counter(one.part_id for one in desk.catalog.shelf)
    assert rows_of == {"T-1": 2, "T-2": 1, "T-3": 1, "T-4": 1}  # of a key a job needs one: it is there or it is not
    desk.shelf.put_in(line(desk), MOST_OF_ONE_PART[PartKind.SPACER] - 3, "Ana")
    assert Counter(one.part_id for one in desk.catalog.shelf)["T-1"] == 1


def test_what_lies_there_of_a_part_to_order_is_put_by_and_the_rest_is_told(desk: LiveDesk) -> None:
    wanted = [Need(Sentence("Spacer"), 8, more_of(desk, "T-1"))]
    done = desk.shelf.reserve_needs(wanted, "119", "Ana")
    assert (done.put_by, done.to_order) == (((3, "Spacer 3.2 mm"),), ((5, "Spacer 3.2 mm"),))
    assert desk.catalog.for_job("119").stock.held("119", ["S-1", "S-2"]) == 3


def test_no_piece_serves_two_needs(desk: LiveDesk) -> None:
    there, more = needs(desk, ("T-1", 2))[0], Need(Sentence("under a leg"), 4, more_of(desk, "T-1"))
    assert pieces_from_shelf((more, there)) == (1, 2)
    assert pieces_from_shelf((replace(more, quantity=2), there, Need(Sentence("to make"), 2))) == (1, 2, 0)
    assert pieces_from_shelf(()) == ()


def test_the_job_in_hand_is_judged_with_its_own_pieces(desk: LiveDesk) -> None:
    job = desk.open_job(None, "M1", Quiet())
    assert desk.pick_build(replace(job, reference="118"), "M1", Quiet()).reference == "118"
    assert desk.judge_all(replace(job, reference="118"), Quiet()).rows


@pytest.mark.parametrize(
    ("job", "sentence"),
    [("  ", "Say which job it is for: a number or a name."), ("j" * 61, "longer than 60 characters; shorten it")],
)
def test_a_job_that_cannot_be_kept_is_told(job: str, sentence: str) -> None:
    with pytest.raises(ShelfInputError, match=sentence):
        read_job(job)


@pytest.mark.parametrize(
    ("label", "sentence"),
    [
        (" ", "Say which bin: the label that stands on it."),
        ("b" * 21, "longer than 20 characters; shorten it"),
        (" C3 ", "It lies in bin C3 already; type another bin."),
    ],
)
def test_a_bin_that_cannot_be_kept_is_told(desk: LiveDesk, label: str, sentence: str) -> None:
    with pytest.raises(ShelfInputError, match=sentence):
        desk.shelf.move(line(desk), label, "Ana")


def test_what_was_moved_is_found_in_its_new_bin(desk: LiveDesk) -> None:
    assert desk.shelf.move(line(desk), "E 2", "Ana") == "move Spacer 3.2 mm from bin C3 to bin E 2"
    assert [one.bin for one in desk.catalog.shelf if one.part_id == "T-1"] == ["D1, E 2"] * 2


@pytest.mark.parametrize("typed", ["", "x", "-1", "1.5", "1234567", "٣"])
def test_only_whole_numbers_are_pieces(typed: str) -> None:
    with pytest.raises(ShelfInputError, match="is not a number of pieces; type a whole number such as 4"):
        read_pieces(typed)


def test_nobody_changes_the_shelf_without_a_name(desk: LiveDesk) -> None:
    with pytest.raises(ShelfInputError, match="Say who you are first"):
        desk.shelf.put_in(line(desk), 1, " ")


def test_a_package_carries_marks_and_reservations_and_an_older_one_still_comes_in(tmp_path: Path) -> None:
    folder = tmp_path / "package"
    bins = (*BINS[:-1], replace(BINS[-1], entry_id="PUMP-1"))
    given = CatalogRows(entries=(Entry("PUMP-1", "pump", "Lowmarsh", "x"),), parts=PARTS, shelf=bins, reservations=HELD)
    write_data_package(given, folder)
    assert read_data_package(folder) == given
    (folder / "reservations.csv").unlink()
    descriptor = json.loads((folder / "datapackage.json").read_text("utf-8"))
    descriptor["resources"] = [one for one in descriptor["resources"] if one["name"] != "reservations"]
    (folder / "datapackage.json").write_text(json.dumps(descriptor), "utf-8")
    lines = (folder / "shelf.csv").read_text("utf-8").splitlines()
    (folder / "shelf.csv").write_text("\n".join(one.rpartition(",")[0] for one in lines) + "\n", "utf-8")
    older = read_data_package(folder)
    assert older == replace(given, reservations=(), shelf=tuple(replace(one, low_at=None) for one in bins))
