"""The decimal mark said of a whole list: no cell is stored otherwise than its text says under that mark."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pint
import pytest

from tests.services.supplier_lists import HEADINGS, SUPPLIER, desk_in, said_of
from xref_app.core.fields.fields import field_for
from xref_app.core.progress import NO_PROGRESS
from xref_app.services.live_desk import LiveDesk
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.services.supplier_cells import CellState, ColumnOfSizes, read_cell
from xref_app.services.supplier_columns import Column, SheetKind
from xref_app.services.supplier_decimals import Decimals, has_thousands_by_point, is_written_with
from xref_app.services.supplier_heading_row import guess_map
from xref_app.services.supplier_preview import Preview
from xref_app.services.supplier_rows import ReadRows, RowState, read_rows
from xref_app.services.supplier_said import with_accepted, with_answers, with_decimals

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
SEED = 20261126
CELLS_PER_COLUMN = 700
# Heading, its unit and the field's own unit as pint spells them, and the largest number worth writing.
COLUMNS = (
    ("Bore mm", "mm", "mm", 70),
    ("Bore in", "inch", "mm", 3),
    ("Flange thickness mm", "mm", "mm", 60),
    ("Pressure bar", "bar", "bar", 700),
    ("psi", "psi", "bar", 9_000),
    ("Flow l/h", "liter/hour", "liter/minute", 5_000),
    ("l/min", "liter/minute", "liter/minute", 90),
    ("rpm", "rpm", "rpm", 4_000),
)
OTHER = {",": ".", ".": ","}


def meant(number: str, mark: str) -> Decimal | None:
    """Return what a number says with ``mark`` before its decimals, told without a line of the program's own."""
    whole, has_mark, decimals = number.partition(mark)
    if has_mark and not (decimals.isascii() and decimals.isdigit()):
        return None
    first, *groups = whole.split(OTHER[mark])
    if groups and (not 1 <= len(first) <= 3 or first[0] == "0" or any(len(one) != 3 for one in groups)):
        return None
    digits = first + "".join(groups)
    if (digits and not digits.isdigit()) or not (digits or decimals):
        return None
    return Decimal(f"{digits or 0}.{decimals or 0}")


def written(rng: random.Random, most: int) -> str:
    """Return a number in one of the two conventions, or in none that anybody could tell."""
    mark = rng.choice(",.")
    value = rng.uniform(0.1, most)
    places = rng.choice([0, 1, 2, 3, 3, 3, 4])
    english = f"{value:{rng.choice(['', ','])}.{places}f}"
    if rng.random() < 0.1:
        english = english.lstrip("0") or "0"
    if rng.random() < 0.06:
        at = rng.randrange(len(english) + 1)
        english = english[:at] + rng.choice(",.") + english[at:]
    return english if mark == "." else english.translate(str.maketrans(",.", ".,"))


def read(heading: str, texts: list[str], mark: str, *, has_number_cells: bool = False) -> ReadRows:
    rows = [("No.", heading), *((f"ZQ-{place}", text) for place, text in enumerate(texts))]
    columns = replace(guess_map(rows, SheetKind.PUMPS), decimals=Decimals(mark))
    assert columns.columns[1].target, heading
    return read_rows(rows, columns, {}, how="claimed", progress=NO_PROGRESS, has_number_cells=has_number_cells)


@pytest.mark.parametrize("mark", [",", "."])
@pytest.mark.parametrize(("heading", "unit", "own_unit", "most"), COLUMNS, ids=str)
def test_no_cell_is_stored_otherwise_than_its_text_says_under_the_mark_that_was_said(
    heading: str, unit: str, own_unit: str, most: int, mark: str
) -> None:
    rng = random.Random(f"{SEED} {heading}")
    texts = [written(rng, most) for _ in range(CELLS_PER_COLUMN)]
    stored = 0
    for row in read(heading, texts, mark).rows:
        text = texts[row.place - 1]
        if row.state is not RowState.GOOD:
            assert not row.readings
            continue
        stored += bool(row.readings)
        for one in row.readings:
            number = meant(text, mark)
            assert number is not None, text
            expected = UNITS.Quantity(float(number), unit).to(own_unit).magnitude
            assert one.observed.value == pytest.approx(expected, rel=1e-9), text
            assert one.observed.as_typed.startswith(text)
    assert stored > CELLS_PER_COLUMN / 5


