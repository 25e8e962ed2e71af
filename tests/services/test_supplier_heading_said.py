"""In which rows the headings stand, said by a person: read, guessed anew from there, remembered for that supplier."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.services.supplier_lists import SUPPLIER, desk_in, said_of
from xref_app.core.progress import NO_PROGRESS
from xref_app.services.live_desk import LiveDesk
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.services.supplier_columns import ColumnMap, SheetKind
from xref_app.services.supplier_heading_said import columns_at, read_heading_rows, rows_text, with_heading_rows
from xref_app.services.supplier_import import SupplierInputError
from xref_app.services.supplier_preview import Preview, SaidOfFile
from xref_app.services.supplier_said import with_answers, with_columns

# The guess takes the second row, which is written like headings but belongs to another list above.
WRONG = "Pump;Maker;Name\nBore mm;psi;l/min;Note\nNo.;Shaft mm;psi;x\nZQ-1;19,05;2700;a\nZQ-2;25,4;3000;b\n"
RIGHT = (2, 3)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[LiveDesk]:
    made = desk_in(tmp_path, MOST_IN_MEMORY)
    yield made
    made.close()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "liste 2026.csv"


def corrected(preview: Preview, place: tuple[int, int] = RIGHT) -> SaidOfFile:
    return with_heading_rows(preview.sheet.rows, preview.said, place)


def targets(columns: ColumnMap) -> list[str]:
    return [one.target for one in columns.columns]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("4", (3, 4)),
        ("4-5", (3, 5)),
        (" 4 – 5 ", (3, 5)),
        ("4 to 5", (3, 5)),
        ("4-4", (3, 4)),
        ("None", (0, 0)),
        ("1-10", (0, 10)),
        ("20", (19, 20)),
    ],
)
def test_rows_are_read_as_they_are_shown(text: str, place: tuple[int, int]) -> None:
    assert read_heading_rows(text, 20) == place


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "No row is named: say in which rows the headings stand, like 4 or 4-5, or none."),
        ("four", "“four” names no rows: say in which rows the headings stand, like 4 or 4-5, or none."),
        ("-4", "“-4” names no rows: say in which rows the headings stand, like 4 or 4-5, or none."),
        ("4,5", "“4,5” names no rows: say in which rows the headings stand, like 4 or 4-5, or none."),
        ("5-4", "Rows 5 to 4 stand the wrong way round: say the upper one first."),
        ("0", "There is no row 0: this sheet has rows 1 to 20; say rows among these."),
        ("20-21", "There is no row 21: this sheet has rows 1 to 20; say rows among these."),
        ("9999999", "There is no row 9999999: this sheet has rows 1 to 20; say rows among these."),
        ("1-11", "Rows 1 to 11 are more than the 10 that are read as headings: say only those with the headings."),
    ],
)
def test_what_names_no_rows_is_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(SupplierInputError) as found:
        read_heading_rows(text, 20)
    assert str(found.value) == sentence


@pytest.mark.parametrize("text", ["none", "4", "4-5"])
def test_what_is_shown_is_read_back(desk: LiveDesk, path: Path, text: str) -> None:
    rows = [("No.", "Bore mm")] * 9
    before = said_of(desk, path)[1].columns
    place = read_heading_rows(text, len(rows))
    assert rows_text(replace(before, headings_from=place[0], rows_from=place[1])) == text


def test_the_columns_are_guessed_anew_from_the_rows_that_were_said(desk: LiveDesk, path: Path) -> None:
    preview, said = said_of(desk, path, WRONG)
    assert (said.columns.headings_from, said.columns.rows_from) != RIGHT
    now = desk.suppliers.preview(preview.file, corrected(preview), NO_PROGRESS)
    assert targets(now.said.columns) == ["number", "bore_diameter_mm", "rating_pressure_bar", ""]
    assert (now.said.columns.is_said, now.title_rows) == (True, (0, 1))
    assert [one.number for one in now.rows] == ["ZQ-1", "ZQ-2"]
    assert [one.state.value for one in now.rows] == ["good", "good"]


def test_none_makes_every_row_one_of_the_list(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path, WRONG)
    now = desk.suppliers.preview(preview.file, corrected(preview, (0, 0)), NO_PROGRESS)
    assert (targets(now.said.columns), len(now.rows), now.title_rows) == ([""] * 4, 5, ())
    # A list that seems to have none below its titles keeps these where that is said again.
    again, said = said_of(desk, path, "A list\n1;2;3\n4;5;6\n")
    assert (said.columns.headings_from, said.columns.rows_from) == (1, 1)
    assert corrected(again, (0, 0)) is said


def test_what_was_said_of_a_column_stays_under_the_same_words_only(desk: LiveDesk, path: Path) -> None:
    text = "Part;Shaft;Form;Pressure\nNo.;mm;;bar\nZQ-1;19,05;a;180\n"
    preview, said = said_of(desk, path, text)
    assert (said.columns.headings_from, said.columns.rows_from) == (0, 2)
    by_hand = said.columns.with_column(2, target="note").with_column(1, target="bore_depth_mm", unit="in")
    there = with_answers(with_columns(said, by_hand), {(2, 1): "19.05 mm"})
    now = with_heading_rows(preview.sheet.rows, there, (0, 1))
    # “Form” is headed as before; “Shaft mm” became “Shaft”, and “mm” a row of the list.
    assert targets(now.columns) == ["number", "bore_diameter_mm", "note", "rating_pressure_bar"]
    assert not now.answers
    assert with_heading_rows(preview.sheet.rows, there, (0, 2)) is there


def test_rows_that_a_sheet_does_not_have_change_nothing(desk: LiveDesk, path: Path) -> None:
    preview, said = said_of(desk, path, WRONG)
    with pytest.raises(SupplierInputError, match="There is no row 6: this sheet has rows 1 to 5"):
        columns_at(preview.sheet.rows, said.columns, (4, 6))


def test_the_rows_come_up_with_the_next_list_that_has_the_same_headings_there(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path, WRONG)
    said = corrected(preview)
    said = with_columns(said, said.columns.with_column(3, target="note"))
    desk.suppliers.take(desk.suppliers.preview(preview.file, said, NO_PROGRESS), "Ana")
    longer, _ = said_of(desk, path, f"{WRONG}ZQ-3;28,5;3000;c\n")
    assert desk.suppliers.guess(longer.file, supplier=SUPPLIER).columns == said.columns
    assert not desk.suppliers.guess(longer.file, supplier="Another").columns.is_said
    for text in (WRONG.replace("Shaft mm", "Shaft in"), f"A title\n{WRONG}", "No.;Shaft mm;psi;x\n"):
        other, _ = said_of(desk, path, text)
        assert not desk.suppliers.guess(other.file, supplier=SUPPLIER).columns.is_said


def test_no_headings_come_up_only_where_none_are_understood(desk: LiveDesk, path: Path) -> None:
    text = "ZQ-A;Invented;Cast\nZQ-1;19,05;2700\nZQ-2;25,4;3000\n"
    preview, said = said_of(desk, path, text)
    assert (said.columns.headings_from, said.columns.rows_from) == (0, 1)
    none = corrected(preview, (0, 0))
    none = with_columns(none, none.columns.with_column(0, target="number"))
    none = with_columns(none, none.columns.with_column(1, target="bore_diameter_mm", unit="mm"))
    desk.suppliers.take(desk.suppliers.preview(preview.file, none, NO_PROGRESS), "Ana")
    other, _ = said_of(desk, path, text.replace("ZQ-A", "ZQ-B"))
    assert desk.suppliers.guess(other.file, supplier=SUPPLIER).columns == none.columns
    headed, _ = said_of(desk, path, "No.;psi;l/min\nZQ-1;2700;10\n")
    assert desk.suppliers.guess(headed.file, supplier=SUPPLIER).columns == headed.said.columns


def test_another_kind_keeps_the_rows_that_were_said(desk: LiveDesk, path: Path) -> None:
    preview, _ = said_of(desk, path, WRONG)
    said = corrected(preview)
    engines = desk.suppliers.of_kind(
        preview.file, 0, supplier=SUPPLIER, kind=SheetKind.ENGINES, before=said.columns
    ).columns
    assert (engines.kind, engines.headings_from, engines.rows_from, engines.is_said) == (SheetKind.ENGINES, 2, 3, True)
    assert targets(engines)[1] == "shaft_diameter_mm"


@pytest.mark.parametrize("rows", ["7", "[2]", "[3, 2]", "[2, 99]", '["a", 3]', "[true, 3]", "[0, 3]", "null"])
def test_damaged_rows_in_the_memory_are_not_proposed(desk: LiveDesk, path: Path, tmp_path: Path, rows: str) -> None:
    preview, _ = said_of(desk, path, WRONG)
    desk.suppliers.take(desk.suppliers.preview(preview.file, corrected(preview), NO_PROGRESS), "Ana")
    memory = tmp_path / "shop.sqlite.suppliers.json"
    kept = "".join(memory.read_text().split())
    assert '"heading_rows":[2,3]' in kept
    memory.write_text(kept.replace('"heading_rows":[2,3]', f'"heading_rows":{rows}'))
    assert desk.suppliers.guess(preview.file, supplier=SUPPLIER).columns == preview.said.columns
