"""A supplier's list is taken as one act: nothing before it, all of it at once, nothing the second time, one undo."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from hashlib import sha256
from pathlib import Path

import pytest

from tests.services.supplier_lists import HEADINGS, LIST, SUPPLIER, desk_in, said_of
from tests.services.tiny import Cancelled
from xref_app.core.progress import NO_PROGRESS, WorkCancelledError
from xref_app.services.live_desk import LiveDesk
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_import import SupplierInputError, read_supplier
from xref_app.services.supplier_preview import Preview
from xref_app.services.supplier_rows import RowState
from xref_app.store.repository import CatalogRepository

KNOWN_PUMP = "P-001"


@pytest.fixture(params=[MOST_IN_MEMORY, 0], ids=["in memory", "entry by entry"])
def desk(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[LiveDesk]:
    made = desk_in(tmp_path, request.param)
    yield made
    made.close()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "liste 2026.csv"


def everything(desk: LiveDesk) -> list[object]:
    """Return every row that counts: what was undone stays in the store, withdrawn."""
    rows = CatalogRepository(desk._store).everything()
    tables = [getattr(rows, one.name) for one in fields(rows)]
    return [one for table in tables for one in table if not getattr(one, "withdrawn_on", "")]


def states(preview: Preview) -> list[str]:
    return [one.state.value for one in preview.rows]


def numbers_found(desk: LiveDesk, text: str) -> list[str]:
    return [one.number for one in desk.find(text, NO_PROGRESS).hits if one.number == text]


def test_rows_are_sorted_with_a_reason_for_each_cell(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path)
    assert states(preview) == ["good", "needs a look", "refused", "good"]
    (looked_at,), (refused,) = preview.rows[1].cells, preview.rows[2].cells
    assert str(looked_at.reason) == 'Bore diameter “19,05"”: an inch mark and a decimal comma. Which is meant?'
    assert looked_at.choices == ("19.05 in", "19.05 mm")
    assert (looked_at.text, refused.text) == ('19,05"', "27000")
    assert str(refused.reason).startswith("Rated pressure “27000 psi” lies outside 20 to 700 bar")


def test_nothing_of_the_store_changes_before_the_take(desk: LiveDesk, path: Path, tmp_path: Path) -> None:
    desk.find("A", NO_PROGRESS)
    before = {one.name: sha256(one.read_bytes()).digest() for one in tmp_path.iterdir() if one.name.startswith("shop")}
    preview, said = said_of(desk, path)
    desk.suppliers.preview(preview.file, said, NO_PROGRESS)
    desk.suppliers.save_refused(preview, tmp_path / "refused.csv")
    after = {one.name: sha256(one.read_bytes()).digest() for one in tmp_path.iterdir() if one.name.startswith("shop")}
    assert before == after


def test_what_is_taken_is_found_at_once_and_known_as_it_was_said(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path)
    taken = desk.suppliers.take(preview, "Ana")
    assert (taken.rows, taken.new_entries) == (2, 3)  # ZQ-0, which ZQ-1 replaces, is known by its number only
    assert numbers_found(desk, "ZQ-1") == ["ZQ-1"]
    assert not numbers_found(desk, "ZQ-2")
    hit = desk.find("ZQ-1", NO_PROGRESS).hits[0]
    assert hit.entry_id.startswith("OWN-")
    rows = {one.field: one for one in desk.catalog.observations[hit.entry_id]}
    assert {field: (one.as_typed, one.value, one.how) for field, one in rows.items()} == {
        "bore_diameter_mm": ("19,05 mm", 19.05, "claimed"),
        "rating_pressure_bar": ("2.700 psi", pytest.approx(2700 * 0.06894757293168361), "claimed"),
        "rating_flow_lpm": ("10,5 lpm", 10.5, "claimed"),
    }
    assert {one.source for one in rows.values()} == {f"{SUPPLIER}, {path.name}, row 2"}
    assert {one.seen_by for one in rows.values()} == {"Ana"}


def test_a_makers_own_list_counts_as_a_sheet(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path, how="sheet")
    desk.suppliers.take(preview, "Ana")
    entry_id = desk.find("ZQ-1", NO_PROGRESS).hits[0].entry_id
    assert {one.how for one in desk.catalog.observations[entry_id]} == {"sheet"}
    assert [(one.role, one.how) for one in desk.catalog.numbers[entry_id]] == [("maker", "sheet")]


def test_holes_worked_out_of_a_bolt_circle_are_a_claim_also_in_a_makers_list(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path, "No.;Bolt circle mm;No. of holes;psi\nZQ-1;100,0;4;2700\n", how="sheet")
    (entry_id,) = desk.suppliers.take(preview, "Ana").touched
    rows = {one.field: one for one in desk.catalog.observations[entry_id]}
    assert {field: one.how for field, one in rows.items()} == {
        "flange_holes_xy_mm": "claimed",
        "rating_pressure_bar": "sheet",
    }
    assert (rows["flange_holes_xy_mm"].text, rows["flange_holes_xy_mm"].doubt) == ("50 0; 0 50; -50 0; 0 -50", 0.1)
    assert rows["flange_holes_xy_mm"].as_typed == "bolt circle 100,0 mm, 4 holes"


def test_replacements_are_claims_and_lead_from_the_old_number_to_the_new(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path)
    desk.suppliers.take(preview, "Ana")
    hits = {one.number: one for one in desk.find("ZQ-0", NO_PROGRESS).hits}
    assert hits["ZQ-4"].route == ("ZQ-0", "ZQ-1", "ZQ-4")
    assert not desk.catalog.observations.get(hits["ZQ-0"].entry_id)


def test_the_same_file_again_adds_nothing(desk: LiveDesk, path: Path) -> None:
    preview, said = said_of(desk, path)
    desk.suppliers.take(preview, "Ana")
    before = everything(desk)
    again = desk.suppliers.preview(preview.file, said, NO_PROGRESS)
    assert states(again) == ["entered already", "needs a look", "refused", "entered already"]
    taken = desk.suppliers.take(again, "Ana")
    assert (taken.name, taken.rows) == ("", 0)
    assert everything(desk) == before


def test_rows_that_were_accepted_add_nothing_the_second_time(desk: LiveDesk, path: Path) -> None:
    number = desk.catalog.number_of(KNOWN_PUMP)
    maker = desk.catalog.entries[KNOWN_PUMP].maker
    text = f"{HEADINGS}{number};{maker};55;2.700;10,5;\n{number};Somebody else;19,05;;;\n"
    assert not said_of(desk, path, text)[0].to_take
    preview, _ = said_of(desk, path, text, accepted=frozenset({1, 2}))
    assert states(preview) == ["needs a look", "needs a look"]
    assert desk.suppliers.take(preview, "Ana").new_entries == 1
    again, _ = said_of(desk, path, text, accepted=frozenset({1, 2}))
    assert states(again) == ["entered already", "entered already"]
    assert not again.to_take


def test_sizes_that_differ_from_what_is_entered_are_looked_at_first(desk: LiveDesk, path: Path) -> None:
    number = desk.catalog.number_of(KNOWN_PUMP)
    preview, _ = said_of(desk, path, f"{HEADINGS}{number};;55;;;\n")
    (row,) = preview.rows
    assert (row.state, row.entry_id) == (RowState.LOOK, KNOWN_PUMP)
    assert str(row.reasons[0]) == f"{number} is already entry {KNOWN_PUMP}, Bore diameter differs."
    assert not preview.to_take


def test_several_sizes_that_differ_are_counted_and_named(desk: LiveDesk, path: Path) -> None:
    number = desk.catalog.number_of(KNOWN_PUMP)
    preview, _ = said_of(desk, path, f"{HEADINGS}{number};;55;9900;;\n")
    expected = f"{number} is already entry {KNOWN_PUMP}, 2 sizes differ: Bore diameter, Rated pressure."
    assert str(preview.rows[0].reasons[0]) == expected


def test_what_was_there_stands_beside_what_a_supplier_says(desk: LiveDesk, path: Path) -> None:
    number = desk.catalog.number_of(KNOWN_PUMP)
    before = set(desk.catalog.observations[KNOWN_PUMP])
    preview, _ = said_of(desk, path, f"{HEADINGS}{number};;55;;;\n", accepted=frozenset({1}))
    desk.suppliers.take(preview, "Ana")
    after = set(desk.catalog.observations[KNOWN_PUMP])
    assert before < after
    assert [one.value for one in after - before] == [55.0]


def test_a_number_in_two_rows_is_one_entry_with_both_sayings(desk: LiveDesk, path: Path) -> None:
    text = f"{HEADINGS}ZQ-1;Invented;19,05;;;\nzq 1;Invented;25,4;;;\n"
    preview, said = said_of(desk, path, text, accepted=frozenset({2}))
    assert states(preview) == ["good", "needs a look"]
    taken = desk.suppliers.take(preview, "Ana")
    assert (taken.rows, taken.new_entries) == (2, 1)
    assert {one.value for one in desk.catalog.observations[taken.touched[0]]} == {19.05, 25.4}
    assert len(desk.catalog.known(taken.touched[0])["bore_diameter_mm"]) == 2
    again = desk.suppliers.preview(preview.file, said, NO_PROGRESS)
    assert states(again) == ["entered already", "entered already"]


def test_a_number_parted_otherwise_between_its_figures_is_looked_at_first(desk: LiveDesk, path: Path) -> None:
    first, _ = said_of(desk, path, f"{HEADINGS}ZQ-1.25;Invented;19,05;;;\n")
    desk.suppliers.take(first, "Ana")
    text = f"{HEADINGS}ZQ 125;Invented;;2.700;;\nzq 1/25;Invented;19,05;;;\n"
    preview, _ = said_of(desk, path, text)
    assert states(preview)[0] == "needs a look"
    assert str(preview.rows[0].reasons[-1]).startswith("ZQ 125 is written ZQ-1.25 in entry OWN-")
    assert not any("is written" in str(one) for one in preview.rows[1].reasons)
    accepted, _ = said_of(desk, path, text, accepted=frozenset({1}))
    assert desk.suppliers.take(accepted, "Ana").new_entries == 0
    assert states(said_of(desk, path, text)[0])[0] == "entered already"


def test_a_number_of_something_else_is_refused(desk: LiveDesk, path: Path) -> None:
    number = desk.catalog.number_of(KNOWN_PUMP)
    text = f"Engine;Shaft in;rpm\n{number};1;3600\n"
    preview, said = said_of(desk, path, text)
    engines = desk.suppliers.guess_sheet(preview.file, 0, supplier=SUPPLIER, kind=SheetKind.ENGINES)
    preview = desk.suppliers.preview(preview.file, replace(engines, supplier=said.supplier), NO_PROGRESS)
    assert states(preview) == ["refused"]
    assert "which is no driver" in str(preview.rows[0].reasons[0])


def test_engines_are_entered_with_what_drives_them(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path, "Engine;Shaft in;Power hp\nZE-1;1;13\n")
    engines = desk.suppliers.guess_sheet(preview.file, 0, supplier=SUPPLIER, kind=SheetKind.ENGINES)
    taken = desk.suppliers.take(desk.suppliers.preview(preview.file, engines, NO_PROGRESS), "Ana")
    (entry_id,) = taken.touched
    assert desk.catalog.drivers[entry_id].power_kind == "petrol"
    assert {one.field: one.value for one in desk.catalog.observations[entry_id]} == {
        "shaft_diameter_mm": 25.4,
        "power_kw": pytest.approx(13 * 0.745699872),
    }


def test_one_undo_takes_the_whole_list_back_and_redo_brings_it(desk: LiveDesk, path: Path) -> None:
    before, chains = everything(desk), desk.catalog.replaced_by
    preview, _ = said_of(desk, path)
    name = desk.suppliers.take(preview, "Ana").name
    after = everything(desk)
    assert desk.undo_names().undo == name == f"2 rows of {SUPPLIER}, {path.name}"
    assert desk.undo("Ana") == name
    assert everything(desk) == before
    assert desk.catalog.replaced_by == chains
    assert not numbers_found(desk, "ZQ-1")
    desk.redo("Ana")
    assert everything(desk) == after
    assert numbers_found(desk, "ZQ-1") == ["ZQ-1"]


def test_an_answer_makes_a_row_good(desk: LiveDesk, path: Path) -> None:
    preview, said = said_of(desk, path)
    answered = replace(said, answers={(2, 2): "19.05 mm", (3, 3): ""})
    assert states(desk.suppliers.preview(preview.file, answered, NO_PROGRESS)) == ["good"] * 4
    wrong = replace(said, answers={(2, 2): "19.05 in"})
    assert states(desk.suppliers.preview(preview.file, wrong, NO_PROGRESS))[1] == "needs a look"


def test_a_row_with_an_open_cell_is_not_taken_although_accepted(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path, accepted=frozenset({1, 2, 3, 4}))
    assert [one.number for one in preview.to_take] == ["ZQ-1", "ZQ-4"]


def test_columns_said_once_are_proposed_for_the_same_headings_only(desk: LiveDesk, path: Path) -> None:
    preview, said = said_of(desk, path, LIST.replace("Bore mm", "X"))
    assert states(preview) == ["good", "good", "refused", "good"]
    said = replace(said, columns=said.columns.with_column(2, target="bore_diameter_mm", unit="mm"))
    desk.suppliers.take(desk.suppliers.preview(preview.file, said, NO_PROGRESS), "Ana")
    assert desk.suppliers.suppliers() == (SUPPLIER,)
    assert desk.suppliers.guess(preview.file, supplier=SUPPLIER.upper()).columns == said.columns
    assert desk.suppliers.guess(preview.file, supplier="Another").columns != said.columns
    other, _ = said_of(desk, path, LIST.replace("Bore mm", "Y"))
    assert desk.suppliers.guess(other.file, supplier=SUPPLIER).columns.columns[2].target == ""


@pytest.mark.parametrize(
    "content", ["", "{", "[]", '{"format": 9}', '{"format": 1, "lists": [7, {"supplier": 1}]}', "[" * 99_999]
)
def test_a_damaged_memory_only_forgets(desk: LiveDesk, path: Path, tmp_path: Path, content: str) -> None:
    (tmp_path / "shop.sqlite.suppliers.json").write_text(content)
    preview, _ = said_of(desk, path)
    assert desk.suppliers.guess(preview.file, supplier=SUPPLIER).columns == preview.said.columns


def test_what_is_remembered_and_no_field_any_more_is_not_proposed(desk: LiveDesk, path: Path, tmp_path: Path) -> None:
    preview, _ = said_of(desk, path)
    desk.suppliers.take(preview, "Ana")
    memory = tmp_path / "shop.sqlite.suppliers.json"
    memory.write_text(memory.read_text().replace("bore_diameter_mm", "no_such_field"))
    assert desk.suppliers.guess(preview.file, supplier=SUPPLIER).columns == preview.said.columns


def test_who_and_whose_must_be_said(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path)
    with pytest.raises(SupplierInputError, match="Say who you are first"):
        desk.suppliers.take(preview, "  ")
    preview, _ = said_of(desk, path, supplier=" , ")
    with pytest.raises(SupplierInputError, match="Say whose list it is"):
        desk.suppliers.take(preview, "Ana")
    with pytest.raises(SupplierInputError, match="longer than 60 characters"):
        read_supplier("x" * 61)


def test_a_number_entered_meanwhile_stops_the_take(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path)
    desk.suppliers.take(preview, "Ana")
    before = everything(desk)
    with pytest.raises(SupplierInputError, match="entered meanwhile"):
        desk.suppliers.take(preview, "Ana")
    assert everything(desk) == before


def test_looking_stops_when_nobody_waits(desk: LiveDesk, path: Path) -> None:
    preview, said = said_of(desk, path)
    with pytest.raises(WorkCancelledError):
        desk.suppliers.preview(preview.file, said, Cancelled())


def test_refused_rows_leave_as_a_file_that_holds_no_formula(desk: LiveDesk, path: Path, tmp_path: Path) -> None:
    preview, _ = said_of(desk, path, HEADINGS + '=1+1;@x;19,05;27000;-5;"\t+1"\n＝2;-;19,05;27000;1;\n')
    assert desk.suppliers.save_refused(preview, tmp_path / "refused.csv") == 2
    written = (tmp_path / "refused.csv").read_text("utf-8-sig").splitlines()
    assert written[0].startswith('"Row","State","Why","No.","Maker"')
    assert written[1].startswith('"2","refused","')
    assert written[1].endswith('"\'=1+1","\'@x","19,05","27000","\'-5","\'+1"')
    assert written[2].endswith('"\'＝2","\'-","19,05","27000","1"')
