"""Readings typed into fields: exact in mm, never wrong by 25.4, and asked about only where it could be."""

from __future__ import annotations

import random
from fractions import Fraction

import pint
import pytest

from xref_app.core.fields.fields import Field, Kind, all_fields, field_for
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.instruments import Instrument
from xref_app.services.field_reading import OutsideUsualError, RaisedSeatError, read_typed_field
from xref_app.services.unit_draft import Typed

ENTRIES = 400
# Outside reference for the conversion: pint, exact with Fraction.
UNITS: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
LENGTHS = [field for field in all_fields().values() if field.kind is Kind.NUMBER and field.unit == "mm"]


def inch_mm(inches: Fraction) -> float:
    return float(UNITS.Quantity(inches, "inch").to("millimeter").magnitude)


def typed_length(chance: random.Random, field: Field) -> tuple[Typed, float]:
    """Return what somebody types into ``field`` for a size it may have, and that size, mm."""
    assert field.minimum is not None
    assert field.maximum is not None
    low, high = max(field.minimum, 2.0), field.maximum
    parts = chance.randrange(int(low / 25.4 * 64) + 1, max(int(high / 25.4 * 64), int(low / 25.4 * 64) + 2))
    inches = Fraction(parts, 64)
    whole, rest = divmod(inches, 1)
    mixed = " ".join(str(one) for one in (whole, rest) if one)
    hundredths = round(chance.uniform(low, high), 2)
    decimal = f"{float(inches):.3f}"
    forms = [
        (Typed(texts=(f"{mixed} in",)), inch_mm(inches)),
        (Typed(texts=(f'{mixed}"',)), inch_mm(inches)),
        (Typed(texts=(mixed.replace(" ", "-") + " in",)), inch_mm(inches)),
        (Typed(texts=(f"{decimal} in",)), inch_mm(Fraction(decimal))),
        (Typed(texts=(decimal,), unit="in"), inch_mm(Fraction(decimal))),
        (Typed(texts=(decimal.lstrip("0"),), unit="in"), inch_mm(Fraction(decimal))),
        (Typed(texts=(f"{hundredths:.2f}",)), hundredths),
        (Typed(texts=(f"{hundredths:.2f}".replace(".", ","),)), hundredths),
        (Typed(texts=(f"{hundredths:.2f} mm",)), hundredths),
        (Typed(texts=(f"{hundredths:.2f}mm",), unit="in"), hundredths),
    ]
    if rest:
        forms.append((Typed(texts=(mixed,)), inch_mm(inches)))  # a bare fraction is inches whatever is shown
    return chance.choice(forms)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_400_mixed_entries_none_wrong_by_25_4_and_98_percent_without_a_question(seed: int) -> None:
    chance = random.Random(seed)
    asked, wrong = 0, []
    for number in range(ENTRIES):
        field = chance.choice(LENGTHS)
        typed, meant = typed_length(chance, field)
        if number % 80 == 0:  # a slip: decimal inches while mm are shown
            typed, meant = Typed(texts=("0.750",)), inch_mm(Fraction(3, 4))
            field = field_for("shaft_diameter_mm")
        reading = read_typed_field(field, typed)
        if reading.question is not None:
            asked += 1
            continue
        assert reading.observed.value is not None
        if abs(reading.observed.value - meant) > 1e-9:
            wrong.append((field.field_id, typed, meant, reading.observed.value))
    assert wrong == []
    assert asked == ENTRIES // 80
    assert asked <= 0.02 * ENTRIES


def test_the_text_is_kept_as_typed_with_every_reading() -> None:
    reading = read_typed_field(field_for("shaft_diameter_mm"), Typed(texts=("19,03", " 3/4 ")))
    assert reading.observed.as_typed == "19,03; 3/4"
    assert reading.observed.value == pytest.approx(19.04)
    assert reading.observed.doubt == pytest.approx(0.06)
    assert str(reading.spread) == "2 readings, spread 0.02 mm: good."


def test_readings_that_the_tool_does_not_explain_are_told_and_all_of_them_stay_possible() -> None:
    reading = read_typed_field(field_for("shaft_diameter_mm"), Typed(texts=("19.00", "19.40")))
    assert str(reading.spread).startswith("The readings differ by 0.4,")
    known = reading.known
    assert (known.range.low, known.range.high) == pytest.approx((18.95, 19.45))  # type: ignore[union-attr]  # a size


def test_a_finer_tool_makes_the_doubt_smaller_and_a_tool_for_other_things_changes_nothing() -> None:
    field = field_for("shaft_diameter_mm")
    by = {
        tool: read_typed_field(field, Typed(texts=("19.03",), instrument=tool)).observed.doubt
        for tool in ("", Instrument.MICROMETER.value, Instrument.STEEL_RULE.value, Instrument.TACHOMETER.value)
    }
    assert list(by.values()) == [0.05, 0.01, 0.5, 0.05]


def test_what_a_sheet_says_is_good_to_half_its_last_digit_and_a_rating_is_taken_as_said() -> None:
    depth = read_typed_field(field_for("bore_depth_mm"), Typed(texts=("65",), how="sheet"))
    assert (depth.how, depth.observed.doubt) == ("sheet", 0.5)
    rating = read_typed_field(field_for("rating_pressure_bar"), Typed(texts=("2700 psi",), how="plate"))
    assert rating.observed.doubt == 0


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        (
            "shaft_diameter_mm",
            "250",
            "Shaft diameter “250” lies outside 8 to 60 mm (0.315 to 2.3622 in)",
        ),
        (
            "rating_pressure_bar",
            "27000 psi",
            "Rated pressure “27000 psi” lies outside 20 to 700 bar (290 to 10153 psi)",
        ),
    ],
)
def test_what_no_such_thing_has_is_refused_with_what_it_usually_is(field: str, text: str, said: str) -> None:
    with pytest.raises(OutsideUsualError) as refused:
        read_typed_field(field_for(field), Typed(texts=(text,)))
    assert str(refused.value) == f"{said}: look for a slip of typing or unit, then type it again."


@pytest.mark.parametrize("text", ["", "abc", "19.05 bar", "1/0", "NaN", "1e9"])
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(MeasureError):
        read_typed_field(field_for("shaft_diameter_mm"), Typed(texts=(text,)))


@pytest.mark.parametrize("field", all_fields().values(), ids=lambda field: field.field_id)
def test_a_huge_paste_is_refused_quickly_in_one_line(field: Field) -> None:
    """R16 of the targets: the window cuts at its limit; a script's text of any length must not hang the reader."""
    with pytest.raises(MeasureError) as refused:
        read_typed_field(field, Typed(texts=("9 7/" * 250_000,)))
    assert len(str(refused.value)) < 400


def test_a_feeler_gap_typed_without_its_minus_is_refused_not_turned_into_one_long_leg() -> None:
    """Read as typed, the leg that lacks 2 mm would be the only one that touches: the wrong spacers would follow."""
    field = field_for("flange_seat_heights_mm")
    with pytest.raises(RaisedSeatError) as refused:
        read_typed_field(field, Typed(texts=("0; 0; 0; 2",)))
    assert str(refused.value) == (
        "Seat heights of the pump: no seat stands above the straightedge, and one reads 2 mm; the highest seats are 0, "
        "a gap under the straightedge is written with a minus, like 0; 0; 0; -2."
    )
    assert read_typed_field(field, Typed(texts=("0; 0; 0; -2",))).observed.text == "0; 0; 0; -2"
