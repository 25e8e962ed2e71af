"""What is written is read back as the very same value, for every kind; and nothing typed breaks a reader."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.quantity.amounts import Amount
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.observed import FieldForm, FieldKind, read_field
from xref_app.core.quantity.positions import read_heights, read_holes, read_sectors, rows_text
from xref_app.core.quantity.quantities import FIELD_UNITS, parse_quantity
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import exact_text, plain_number, show_inch, show_mm, show_range, show_value
from xref_app.core.quantity.units import UNITS, Kind, Unit

SIGNED = {"c": -273.0, "deg": -360.0}
ROUNDED_PLACES = {"mm": 3, "bar": 2, "lpm": 2, "kw": 3, "rpm": 1, "nm": 2, "c": 1, "deg": 1, "": 3}


@pytest.mark.parametrize("field_unit", FIELD_UNITS)
@given(data=st.data())
def test_exact_text_reads_back_as_the_same_float(field_unit: str, data: st.DataObject) -> None:
    value = data.draw(st.floats(SIGNED.get(field_unit, 0.0), 1e6).filter(lambda one: one == 0 or abs(one) > 1e-12))
    text = exact_text(value, field_unit)
    assert parse_quantity(text, FIELD_UNITS[field_unit].kind).value == value


@given(st.integers(1, 10**6))
def test_thousandths_of_a_turn_read_back(thousandths: int) -> None:
    value = thousandths / 1000
    assert parse_quantity(exact_text(value, "rpm"), Kind.SPEED).value == value


@pytest.mark.parametrize("field_unit", FIELD_UNITS)
@given(data=st.data())
def test_shown_value_reads_back_where_nothing_was_rounded(field_unit: str, data: st.DataObject) -> None:
    places = ROUNDED_PLACES[field_unit]
    lowest = int(SIGNED.get(field_unit, 0.0)) * 10**places
    value = float(Decimal(data.draw(st.integers(lowest, 10**6))).scaleb(-places))
    shown = show_value(value, field_unit).partition(" (")[0]
    assert parse_quantity(shown, FIELD_UNITS[field_unit].kind).value == value


@pytest.mark.parametrize("unit", [one for one in UNITS if one.symbol], ids=lambda unit: unit.symbol)
@given(number=st.integers(0, 10**9), places=st.sampled_from((0, 1, 2, 4, 5)), comma=st.booleans())
def test_every_unit_reads_decimals_with_point_or_comma_exactly(
    unit: Unit, number: int, places: int, *, comma: bool
) -> None:
    written = f"{Decimal(number).scaleb(-places):f}"
    text = f"{written.replace('.', ',') if comma else written} {unit.symbol}"
    amount = parse_quantity(text, unit.kind)
    assert amount.exact == unit.to_canonical(Fraction(number, 10**places))
    assert amount.unit is unit
    assert amount.last_digit == Fraction(1, 10**places) / 2 * unit.factor or unit.symbol == "in"


@given(st.floats(0, 1000))
def test_shown_inches_are_never_off_by_more_than_they_say(mm: float) -> None:
    read = parse_quantity(show_inch(mm), Kind.LENGTH).value
    assert read == pytest.approx(mm, abs=0.00501)


@given(st.integers(0, 10**6), st.integers(0, 10**3))
def test_length_with_doubt_reads_back(thousandths: int, doubt: int) -> None:
    mm, doubt_mm = thousandths / 1000, doubt / 1000
    seen = read_field(FieldForm(FieldKind.NUMBER, "mm", default_doubt=9.0), show_mm(mm, doubt_mm))
    assert (seen.value, seen.doubt) == (mm, doubt_mm)


NUMBERS = st.floats(-1e4, 1e4).filter(lambda one: one == 0 or abs(one) > 1e-6)


@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=1, max_size=4))
def test_holes_read_back(holes: list[tuple[float, float]]) -> None:
    assert read_holes(rows_text(holes)) == tuple(holes)


@given(st.lists(NUMBERS, min_size=1, max_size=8))
def test_heights_read_back(heights: list[float]) -> None:
    assert read_heights(rows_text([height] for height in heights)) == tuple(heights)


ANGLES = st.integers(0, 360).map(float)


@given(st.lists(st.tuples(ANGLES, ANGLES).filter(lambda pair: pair[0] != pair[1]), min_size=1, max_size=6))
def test_sectors_read_back(sectors: list[tuple[float, float]]) -> None:
    assert read_sectors(rows_text(sectors)) == tuple(sectors)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_plain_number_is_exact_and_has_no_exponent(value: float) -> None:
    text = plain_number(value)
    assert float(text) == value
    assert "e" not in text.casefold()


def amount_or_refusal(text: str, kind: Kind) -> Amount | MeasureError:
    try:
        return parse_quantity(text, kind)
    except MeasureError as refusal:
        return refusal


@pytest.mark.parametrize("kind", list(Kind))
@given(text=st.one_of(st.text(max_size=70), st.from_regex(r'[-0-9.,/ ½″"a-zA-Z°·]{0,12}', fullmatch=True)))
def test_any_text_is_read_or_refused_and_never_breaks(kind: Kind, text: str) -> None:
    answer = amount_or_refusal(text, kind)
    if isinstance(answer, Amount):
        assert answer.unit.kind is kind
        assert answer.exact >= 0 or kind in {Kind.TEMPERATURE, Kind.ANGLE}
    else:
        assert str(answer).isprintable()


SHOWN = [
    (19.05, "mm", "19.05 mm (3/4 in)"),
    (22.225, "mm", "22.225 mm (7/8 in)"),
    (19.0, "mm", "19 mm (0.748 in)"),
    (31.746, "mm", "31.746 mm (1-1/4 in)"),
    (25.4, "mm", "25.4 mm (1 in)"),
    (0.0, "mm", "0 mm (0 in)"),
    (-2.0, "mm", "-2 mm (-0.0787 in)"),
    (-6.35, "mm", "-6.35 mm (-1/4 in)"),
    (186.158447, "bar", "186.16 bar (2700 psi)"),
    (9.463529, "lpm", "9.46 lpm (2.5 gpm)"),
    (4.847049, "kw", "4.847 kW (6.5 hp)"),
    (60.0, "c", "60 °C (140 °F)"),
    (24.404723, "nm", "24.4 N·m (18 lb·ft)"),
    (3400.0, "rpm", "3400 rpm"),
    (90.0, "deg", "90°"),
    (3.5, "", "3.5"),
]


@pytest.mark.parametrize(("value", "field_unit", "shown"), SHOWN)
def test_value_is_shown_in_both_units(value: float, field_unit: str, shown: str) -> None:
    assert show_value(value, field_unit) == shown


def test_range_is_shown_with_both_ends() -> None:
    assert show_range(Range(19.0, 19.1), "mm") == "19 to 19.1 mm (0.748 to 0.752 in)"
    assert show_range(Range.around(186.0, 0.2), "bar") == "185.8 to 186.2 bar (2695 to 2701 psi)"
    assert show_mm(19.05, 0.02) == "19.05 ± 0.02 mm"
