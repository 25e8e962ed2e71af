"""What columns are taken for: headings propose, nothing unexplained does, units are never told from numbers."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xref_app.core.fields.fields import all_fields, field_for
from xref_app.services.supplier_cells import CellReading, CellState, ColumnOfSizes, read_cell
from xref_app.services.supplier_columns import Column, ColumnMap, SheetKind, targets_of, units_of
from xref_app.services.supplier_decimals import Decimals, decided, plainly, votes
from xref_app.services.supplier_headings import guess_columns, guess_heading
from xref_app.services.supplier_rows import folded_number

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
# Our symbols as pint (its own tables of factors) spells them, and the canonical unit of each kind.
AS_PINT = {
    "mm": "mm", "cm": "cm", "in": "inch", "bar": "bar", "psi": "psi", "MPa": "megapascal", "kPa": "kilopascal",
    "lpm": "liter/minute", "gpm": "gallon/minute", "l/h": "liter/hour", "gph": "gallon/hour", "rpm": "rpm",
    "kW": "kilowatt", "W": "watt", "hp": "horsepower", "PS": "metric_horsepower", "°C": "degC", "°F": "degF",
}  # fmt: skip
CANONICAL = {"mm": "mm", "bar": "bar", "lpm": "liter/minute", "rpm": "rpm", "kw": "kilowatt", "c": "degC"}
SIZES = [one.field_id for one in all_fields().values() if one.unit in CANONICAL and one.kind.value == "number"]


def cell(field: str, text: str, unit: str = "", decimals: str = "") -> CellReading:
    by = ColumnOfSizes(field_for(field), Column(0, "heading", field, unit), Decimals(decimals), "claimed")
    return read_cell(text, by)


@pytest.mark.parametrize(
    ("heading", "target", "unit"),
    [
        ("shaft dia (mm)", "bore_diameter_mm", "mm"),
        ("Bolt circle in.", "bolt_circle_mm", "in"),
        ("GPM", "rating_flow_lpm", "gpm"),
        ("max psi", "rating_pressure_bar", "psi"),
        ("bar", "rating_pressure_bar", "bar"),
        ("rpm", "rating_speed_rpm", "rpm"),
        ("max rpm", "rating_max_speed_rpm", "rpm"),
        ("l/min", "rating_flow_lpm", "lpm"),
        ('Bore "', "bore_diameter_mm", "in"),
        ("Flow US gal/min", "rating_flow_lpm", "gpm"),
        ("Pressure psi / bar", "rating_pressure_bar", ""),
        ("Replaces P/N", "replaces", ""),
        ("Superseded by", "replaced_by", ""),
        ("Part No.", "number", ""),
        ("Artikel-Nr.", "number", ""),
        ("Fördermenge l/min", "rating_flow_lpm", "lpm"),
        ("No. of holes", "hole_count", ""),
        ("Hole dia mm", "flange_hole_mm", "mm"),
        ("bore_diameter_mm", "bore_diameter_mm", "mm"),
    ],
)
def test_a_heading_proposes_its_field_and_unit(heading: str, target: str, unit: str) -> None:
    guess = guess_heading(heading, SheetKind.PUMPS)
    assert guess is not None
    assert (guess.target, guess.unit) == (target, unit)


@pytest.mark.parametrize(
    "heading",
    [
        *(
            "Test pressure bar",
            "Intermittent pressure psi",
            "Burst pressure bar",
            "Ø mm",
            "mm",
            "Shaft length mm",
            "Price",
        ),
        *(
            "Seal kit no.",
            "Old price",
            "Rotation",
            "Pump turns",
            "Piston dia mm",
            "Plunger Ø mm",
            "Weight kg",
            "Length mm",
        ),
        *("Flow at 1000 rpm", "", "Crankcase oil l", "hp/kW", "Required power kW", "Inlet hose", "x" * 5000),
    ],
)
def test_a_heading_with_a_word_that_nothing_explains_proposes_nothing(heading: str) -> None:
    assert guess_heading(heading, SheetKind.PUMPS) is None


def test_two_units_of_an_engines_power_leave_the_unit_open() -> None:
    guess = guess_heading("hp/kW", SheetKind.ENGINES)
    assert guess is not None
    assert (guess.target, guess.unit) == ("power_kw", "")


@pytest.mark.parametrize("kind", list(SheetKind))
def test_each_field_by_its_own_title_is_that_field(kind: SheetKind) -> None:
    fields = [one for one in targets_of(kind) if one in all_fields()]
    for field_id in fields:
        guess = guess_heading(field_for(field_id).title, kind)
        assert guess is None or guess.target == field_id
    named = [one for one in fields if guess_heading(field_for(one).title, kind) is not None]
    assert len(named) > 0.8 * len(fields)


@given(
    st.lists(st.sampled_from(["No.", "Bore mm", "Bore", "psi", "Pressure bar", "x", "", "Maker", "GPM"]), max_size=9)
)
def test_no_field_goes_to_two_columns(headings: list[str]) -> None:
    targets = [one.target for one in guess_columns(headings, SheetKind.PUMPS) if one.target]
    assert len(targets) == len(set(targets))


def test_a_column_said_anew_takes_its_field_from_the_other_one() -> None:
    columns = ColumnMap(SheetKind.PUMPS, 0, 1, guess_columns(("No.", "Bore mm", "x"), SheetKind.PUMPS))
    said = columns.with_column(2, target="bore_diameter_mm", unit="in")
    assert [(one.target, one.unit) for one in said.columns] == [("number", ""), ("", ""), ("bore_diameter_mm", "in")]
    for wrong in ({"target": "shaft_form"}, {"target": "bore_diameter_mm", "unit": "psi"}):
        with pytest.raises(ValueError, match="is n"):
            columns.with_column(2, **wrong)
    with pytest.raises(ValueError, match="no column 7"):
        columns.with_column(7, target="")


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(SIZES), st.data())
def test_what_a_column_gives_is_what_pint_converts(field_id: str, data: st.DataObject) -> None:
    field = field_for(field_id)
    symbol = data.draw(st.sampled_from([one.symbol for one in units_of(field_id)]))
    low, high = field.minimum or 0.0, field.maximum or 0.0
    ends = [UNITS.Quantity(one, CANONICAL[field.unit]).to(AS_PINT[symbol]).magnitude for one in (low, high)]
    number = f"{data.draw(st.floats(max(ends[0], 0.0), ends[1])):.4f}"
    read = cell(field_id, number.replace(".", ","), symbol, ",")
    expected = UNITS.Quantity(float(number), AS_PINT[symbol]).to(CANONICAL[field.unit]).magnitude
    if read.reading is None:  # at the ends of what is usual, or likelier in the other unit of length
        assert read.state in {CellState.LOOK, CellState.REFUSED}
        assert not low * 1.001 + 0.001 < expected < high * 0.999 - 0.001
    else:
        assert read.reading.observed.value == pytest.approx(expected, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        (["19,05", "2.700"], ","),
        (["2,700", "19.05"], "."),
        (["2.700"], ""),
        (["2,700"], ""),
        (["1.234,5"], ","),
        (["1,2", "1.2"], ""),
        (["0,750"], ","),
        (["1.234.567"], ","),
        (["12345"], ""),
        ([], ""),
    ],
)
def test_decimal_marks_are_told_only_by_numbers_that_can_mean_one_thing(texts: list[str], expected: str) -> None:
    assert decided(votes(texts), frozenset()) == expected


def test_a_column_is_told_by_its_own_numbers_first_and_never_where_they_contradict() -> None:
    assert decided(frozenset({"."}), frozenset({","})) == Decimals.POINT
    assert decided(frozenset(), frozenset({","})) == Decimals.COMMA
    assert decided(frozenset(), frozenset({",", "."})) == Decimals.UNTOLD
    assert decided(frozenset({",", "."}), frozenset({","})) == Decimals.UNTOLD


@given(st.integers(0, 9_999_999), st.integers(0, 999), st.booleans())
def test_a_number_comes_back_from_either_way_to_write_it(whole: int, thousandths: int, is_grouped: bool) -> None:
    english = f"{whole:,}" if is_grouped else f"{whole}"
    written = f"{english}.{thousandths:03}"
    plain = f"{whole}.{thousandths:03}"
    assert plainly(written, Decimals.POINT) == plain
    other = written.replace(",", "_").replace(".", ",").replace("_", ".")
    assert plainly(other, Decimals.COMMA) == plain
    assert plainly(written, Decimals.UNTOLD) == written


@pytest.mark.parametrize("mark", ["N/A", "n.a.", "-", "–", "?", "tbd", "TBD", " ", "#N/A", "unknown", "k.A."])
@pytest.mark.parametrize("field", ["bore_diameter_mm", "inlet_thread", "has_unloader", "oil"])
def test_not_known_is_never_a_value(field: str, mark: str) -> None:
    read = cell(field, mark, "mm" if field.endswith("mm") else "")
    assert (read.state, read.reading) == (CellState.BLANK, None)


@pytest.mark.parametrize(
    ("text", "unit", "choices"),
    [
        ('19,05"', "", ("19.05 in", "19.05 mm")),
        ('0,75"', "", ("0.75 in", "0.75 mm")),
        ("19,05 in", "mm", ("19.05 in", "19.05 mm")),
        ("19.05", "in", ("19.05 in", "19.05 mm")),
        ("1,125", "in", ("1.125 in", "1125 in")),
        ("19.05 mm (7/8 in)", "", ("19.05 mm", "7/8 in")),
        ("19.05", "", ()),
        ("2026-03-04", "in", ()),
    ],
)
def test_what_can_mean_two_things_is_asked_with_both(text: str, unit: str, choices: tuple[str, ...]) -> None:
    read = cell("bore_diameter_mm", text, unit)
    assert (read.state, read.choices, read.reading) == (CellState.LOOK, choices, None)


def test_numbers_are_one_by_letters_and_figures_only() -> None:
    assert folded_number("P-77") == folded_number("p 77") == folded_number("Ｐ.77")
    assert folded_number("P-O") != folded_number("P-0")
