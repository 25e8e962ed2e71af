"""Bolt circles from every way of measuring, against holes laid out by trigonometry; unequal sides are warned of."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.identify.circle import CircleFound, HoleDistance, Spacing, circle_from
from xref_app.core.identify.circle_sizes import standard_circles
from xref_app.core.quantity.edges import EdgeReading, Taken, centre_distance_of_both_mm
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError

Point = tuple[float, float]
Pattern = tuple[int, float, int, Taken | None, float]
NEAR_ENOUGH_MM = 0.02  # the issue's own limit
DOUBT_MM = 0.1


def on_circle(diameter: float, angles_deg: list[float]) -> list[Point]:
    radius = diameter / 2
    return [(radius * math.cos(math.radians(one)), radius * math.sin(math.radians(one))) for one in angles_deg]


def taken_between(one: Point, other: Point, holes_mm: tuple[float, float], taken: Taken) -> float:
    """Return what exact jaws read, from where the edges of two drilled holes lie on the line through their centres."""
    centres, (first, second) = math.dist(one, other), holes_mm
    return {
        Taken.CENTRES: centres,
        Taken.NEAR_EDGES: (centres - second / 2) - first / 2,
        Taken.FAR_EDGES: (centres + second / 2) + first / 2,
    }[taken]


@st.composite
def patterns(draw: st.DrawFn) -> Pattern:
    """Return number of holes, circle, steps, way of taking (None: near and far edges both), and hole size."""
    holes = draw(st.integers(2, 8))
    hole_mm, diameter = draw(st.floats(5, 14)), draw(st.floats(60, 300))
    return holes, diameter, draw(st.integers(1, holes // 2)), draw(st.sampled_from([*Taken, None])), hole_mm


def read_off(pattern: Pattern, errors: list[float], doubt: float) -> CircleFound:
    holes, diameter, steps, taken, hole_mm = pattern
    points = on_circle(diameter, [360 * one / holes for one in range(holes)])
    ways = [taken] if taken else [Taken.NEAR_EDGES, Taken.FAR_EDGES]
    exact = [taken_between(points[0], points[steps], (hole_mm, hole_mm), way) for way in ways]
    read = [Range.around(one + error, doubt) for one, error in zip(exact, errors[2:], strict=False)]
    diameters = tuple(Range.around(hole_mm + error, doubt) for error in errors[:2])
    if taken:
        reading = EdgeReading(read[0], taken, diameters)
    else:
        reading = EdgeReading(centre_distance_of_both_mm(near_edges=read[0], far_edges=read[1]))
    return circle_from([HoleDistance(reading, steps)], holes=holes)


@given(patterns())
def test_exact_readings_give_the_circle_whatever_was_measured(pattern: Pattern) -> None:
    found = read_off(pattern, [0, 0, 0, 0], 0)
    assert found.diameter_mm.middle == pytest.approx(pattern[1], abs=NEAR_ENOUGH_MM)
    assert found.diameter_mm.doubt < 1e-6


@given(patterns(), st.lists(st.floats(-DOUBT_MM, DOUBT_MM), min_size=4, max_size=4))
def test_the_true_circle_lies_inside_the_doubt(pattern: Pattern, errors: list[float]) -> None:
    assert Range.exactly(pattern[1]).within(read_off(pattern, errors, DOUBT_MM).diameter_mm)


@given(patterns())
def test_one_distance_is_never_taken_for_proof_of_equal_spacing(
    pattern: Pattern,
) -> None:
    found = read_off(pattern, [0, 0, 0, 0], DOUBT_MM)
    assert found.spacing is Spacing.ASSUMED_EQUAL
    assert "only if" in str(found.notes[0])


@st.composite
def threes(draw: st.DrawFn) -> tuple[float, list[float], list[float]]:
    """Return a circle, the angles of three holes on it, and three errors."""
    arcs = [draw(st.floats(40, 150)), draw(st.floats(40, 150))]
    start = draw(st.floats(0, 360))
    errors = draw(st.lists(st.floats(-DOUBT_MM, DOUBT_MM), min_size=3, max_size=3))
    return draw(st.floats(80, 300)), [start, start + arcs[0], start + arcs[0] + arcs[1]], errors


def three_sides(diameter: float, angles_deg: list[float]) -> list[float]:
    return [math.dist(one, other) for one, other in combinations(on_circle(diameter, angles_deg), 2)]


def of_three(sides: list[float], doubt: float) -> CircleFound:
    return circle_from([HoleDistance(EdgeReading(Range.around(side, doubt))) for side in sides], holes=3)


@given(threes())
def test_three_holes_anywhere_give_their_circle(case: tuple[float, list[float], list[float]]) -> None:
    diameter, angles, errors = case
    sides = three_sides(diameter, angles)
    assert of_three(sides, 0).diameter_mm.middle == pytest.approx(diameter, abs=NEAR_ENOUGH_MM)
    found = of_three([side + error for side, error in zip(sides, errors, strict=True)], DOUBT_MM)
    assert Range.exactly(diameter).within(found.diameter_mm)
    assert sum(found.arcs_deg) == pytest.approx(360)


@given(threes(), st.lists(st.floats(-1, 1), min_size=3, max_size=3))
def test_the_doubt_of_three_sides_holds_every_triangle_within_it(
    case: tuple[float, list[float], list[float]], where: list[float]
) -> None:
    # Independent of Heron: the circle through three points from the perpendicular bisectors.
    sides = three_sides(case[0], case[1])
    a, b, c = (side + DOUBT_MM * one for side, one in zip(sides, where, strict=True))
    foot = (a**2 + b**2 - c**2) / (2 * a)
    height = math.sqrt(b**2 - foot**2)
    centre_y = (foot**2 + height**2 - a * foot) / (2 * height)
    diameter = 2 * math.hypot(a / 2, centre_y)
    assert Range.exactly(diameter).within(of_three(sides, DOUBT_MM).diameter_mm)


def test_a_right_angle_inside_the_doubts_does_not_hide_the_smallest_circle() -> None:
    # Thales: over a right angle the longest side is the diameter; every corner of the doubts lies above that.
    found = of_three([30, 40, 50], DOUBT_MM)
    assert found.diameter_mm.low == pytest.approx(50 - DOUBT_MM)


def test_the_unequal_triangle_of_the_trade_is_warned_of() -> None:
    # A trade page lists 7-11/16, 6-3/16 and 6-7/16 in for 3-bolt pumps; read as one triangle (an inference) that is a
    # 7.96 in circle with arcs of 150, 102 and 108 degrees, rounded as printed there.
    sides = [7.6875 * 25.4, 6.1875 * 25.4, 6.4375 * 25.4]
    found = of_three(sides, DOUBT_MM)
    assert found.diameter_mm.middle / 25.4 == pytest.approx(7.96, abs=0.005)
    assert found.arcs_deg == pytest.approx((150, 102, 108), abs=0.5)
    assert found.spacing is Spacing.UNEQUAL
    said = str(found.notes[0])
    assert "The three sides differ: the holes are not equally spaced" in said
    assert "do not use one distance" in said
    # From one distance alone the same face would have given 8.88, 7.14 or 7.43 in: none is the circle.
    for side, printed_in in zip(sides, (8.88, 7.14, 7.43), strict=True):
        alone = circle_from([HoleDistance(EdgeReading(Range.exactly(side)))], holes=3)
        assert alone.diameter_mm.middle / 25.4 == pytest.approx(printed_in, abs=0.006)
        assert alone.spacing is Spacing.ASSUMED_EQUAL
        assert not alone.diameter_mm.meets(found.diameter_mm)


def test_three_equal_sides_are_not_warned_of() -> None:
    found = of_three([173.1, 173.2, 173.3], DOUBT_MM)
    assert found.spacing is Spacing.CAN_BE_EQUAL
    assert found.notes == ()


@pytest.mark.parametrize("sides", [(50, 50, 99.9), (50, 50, 120), (100, 40, 59)])
def test_three_holes_in_a_line_have_no_circle(sides: tuple[float, float, float]) -> None:
    with pytest.raises(ReadingError, match="one line"):
        of_three(list(sides), DOUBT_MM)


def test_several_distances_that_agree_narrow_the_circle() -> None:
    side, diagonal = 65.1, 65.1 * math.sqrt(2)
    found = circle_from(
        [
            HoleDistance(EdgeReading(Range.around(side, DOUBT_MM))),
            HoleDistance(EdgeReading(Range.around(diagonal, DOUBT_MM)), steps=2),
        ],
        holes=4,
    )
    assert found.diameter_mm.doubt == pytest.approx(DOUBT_MM)
    assert found.spacing is Spacing.CAN_BE_EQUAL


def test_a_rhombus_has_four_equal_sides_and_no_such_circle_so_agreement_is_no_proof() -> None:
    found = circle_from([HoleDistance(EdgeReading(Range.around(65.1, DOUBT_MM)))] * 4, holes=4)
    assert found.spacing is Spacing.CAN_BE_EQUAL
    assert "do not prove" in str(found.notes[0])


def test_a_rectangle_is_not_taken_for_a_circle_of_equal_spacing() -> None:
    with pytest.raises(ReadingError, match="not equally spaced"):
        circle_from([HoleDistance(EdgeReading(Range.around(side, DOUBT_MM))) for side in (60, 70)], holes=4)


@pytest.mark.parametrize(("holes", "steps"), [(1, 1), (9, 1), (4, 3), (4, 0), (2, 2)])
def test_impossible_counts_are_refused(holes: int, steps: int) -> None:
    with pytest.raises(ReadingError):
        circle_from([HoleDistance(EdgeReading(Range.around(60, DOUBT_MM)), steps)], holes=holes)


def test_no_distance_is_refused() -> None:
    with pytest.raises(ReadingError, match="no distance"):
        circle_from([], holes=4)


@pytest.mark.parametrize(
    ("diameter", "labels", "deciding"),
    # NEMA MG 1: 5-7/8 in. The 3-5/8 in engine circle and IEC's 165 mm are hints; 6-1/2 in is 165.1 mm.
    [
        (149.2, ["5-7/8 in", "149 mm"], {"5-7/8 in"}),
        (92.1, ["3-5/8 in", "92 mm"], set()),
        (165.05, ["165 mm", "6-1/2 in"], set()),
        (254.0, ["10 in = 254 mm"], set()),
        (202.18, ["7.96 in", "202 mm"], set()),
    ],
)
def test_sizes_of_circles(diameter: float, labels: list[str], deciding: set[str]) -> None:
    found = standard_circles(Range.around(diameter, DOUBT_MM))
    assert sorted(one.label for one in found.candidates) == sorted(labels)
    assert {one.label for one in found.candidates if one.decides} == deciding
    assert found.ambiguous is (len(labels) > 1)
    assert (found.next_measurement is None) is (len(labels) == 1)


@given(st.floats(40, 350))
def test_no_sixteenth_or_millimetre_inside_the_reading_is_dropped(middle: float) -> None:
    reading = Range.around(middle, DOUBT_MM)
    sizes = {round(one.nominal_mm, 6) for one in standard_circles(reading).candidates}
    inside = [float(mm) for mm in range(30, 360) if reading.low <= mm <= reading.high]
    inside += [n * 25.4 / 16 for n in range(1, 240) if reading.low <= n * 25.4 / 16 <= reading.high]
    assert {round(one, 6) for one in inside} <= sizes


def test_a_circle_far_from_every_size_or_too_coarse_is_said_to_be_none() -> None:
    assert "lies within" in str(standard_circles(Range.exactly(100.5)).notes[0])
    assert "measure it finer" in str(standard_circles(Range.around(100, 3)).notes[0])