@pytest.mark.parametrize("mark", [",", "."])
@pytest.mark.parametrize("heading", ["Bore mm", "Bore", "Bore in"])
@pytest.mark.parametrize("inch", ['"', " in", "″", " inch", "''", " Zoll"])
def test_an_inch_mark_with_a_comma_is_asked_about_whatever_was_said(heading: str, inch: str, mark: str) -> None:
    rng = random.Random(f"{SEED} {heading} {inch}")
    texts = [f"{one}{inch}" for one in (written(rng, 40) for _ in range(120)) if "," in one]
    texts += [f"19,05{inch}", f"0,75{inch}", f",750{inch}", f"1,125{inch}"]
    assert len(texts) > 40
    found = read(heading, texts, mark)
    seemed = {one.place: one for one in read(heading, texts, "").rows}
    for row in found.rows:
        assert not row.readings, texts[row.place - 1]
        assert row.state is not RowState.GOOD
        assert [one.reason for one in row.cells] == [one.reason for one in seemed[row.place].cells]


@pytest.mark.parametrize(
    ("heading", "text", "mark", "value"),
    [
        ("Bore mm", "25,400", ",", 25.4),
        ("Flow l/min", "10,500", ",", 10.5),
        ("rpm", "1,450", ".", 1450.0),
        ("rpm", "1.450", ",", 1450.0),
        ("Bore mm", "25.400", ".", 25.4),
        ("psi", "2.700", ",", 186.158),
    ],
)
def test_what_could_mean_two_things_is_decided_by_what_was_said(
    heading: str, text: str, mark: str, value: float
) -> None:
    contradicting = ["19,05", "19.05"]
    (before,) = [one for one in read(heading, [*contradicting, text], "").rows if one.place == 3]
    (row,) = [one for one in read(heading, [*contradicting, text], mark).rows if one.place == 3]
    assert (row.state, before.state) == (RowState.GOOD, RowState.GOOD if text == "25.400" else RowState.LOOK)
    assert row.readings[0].observed.value == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("heading", "text", "mark", "choice"),
    [
        ("Bore mm", "19.05", ",", "19.05 mm"),
        ("Bore in", "0.750", ",", "0.750 in"),
        ("Bore in", "0,750", ".", "0.750 in"),
        ("Bore in", ".75", ",", ".75 in"),
        ("Bore in", ',75"', ".", ""),
        ("Bore mm", "19,05 mm", ".", "19.05 mm"),
        ("Bore mm", "19.05 ± 0.02", ",", "19.05 ± 0.02"),
    ],
)
def test_what_cannot_be_written_with_that_mark_is_asked_about(heading: str, text: str, mark: str, choice: str) -> None:
    (row,) = read(heading, [text], mark).rows
    (cell,) = row.cells
    assert (row.state, cell.state, row.readings) == (RowState.LOOK, CellState.LOOK, ())
    if choice:
        assert str(cell.reason).endswith("is not written with the decimal mark of this list. Is this meant?")
        assert cell.choices == (choice,)
        column = Column(1, heading, "bore_diameter_mm", heading.rpartition(" ")[2])
        by = ColumnOfSizes(field_for("bore_diameter_mm"), column, Decimals(mark), "claimed")
        assert read_cell(choice, by, is_answer=True).state is CellState.GOOD
    else:
        assert cell.choices == (".75 in", ".75 mm")


@pytest.mark.parametrize(("text", "mark"), [("1,234.5", ","), ("1.234,5", ".")])
def test_thousands_and_decimals_of_the_other_mark_are_never_rescaled(text: str, mark: str) -> None:
    (row,) = read("rpm", [text], mark).rows
    assert (row.readings, row.cells[0].choices) == ((), ("1234.5 rpm",))


def test_a_number_cell_of_a_workbook_is_asked_about_although_the_list_has_commas() -> None:
    texts = ["1.125", "900,5"]
    of_book = read("Flow l/h", texts, ",", has_number_cells=True).rows
    assert [one.state for one in of_book] == [RowState.LOOK, RowState.GOOD]
    assert [one.state for one in read("Flow l/h", texts, ",").rows] == [RowState.GOOD, RowState.GOOD]
    (cell,) = of_book[0].cells
    assert len(cell.choices) == 2
    assert "1125 l/h" in cell.choices
    # With a point, or as it seems, a number cell is written as everything else is.
    assert read("Flow l/h", ["1125.5"], ".", has_number_cells=True).rows[0].state is RowState.GOOD


