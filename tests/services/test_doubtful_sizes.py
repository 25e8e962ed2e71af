"""What the old pump tells is shown as finely as its doubt supports, and never narrower than it is."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.quantity.range import Range
from xref_app.services.doubtful_sizes import told_range, told_value


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [
        # by hand: the doubt is 0.152, so hundredths of a mm; 22.021 / 25.4 = 0.86697, 22.325 / 25.4 = 0.87894
        (22.021, 22.325, "22.02 to 22.33 mm (0.8669 to 0.8790 in)"),
        # doubt 1.5 mm, so tenths; 60.4 / 25.4 = 2.3780, 63.4 / 25.4 = 2.4961
        (60.41, 63.41, "60.4 to 63.5 mm (2.378 to 2.497 in)"),
        (10.0, 60.0, "10 to 60 mm (0.39 to 2.37 in)"),
    ],
)
def test_a_range_keeps_two_digits_of_its_doubt_and_is_rounded_outwards(low: float, high: float, shown: str) -> None:
    assert told_range(Range(low, high)) == shown


def test_inches_come_first_where_asked_for() -> None:
    assert told_range(Range(22.021, 22.325), inch_first=True) == "0.8669 to 0.8790 in (22.02 to 22.33 mm)"
    assert told_value(202.201, 0.5, inch_first=True) == "7.96 in (202.2 mm)"


@pytest.mark.parametrize(
    ("value", "doubt", "shown"),
    [
        (202.201, 0.5, "202.2 mm (7.96 in)"),  # 202.201 / 25.4 = 7.9607, doubt 0.0197 in
        (14.0, 0.1, "14 mm (0.551 in)"),
        (4.7625, 0.05, "4.76 mm (3/16 in)"),
        (61.937, 2.0, "62 mm (2.44 in)"),
        (61.937, 0.0, "61.937 mm (2.4385 in)"),
    ],
)
def test_a_value_keeps_one_digit_of_its_doubt(value: float, doubt: float, shown: str) -> None:
    assert told_value(value, doubt) == shown


@given(st.integers(0, 200_000), st.integers(2, 20_000))
def test_what_is_shown_holds_all_that_may_be(microns: int, doubt: int) -> None:
    value = Range((microns) / 1000, (microns + 2 * doubt) / 1000)
    numbers = [float(text) for text in re.findall(r"[\d.]+", told_range(value))]
    assert numbers[0] <= value.low + 1e-9
    assert numbers[1] >= value.high - 1e-9
    assert numbers[0] >= value.low - max(value.doubt / 10, 1e-3) - 1e-9
    assert numbers[2] * 25.4 <= value.low + 1e-7
    assert numbers[3] * 25.4 >= value.high - 1e-7
