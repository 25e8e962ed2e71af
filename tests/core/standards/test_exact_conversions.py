"""Our exact conversions against scipy.constants and exact arithmetic."""

from __future__ import annotations

from fractions import Fraction

import pytest
from scipy import constants

from xref_app.core.standards import exact


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        (exact.INCH_IN_MM, constants.inch * 1000),
        (exact.GALLON_IN_LITRES, constants.gallon * 1000),
        (exact.POUND_FORCE_IN_N, constants.pound_force),
        (exact.PSI_IN_BAR, constants.psi / constants.bar),
        (exact.PSI_IN_MPA, constants.psi / 1e6),
        (exact.HORSEPOWER_IN_KW, constants.hp / 1000),
    ],
)
def test_constant_agrees_with_scipy(ours: Fraction, theirs: float) -> None:
    assert float(ours) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize("sixty_fourths", range(1, 200))
def test_printed_inches_are_read_back_exactly(sixty_fourths: int) -> None:
    value = Fraction(sixty_fourths, 64)
    assert exact.as_fraction(exact.as_printed(value)) == value
    assert exact.inch_mm(value) == pytest.approx(sixty_fourths * 25.4 / 64, rel=1e-15)


@pytest.mark.parametrize("printed", ["", "7//8", "1 1/4", "one"])
def test_what_no_table_prints_is_refused(printed: str) -> None:
    with pytest.raises(ValueError, match="Invalid literal for Fraction"):
        exact.as_fraction(printed)
