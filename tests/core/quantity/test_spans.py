"""Readings that are ranges, and what can be none."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.spans import parse_span
from xref_app.core.quantity.units import BAR, NO_UNIT, SECOND, Kind, Unit

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()


def no_doubt(_value: float) -> float:
    return 0.0


def span(text: str, kind: Kind, unit: Unit | None = None) -> tuple[float, float]:
    read = parse_span(text, kind, doubt=no_doubt, default_unit=unit)
    return (read.low, read.high)


@pytest.mark.parametrize("text", ["3-4 L", "3 to 4 L", "3 L - 4 L", "3–4 L", "3 L to 4", "3.0 … 4,0 l", "3..4 L"])
def test_a_range_is_read_in_every_way_it_is_written(text: str) -> None:
    assert span(text, Kind.VOLUME) == pytest.approx((3, 4))


def test_gallons_of_both_ends_agree_with_pint() -> None:
    low, high = (REGISTRY.Quantity(one, "US_liquid_gallon").to("liter").magnitude for one in (2.5, 3.0))
    assert span("2.5-3 gal", Kind.VOLUME) == pytest.approx((low, high))


def test_a_unit_at_one_end_goes_before_the_default() -> None:
    low, high = (REGISTRY.Quantity(one, "psi").to("bar").magnitude for one in (2500, 2700))
    assert span("2500 psi - 2700", Kind.PRESSURE, BAR) == pytest.approx((low, high))


def test_give_or_take_is_read_with_the_unit_of_either_end() -> None:
    assert span("10 ± 0.5 L", Kind.VOLUME) == pytest.approx((9.5, 10.5))
    assert span("10 L +/- 0,5", Kind.VOLUME) == pytest.approx((9.5, 10.5))
    assert span("50 ± 0 °F", Kind.TEMPERATURE) == pytest.approx((10, 10))
    assert span("100 ± 18 °F", Kind.TEMPERATURE) == pytest.approx(((100 - 32) / 1.8 - 10, (100 - 32) / 1.8 + 10))


def test_a_mixed_number_is_no_range() -> None:
    gallon = REGISTRY.Quantity(1.25, "US_liquid_gallon").to("liter").magnitude
    assert span("1-1/4 gal", Kind.VOLUME) == pytest.approx((gallon, gallon))


def test_a_bare_number_gets_the_doubt_it_is_given() -> None:
    assert parse_span("60", Kind.TIME, doubt=lambda value: value / 10, default_unit=SECOND) == Range(54, 66)


@pytest.mark.parametrize(
    ("text", "kind", "unit", "sentence"),
    [
        ("4-3 L", Kind.VOLUME, None, "“4-3 L” runs from more to less. Write it like 3 L to 4."),
        ("3-4", Kind.VOLUME, None, "“3” is not a volume with a unit. Write it like 10 L or 5 gal."),
        ("10 psi", Kind.VOLUME, None, "“10 psi” is a pressure, not a volume. Write it like 10 L or 5 gal."),
        ("20 ± -5 °C", Kind.TEMPERATURE, None, "“20 ± -5 °C” has a doubt below zero. Write it like 20."),
        ("3 to soap", Kind.COUNT, NO_UNIT, "“3 to soap” is not a number. Write it like 3.5."),
    ],
)
def test_what_is_no_reading_is_refused_in_one_sentence(text: str, kind: Kind, unit: Unit | None, sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        parse_span(text, kind, doubt=no_doubt, default_unit=unit)
    assert str(refusal.value) == sentence


def read_or_refusal(text: str) -> Range | MeasureError:
    try:
        return parse_span(text, Kind.VOLUME, doubt=no_doubt)
    except MeasureError as refusal:
        return refusal


@given(st.text(max_size=80) | st.from_regex(r"[-0-9.,/ ±to…gal L]{0,14}", fullmatch=True))
def test_any_text_is_read_or_refused(text: str) -> None:
    answer = read_or_refusal(text)
    if isinstance(answer, Range):
        assert answer.high >= 0
    else:
        assert str(answer).isprintable()
