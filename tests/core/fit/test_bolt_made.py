"""How long a bolt may be that is sold as so long, and how thick its washer: against a second list, from memory."""

from __future__ import annotations

import pytest

from tests.core.bolts_as_sold import lengths_sold_mm, washers_sold_mm
from xref_app.core.fit.bolt_made import length_as_made_mm, washer_mm
from xref_app.core.fit.bolt_size import bolt_of_or_none
from xref_app.core.standards.bolts import standard_lengths_mm

# Nominal diameters by name, mm: 1 in = 25.4 mm.
INCH_MM = {"1/4-20": 6.35, "5/16-24": 7.938, "3/8-16": 9.525, "7/16-14": 11.113}
NOMINAL_MM = INCH_MM | {"M6": 6, "M8": 8, "M10": 10, "M12": 12}


@pytest.mark.parametrize("thread", NOMINAL_MM)
def test_every_standard_length_has_the_limits_of_the_second_list(thread: str) -> None:
    bolt = bolt_of_or_none(thread)
    assert bolt is not None
    assert bolt.nominal_mm == pytest.approx(NOMINAL_MM[thread], abs=0.001)
    for length in standard_lengths_mm(bolt.system):
        made = length_as_made_mm(bolt, length)
        sold = lengths_sold_mm(length, is_metric=thread.startswith("M"), nominal_mm=NOMINAL_MM[thread])
        assert (made.low, made.high) == pytest.approx(sold, abs=0.001)
    washer = washer_mm(bolt)
    assert (washer.low, washer.high) == washers_sold_mm(NOMINAL_MM[thread])


def test_a_bolt_longer_than_the_table_is_in_no_less_doubt_than_its_last_row() -> None:
    for thread in ("M8", "5/16-24"):
        bolt = bolt_of_or_none(thread)
        assert bolt is not None
        longest, longer = length_as_made_mm(bolt, 250.0), length_as_made_mm(bolt, 400.0)
        assert longer.high - longer.low >= longest.high - longest.low
        assert longer.low < 400.0 <= longer.high