def test_a_number_cell_is_asked_about_too_where_the_other_cells_tell_a_comma() -> None:
    texts = ["1.125", "900,5"]
    of_book = read("Flow l/h", texts, "", has_number_cells=True).rows
    assert [one.state for one in of_book] == [RowState.LOOK, RowState.GOOD]
    assert [one.state for one in read("Flow l/h", texts, "").rows] == [RowState.GOOD, RowState.GOOD]


@pytest.mark.parametrize("seed", range(3))
def test_a_number_is_written_with_a_mark_where_the_tiny_parser_reads_it(seed: int) -> None:
    rng = random.Random(seed)
    for _ in range(3_000):
        text = written(rng, 10 ** rng.randrange(1, 8))
        if not set(text) & set(",.") or text[-1] in ",." or re.search("[,.][,.]", text):
            continue  # no number to the program at all; whether it is stored is tested above
        for mark in ",.":
            assert is_written_with(text, Decimals(mark)) == (meant(text, mark) is not None), (text, mark)
        assert has_thousands_by_point(text) == ("," not in text and meant(text, ",") is not None and text[0] != "."), (
            text
        )


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[LiveDesk]:
    made = desk_in(tmp_path, MOST_IN_MEMORY)
    yield made
    made.close()


MIXED = HEADINGS + "ZQ-1;;19,05;2700;10,5;\nZQ-2;;19.05;2700;10.5;\nZQ-3;;25,400;2700;10,500;\n"


def looked_at(desk: LiveDesk, preview: Preview, mark: Decimals) -> Preview:
    return desk.suppliers.preview(preview.file, with_decimals(preview.said, mark), NO_PROGRESS)


def states(preview: Preview) -> list[str]:
    return [one.state.value for one in preview.rows]


def test_the_mark_is_said_for_the_whole_list_and_taken_back(desk: LiveDesk, tmp_path: Path) -> None:
    preview, said = said_of(desk, tmp_path / "l.csv", MIXED)
    assert states(preview) == ["good", "good", "needs a look"]
    comma = looked_at(desk, preview, Decimals.COMMA)
    assert states(comma) == ["good", "needs a look", "good"]
    assert set(comma.decimals.values()) == {Decimals.COMMA}
    assert states(looked_at(desk, comma, Decimals.UNTOLD)) == states(preview)
    answered = with_accepted(with_answers(said, {(3, 2): "25.4 mm"}), [2])
    marked = with_decimals(answered, Decimals.COMMA)
    assert (dict(marked.answers), marked.accepted) == ({(3, 2): "25.4 mm"}, frozenset())
    assert with_decimals(said, Decimals.UNTOLD) is said


def test_the_mark_comes_up_with_the_next_list_that_does_not_tell_the_other(desk: LiveDesk, tmp_path: Path) -> None:
    preview, _ = said_of(desk, tmp_path / "l.csv", MIXED)
    desk.suppliers.take(looked_at(desk, preview, Decimals.COMMA), "Ana")
    for text, mark in (
        (MIXED, Decimals.COMMA),
        (HEADINGS + "ZQ-9;;25,400;;10,500;\n", Decimals.COMMA),
        (HEADINGS + "ZQ-9;;25.40;;10,500;\n", Decimals.UNTOLD),
    ):
        other, _ = said_of(desk, tmp_path / "m.csv", text)
        assert desk.suppliers.guess(other.file, supplier=SUPPLIER).columns.decimals is mark
        assert desk.suppliers.guess(other.file, supplier="Another").columns.decimals is Decimals.UNTOLD


def test_a_mark_said_before_the_supplier_stays_with_the_columns_of_that_supplier(
    desk: LiveDesk, tmp_path: Path
) -> None:
    text = MIXED.replace("Bore mm", "X")
    preview, said = said_of(desk, tmp_path / "l.csv", text, supplier="")
    columns = said.columns.with_column(2, target="bore_diameter_mm", unit="mm")
    desk.suppliers.take(
        desk.suppliers.preview(preview.file, replace(said, columns=columns, supplier=SUPPLIER), NO_PROGRESS), "Ana"
    )
    named = desk.suppliers.of_supplier(preview.file, with_decimals(said, Decimals.POINT), SUPPLIER)
    assert (named.columns, named.supplier) == (replace(columns, decimals=Decimals.POINT), SUPPLIER)
    engines = desk.suppliers.of_kind(preview.file, 0, supplier=SUPPLIER, kind=SheetKind.ENGINES, before=named.columns)
    assert (engines.columns.kind, engines.columns.decimals) == (SheetKind.ENGINES, Decimals.POINT)
