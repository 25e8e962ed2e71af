"""Lengths in sentences are rounded to the side that cannot mislead (decimal arithmetic of Python as the judge)."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.fit.show import rounded_up, span_inside, span_outside
from xref_app.core.quantity.range import Range

CENT = Decimal("0.01")
MICRONS = st.integers(-200_000, 200_000)


@given(MICRONS)
def test_what_must_be_made_up_for_is_never_told_as_less(microns: int) -> None:
    exact = Decimal(microns) / 1000
    assert Decimal(rounded_up(microns / 1000)) == exact.quantize(CENT, ROUND_CEILING)


@given(MICRONS, st.integers(0, 50_000))
def test_readings_are_rounded_outwards_and_what_will_do_inwards(low: int, width: int) -> None:
    exact = Decimal(low) / 1000, Decimal(low + width) / 1000
    shown = Range(low / 1000, (low + width) / 1000)
    outside = [Decimal(text) for text in span_outside(shown).split(" to ")]
    assert outside[0] == exact[0].quantize(CENT, ROUND_FLOOR)
    assert outside[-1] == exact[1].quantize(CENT, ROUND_CEILING)
    inside = [Decimal(text) for text in span_inside(shown).split(" to ")]
    assert exact[0] <= inside[0] <= inside[-1] <= exact[1]


def test_sums_of_floats_do_not_round_up_what_is_exact() -> None:
    assert rounded_up(1.6 - (65 - 67.9 - 0.2)) == "4.70"
    assert rounded_up(0.1 + 0.2) == "0.30"
    assert rounded_up(0.653) == "0.66"
