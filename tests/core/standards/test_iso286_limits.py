"""ISO 286: well-known published limits, and what must hold in every band. Whole tables: check_with_isofits.py."""

from __future__ import annotations

import copy

import pytest

from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.limits import GRADES, ZONES, limits_mm, tolerance_mm


@pytest.mark.parametrize(
    ("zone", "size_mm", "low_um", "high_um"),
    # Source: ISO 286-2, tables of limit deviations; the first four are the fits of IEC 60072-1 shafts and ISO 773 keys.
    [
        ("j6", 24, -4, 9),
        ("k6", 38, 2, 18),
        ("h9", 8, -36, 0),
        ("D10", 8, 40, 98),
        ("N9", 8, -36, 0),
        ("JS9", 8, -18, 18),
        ("P9", 8, -51, -15),
        ("H7", 25, 0, 21),
        ("h6", 25, -13, 0),
        ("H9", 30, 0, 52),
    ],
)
def test_limits_are_the_published_ones(zone: str, size_mm: float, low_um: float, high_um: float) -> None:
    limits = limits_mm(zone, size_mm)
    assert ((limits.low - size_mm) * 1000, (limits.high - size_mm) * 1000) == pytest.approx((low_um, high_um), abs=1e-6)


@pytest.mark.parametrize("grade", GRADES)
@pytest.mark.parametrize("edge_mm", [3, 6, 10, 18, 30, 50, 80, 120, 180])
def test_edge_of_a_band_belongs_to_the_lower_band(grade: int, edge_mm: float) -> None:
    # Source: ISO 286-1: bands are over .. up to and including.
    assert tolerance_mm(grade, edge_mm) == tolerance_mm(grade, edge_mm - 0.5)
    assert tolerance_mm(grade, edge_mm) < tolerance_mm(grade, edge_mm + 0.001)


@pytest.mark.parametrize("size_mm", [2, 5, 8, 15, 24, 40, 60, 100, 150, 200])
def test_five_grades_up_is_ten_times_the_tolerance(size_mm: float) -> None:
    # Source: ISO 286-1: from IT6 on, each fifth grade multiplies by ten; IT6 is printed to 1 µm.
    assert tolerance_mm(11, size_mm) == pytest.approx(10 * tolerance_mm(6, size_mm), abs=10 * 0.0005 + 1e-9)


@pytest.mark.parametrize("zone", ZONES)
def test_zone_is_as_wide_as_its_grade(zone: str) -> None:
    grade = int("".join(letter for letter in zone if letter.isdigit()))
    for size_mm in (2, 5, 8, 15, 24, 40, 60, 100, 150, 200):
        limits = limits_mm(zone, size_mm)
        assert limits.high - limits.low == pytest.approx(tolerance_mm(grade, size_mm), abs=1e-9)


@pytest.mark.parametrize("size_mm", [0, -1, 250.001, float("nan"), float("inf")])
def test_size_outside_the_table_is_refused_in_one_sentence(size_mm: float) -> None:
    with pytest.raises(
        NotInStandardError, match="is not in our table of ISO 286; give a size above 0 and up to 250 mm"
    ):
        tolerance_mm(9, size_mm)


def test_unknown_zone_and_grade_are_refused_and_the_error_keeps_its_parts() -> None:
    with pytest.raises(NotInStandardError) as raised:
        limits_mm("z9", 20)
    assert str(raised.value).startswith("The tolerance zone z9 is not in our table of ISO 286; use one of h6, ")
    again = copy.copy(raised.value)
    assert (again.asked, again.table, again.advice) == (raised.value.asked, raised.value.table, raised.value.advice)
    with pytest.raises(NotInStandardError, match=r"^The tolerance grade IT12 is not in our table of ISO 286-1"):
        tolerance_mm(12, 20)
