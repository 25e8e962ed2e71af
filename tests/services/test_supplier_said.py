"""What is said of a supplier's list, one thing after another, and how the list is sorted out to be looked at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.services.supplier_lists import HEADINGS, LIST, SUPPLIER, desk_in, said_of
from xref_app.core.progress import NO_PROGRESS
from xref_app.services.live_desk import LiveDesk
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.services.supplier_beside import Beside
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_looked import Looked, Standing, choices_for_all, looked
from xref_app.services.supplier_preview import SaidOfFile
from xref_app.services.supplier_said import with_accepted, with_answers, with_columns, with_how, without_answers

KNOWN_PUMP = "P-001"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[LiveDesk]:
    made = desk_in(tmp_path, MOST_IN_MEMORY)
    yield made
    made.close()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "liste 2026.csv"


@pytest.fixture
def said(desk: LiveDesk, path: Path) -> SaidOfFile:
    return said_of(desk, path)[1]


def looked_at(desk: LiveDesk, path: Path, text: str = LIST, **more: object) -> Looked:
    return looked(said_of(desk, path, text, **more)[0])


def test_an_answer_takes_the_acceptance_of_its_row_away_and_of_no_other(said: SaidOfFile) -> None:
    accepted = with_accepted(said, [2, 3])
    answered = with_answers(accepted, {(2, 2): "19.05 mm"})
    assert (dict(answered.answers), answered.accepted) == ({(2, 2): "19.05 mm"}, frozenset({3}))
    assert not accepted.answers


def test_what_was_said_of_a_row_can_be_taken_back(said: SaidOfFile) -> None:
    answered = with_accepted(with_answers(said, {(2, 2): "19.05 mm", (3, 3): ""}), [2, 3])
    back = without_answers(answered, 2)
    assert (dict(back.answers), back.accepted) == ({(3, 3): ""}, frozenset({3}))


def test_a_column_that_tells_something_else_takes_its_answers_and_every_acceptance_away(said: SaidOfFile) -> None:
    answered = with_accepted(with_answers(said, {(2, 2): "19.05 mm", (3, 3): ""}), [4])
    other = with_columns(answered, said.columns.with_column(2, target="bore_depth_mm", unit="mm"))
    assert (dict(other.answers), other.accepted) == ({(3, 3): ""}, frozenset())
    in_inch = with_columns(answered, said.columns.with_column(2, target="bore_diameter_mm", unit="in"))
    assert dict(in_inch.answers) == dict(answered.answers)
    assert with_columns(answered, said.columns) is answered


def test_values_known_in_another_way_are_accepted_anew(said: SaidOfFile) -> None:
    accepted = with_accepted(said, [2])
    assert with_how(accepted, "claimed") is accepted
    assert (with_how(accepted, "sheet").how, with_how(accepted, "sheet").accepted) == ("sheet", frozenset())


def test_rows_stand_with_what_is_open_first(desk: LiveDesk, path: Path) -> None:
    found = looked_at(desk, path)
    assert [(one.row.number, one.standing) for one in found.rows] == [
        ("ZQ-2", Standing.LOOK),
        ("ZQ-3", Standing.REFUSED),
        ("ZQ-1", Standing.GOOD),
        ("ZQ-4", Standing.GOOD),
    ]
    assert found.counts == {
        Standing.LOOK: 1,
        Standing.REFUSED: 1,
        Standing.ACCEPTED: 0,
        Standing.GOOD: 2,
        Standing.KNOWN: 0,
    }


def test_an_accepted_row_stands_as_accepted_only_where_it_can_be_taken(desk: LiveDesk, path: Path) -> None:
    number = desk.catalog.number_of(KNOWN_PUMP)
    text = f'{HEADINGS}{number};;55;;;\nZQ-2;;19,05";;;\n'
    found = looked_at(desk, path, text, accepted=frozenset({1, 2}))
    assert {one.row.place: one.standing for one in found.rows} == {1: Standing.ACCEPTED, 2: Standing.LOOK}
    assert {one.row.place for one in found.rows if one.standing is Standing.ACCEPTED} == {
        one.place for one in found.preview.to_take
    }


def test_cells_asked_about_in_the_same_way_are_answered_alike(desk: LiveDesk, path: Path) -> None:
    text = f'{HEADINGS}ZQ-1;;19,05";;;\nZQ-2;;25,4";;;\nZQ-3;;25.4;2.700 psi;;\nZQ-4;;;900000;;\n'
    found = looked_at(desk, path, text)
    cell = next(one.row.cells[0] for one in found.rows if one.row.number == "ZQ-1")
    alike = found.alike(cell)
    assert [row for row, _cell in alike] == [1, 2]
    assert choices_for_all(alike, 1) == {(1, 2): "19.05 mm", (2, 2): "25.4 mm"}


def test_rows_asked_about_in_the_same_way_are_accepted_together(desk: LiveDesk, path: Path) -> None:
    text = f"{HEADINGS}ZQ-1;;;;;\nZQ-2;;;;;\nZQ-3;;19,05;;;\n1E5;;19,05;;;\n"
    found = looked_at(desk, path, text)
    by_number = {one.row.number: one.row for one in found.rows}
    assert found.alike_rows(by_number["ZQ-1"]) == (1, 2)
    assert found.alike_rows(by_number["1E5"]) == (4,)
    assert found.alike_rows(by_number["ZQ-3"]) == ()


def test_a_row_with_an_open_cell_is_not_accepted_with_the_others(desk: LiveDesk, path: Path) -> None:
    text = f'{HEADINGS}ZQ-1;;19,05;;;\nZQ-1;;25,4;;;\nZQ-1;;19,05";2700;;\n'
    found = looked_at(desk, path, text)
    second = next(one.row for one in found.rows if one.row.place == 2)
    assert found.alike_rows(second) == (2,)


def test_a_column_tells_its_first_cells_its_decimals_and_how_many_are_open(desk: LiveDesk, path: Path) -> None:
    found = looked_at(desk, path)
    bore = found.columns[2]
    assert (bore.samples, bore.decimals.value, bore.open_cells) == (((1, "19,05"), (2, '19,05"'), (3, "25,4")), ",", 1)
    assert not bore.has_no_unit
    unsaid = looked_at(desk, path, LIST.replace("Bore mm", "Bore"))
    assert unsaid.columns[2].has_no_unit


def test_what_is_entered_stands_beside_what_the_list_says(desk: LiveDesk, path: Path) -> None:
    number = desk.catalog.number_of(KNOWN_PUMP)
    preview, _ = said_of(desk, path, f"{HEADINGS}{number};;55;;;\nZQ-1;;19,05;;;\n")
    (found,) = desk.suppliers.beside(preview.rows[0])
    assert isinstance(found, Beside)
    assert (found.title, found.listed[:4]) == ("Bore diameter", "55 ±")
    assert found.entered.endswith("in)")
    assert desk.suppliers.beside(preview.rows[1]) == ()


def test_columns_of_a_supplier_come_up_where_nobody_corrected_any(desk: LiveDesk, path: Path) -> None:
    text = LIST.replace("Bore mm", "X")
    preview, said = said_of(desk, path, text)
    corrected = with_columns(said, said.columns.with_column(2, target="bore_diameter_mm", unit="mm"))
    desk.suppliers.take(desk.suppliers.preview(preview.file, corrected, NO_PROGRESS), "Ana")
    fresh = desk.suppliers.guess(preview.file)
    named = desk.suppliers.of_supplier(preview.file, fresh, SUPPLIER)
    assert (named.columns, named.supplier) == (corrected.columns, SUPPLIER)
    # Another supplier after all: what came up for the first one goes again.
    other = desk.suppliers.of_supplier(preview.file, named, "Another")
    assert (other.columns, other.supplier) == (fresh.columns, "Another")
    by_hand = with_columns(fresh, fresh.columns.with_column(2, target="bore_depth_mm", unit="mm"))
    assert desk.suppliers.of_supplier(preview.file, by_hand, SUPPLIER).columns == by_hand.columns


def test_a_kind_that_is_said_counts_more_than_one_remembered(desk: LiveDesk, path: Path) -> None:
    preview, said = said_of(desk, path)
    desk.suppliers.take(preview, "Ana")
    engines = desk.suppliers.of_kind(preview.file, 0, supplier=SUPPLIER, kind=SheetKind.ENGINES)
    assert (engines.columns.kind, engines.supplier) == (SheetKind.ENGINES, SUPPLIER)
    pumps = desk.suppliers.of_kind(preview.file, 0, supplier=SUPPLIER, kind=SheetKind.PUMPS)
    assert pumps.columns == replace(said, supplier=SUPPLIER).columns
