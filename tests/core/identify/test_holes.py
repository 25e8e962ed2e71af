"""General sets of holes from all distances, against positions laid out beforehand."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import combinations, product

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from xref_app.core.identify.holes import AXIS, Apart, HolesFound, SeenFrom, holes_from
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError

Point = tuple[float, float]
Draw = Callable[[st.SearchStrategy[float]], float]
NEAR_ENOUGH_MM = 0.02  # the issue's own limit
DOUBT_MM = 0.1


@st.composite
def faces(draw: st.DrawFn) -> list[Point]:
    """Return 3 to 8 holes counter-clockwise about the axis at the origin, neither evenly spaced nor on one circle."""
    gaps = draw(st.lists(st.floats(1, 1.9), min_size=3, max_size=8))
    turn, angle = 360 / sum(gaps), draw(st.floats(0, 360))
    points = []
    for gap in gaps:
        angle += gap * turn
        radius = draw(st.floats(35, 70))
        points.append((radius * math.cos(math.radians(angle)), radius * math.sin(math.radians(angle))))
    return points


def read(points: list[Point], draw: Draw | None = None, *, axis: bool, doubt: float = 0.0) -> list[Apart]:
    numbered = dict(enumerate(points, start=1)) | ({AXIS: (0.0, 0.0)} if axis else {})
    found = []
    for one, other in combinations(sorted(numbered), 2):
        error = draw(st.floats(-doubt, doubt)) if draw else 0.0
        found.append(Apart(one, other, Range.around(math.dist(numbered[one], numbered[other]) + error, doubt)))
    return found


def in_the_frame(points: list[Point], *, axis: bool, mirrored: bool = False) -> list[Point]:
    """Return the true holes as reported: about the axis with hole 1 to the right, or about their own middle."""
    count = len(points)
    x0, y0 = (0.0, 0.0) if axis else (sum(x for x, _ in points) / count, sum(y for _, y in points) / count)
    aim = points[0] if axis else (points[1][0] - points[0][0], points[1][1] - points[0][1])
    angle = -math.atan2(aim[1], aim[0])
    turned = [
        (
            (x - x0) * math.cos(angle) - (y - y0) * math.sin(angle),
            (x - x0) * math.sin(angle) + (y - y0) * math.cos(angle),
        )
        for x, y in points
    ]
    return [(x, -y) for x, y in turned] if mirrored else turned


@given(faces(), st.booleans(), st.sampled_from(SeenFrom))
def test_exact_distances_give_the_holes(points: list[Point], axis: bool, seen_from: SeenFrom) -> None:
    found = holes_from(read(points, axis=axis), holes=len(points), seen_from=seen_from)
    true = in_the_frame(points, axis=axis, mirrored=seen_from is SeenFrom.LOOSE_PUMP)
    for got, wanted in zip(found.holes_xy_mm, true, strict=True):
        assert math.dist(got, wanted) < NEAR_ENOUGH_MM
    assert max(map(abs, found.off_mm.values())) < 1e-6
    assert found.about_axis is axis


@given(faces(), st.booleans(), st.data())
def test_the_true_holes_lie_inside_the_doubts(points: list[Point], axis: bool, data: st.DataObject) -> None:
    distances = read(points, data.draw, axis=axis, doubt=DOUBT_MM)
    found = holes_from(distances, holes=len(points), seen_from=SeenFrom.ENGINE)
    for got, (x, y) in zip(found.holes, in_the_frame(points, axis=axis), strict=True):
        assert Range.exactly(x).within(got.x_mm)
        assert Range.exactly(y).within(got.y_mm)


@pytest.mark.parametrize(
    ("points", "doubt"),
    [
        ([(0.0, 0.0), (90.0, 0.0), (40.0, 60.0)], 1.0),
        ([(0.0, 0.0), (80.0, 0.0), (55.0, 25.0)], 0.5),
        ([(46.0, 0.0), (0.0, 46.0), (-46.0, 0.0), (0.0, -46.0)], 0.5),
        ([(50.0, 0.0), (10.0, 60.0), (-40.0, 5.0), (0.0, -55.0)], 0.1),
    ],
)
def test_no_corner_of_the_doubts_leads_past_the_ranges(points: list[Point], doubt: float) -> None:
    # Every reading as wrong as its doubt allows, all ways: the linear part alone would be too narrow here, and least
    # squares leave up to 1.2 doubts on the diagonals of the square although the readings are honest.
    exact, true = read(points, axis=False), in_the_frame(points, axis=False)
    for signs in product((-1, 1), repeat=len(exact)):
        distances = [
            Apart(one.first, one.second, Range.around(one.distance.middle + sign * doubt, doubt))
            for one, sign in zip(exact, signs, strict=True)
        ]
        found = holes_from(distances, holes=len(points), seen_from=SeenFrom.ENGINE)
        for got, (x, y) in zip(found.holes, true, strict=True):
            assert Range.exactly(x).within(got.x_mm)
            assert Range.exactly(y).within(got.y_mm)


@pytest.mark.parametrize("height_mm", [0.3 * step for step in range(1, 40)])
def test_a_pattern_is_never_placed_while_its_mirror_image_suits_the_ranges(height_mm: float) -> None:
    points = [(0.0, 0.0), (80.0, 0.0), (40.0, height_mm)]
    try:
        found = holes_from(read(points, axis=False, doubt=0.1), holes=3, seen_from=SeenFrom.ENGINE)
    except ReadingError:
        assert height_mm < 6, "a triangle that a caliper does see must be placed"
        return
    mirrored = in_the_frame(points, axis=False, mirrored=True)
    assert not all(Range.exactly(y).within(hole.y_mm) for hole, (_, y) in zip(found.holes, mirrored, strict=True))


@given(faces())
def test_holes_run_counter_clockwise_as_numbered_and_the_other_way_on_the_loose_pump(points: list[Point]) -> None:
    engine, pump = (
        holes_from(read(points, axis=True), holes=len(points), seen_from=seen).holes_xy_mm for seen in SeenFrom
    )
    assert swept_deg(engine) == pytest.approx(360)
    assert swept_deg(pump) == pytest.approx(-360)


def test_holes_on_one_side_of_the_axis_run_as_numbered_though_their_polygon_runs_the_other_way() -> None:
    # Seen from the axis 0, 60 and 120 degrees; the middle hole is so near that the triangle of holes is clockwise.
    points = [
        (r * math.cos(math.radians(at)), r * math.sin(math.radians(at))) for r, at in ((70, 0), (20, 60), (70, 120))
    ]
    found = holes_from(read(points, axis=True, doubt=0.05), holes=3, seen_from=SeenFrom.ENGINE)
    for got, wanted in zip(found.holes_xy_mm, points, strict=True):
        assert math.dist(got, wanted) < NEAR_ENOUGH_MM


def swept_deg(points: tuple[Point, ...]) -> float:
    """Return by how much the view from the axis turns along all holes and back to the first."""
    angles = [math.degrees(math.atan2(y, x)) for x, y in points]
    return sum(
        (after - before + 180) % 360 - 180 for before, after in zip(angles, angles[1:] + angles[:1], strict=True)
    )


@given(faces(), st.data())
def test_a_slip_far_beyond_the_doubts_is_refused_by_name(points: list[Point], data: st.DataObject) -> None:
    assume(len(points) > 3)
    distances = read(points, axis=False, doubt=0.05)
    slipped = data.draw(st.integers(0, len(distances) - 1))
    one = distances[slipped]
    distances[slipped] = Apart(one.first, one.second, one.distance + 10.0)
    with pytest.raises(ReadingError, match=r"contradict each other|longer than the way round|cannot place the holes"):
        holes_from(distances, holes=len(points), seen_from=SeenFrom.ENGINE)


def test_the_worst_distance_is_named() -> None:
    # Six holes evenly on a 100 mm circle; the distance from hole 2 to hole 5 read 3 mm too long.
    points = [(50 * math.cos(math.radians(one)), 50 * math.sin(math.radians(one))) for one in range(0, 360, 60)]
    distances = [
        Apart(one.first, one.second, one.distance + (3.0 if (one.first, one.second) == (2, 5) else 0.0))
        for one in read(points, axis=False, doubt=0.05)
    ]
    with pytest.raises(ReadingError, match=r"worst the one from hole 2 to hole 5: it reads 103\.00 mm"):
        holes_from(distances, holes=6, seen_from=SeenFrom.ENGINE)


def two_beside_the_axis(angle_deg: float) -> HolesFound:
    second = (60 * math.cos(math.radians(angle_deg)), 60 * math.sin(math.radians(angle_deg)))
    return holes_from(read([(60.0, 0.0), second], axis=True, doubt=0.05), holes=2, seen_from=SeenFrom.ENGINE)


def test_two_holes_beside_the_axis_turn_the_short_way() -> None:
    assert two_beside_the_axis(100).holes_xy_mm[1][1] > 0
    assert two_beside_the_axis(-100).holes_xy_mm[1][1] > 0


def test_two_holes_opposite_each_other_cannot_be_placed_across_the_line() -> None:
    with pytest.raises(ReadingError, match="too nearly in one line"):
        two_beside_the_axis(180)


@pytest.mark.parametrize(
    ("points", "axis"), [([(0, 0), (40, 0), (80, 0)], False), ([(0, 0), (40, 0.3), (80, 0)], False)]
)
def test_holes_in_one_line_are_refused(points: list[Point], axis: bool) -> None:
    with pytest.raises(ReadingError, match="too nearly in one line"):
        holes_from(read(points, axis=axis, doubt=DOUBT_MM), holes=3, seen_from=SeenFrom.ENGINE)


def test_a_missing_a_doubled_and_a_foreign_distance_are_refused() -> None:
    square = read([(46, 0), (0, 46), (-46, 0), (0, -46)], axis=True, doubt=DOUBT_MM)
    for distances, said in (
        (square[:-1], "from hole 3 to hole 4 is missing"),
        (square[1:], "from the shaft to hole 1 is missing"),
        ([*square, square[0]], "given twice"),
        ([*square, Apart(1, 5, Range(1, 2))], "none of a face of 4 holes"),
        ([*square, Apart(1, 1, Range(1, 2))], "none of a face of 4 holes"),
    ):
        with pytest.raises(ReadingError, match=said):
            holes_from(distances, holes=4, seen_from=SeenFrom.ENGINE)


def test_a_side_longer_than_the_way_round_is_named() -> None:
    distances = [Apart(1, 2, Range.exactly(100)), Apart(1, 3, Range.exactly(40)), Apart(2, 3, Range.exactly(50))]
    with pytest.raises(ReadingError, match=r"from hole 1 to hole 2 \(100\.00 mm\) is longer than the way round"):
        holes_from(distances, holes=3, seen_from=SeenFrom.ENGINE)


@pytest.mark.parametrize("holes", [1, 9])
def test_too_few_or_too_many_holes_are_refused(holes: int) -> None:
    with pytest.raises(ReadingError, match="give 2 to 8 holes"):
        holes_from([], holes=holes, seen_from=SeenFrom.ENGINE)


def test_without_the_axis_it_is_said_about_what_the_holes_are_given() -> None:
    square = [(46.0, 0.0), (0.0, 46.0), (-46.0, 0.0), (0.0, -46.0)]
    found = holes_from(read(square, axis=False), holes=4, seen_from=SeenFrom.LOOSE_PUMP)
    said = " ".join(str(note) for note in found.notes)
    assert "about their own middle" in said
    assert "mirrored" in said
    assert holes_from(read(square, axis=True), holes=4, seen_from=SeenFrom.ENGINE).notes == ()
