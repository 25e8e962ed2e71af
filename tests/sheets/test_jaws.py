"""Where the jaws go in each picture: on the edges of what is drawn, as far apart as the size that is asked for."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations, pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fields.fields import Field, Kind, all_fields
from xref_app.sheets import jaws_bore, jaws_face, jaws_holes, jaws_seats, jaws_shaft, jaws_thread
from xref_app.sheets.jaws import jaw_drawing
from xref_app.sheets.jaws_shapes import Circle, JawDrawing, Point, Shape
from xref_app.sheets.jaws_shapes import Kind as Drawn

# Arcs are drawn in 96 pieces a turn, which stand inside a 12 mm circle by at most 12 (1 - cos(pi / 96)) = 0.0064 mm.
ON_AN_EDGE_MM = 0.0065
SOLID = {Drawn.PART, Drawn.CUT, Drawn.EMPTY, Drawn.EDGE, Drawn.MEASURED, Drawn.TOOL}
HOLE_FIELDS = ("face_holes_xy_mm", "flange_holes_xy_mm")
HOLES_STEPS = ("count", "neighbours", "opposite", "hole size", "shaft to hole 2", "shaft or bore", "turn")
THREAD_STEPS = ("outside large end", "outside small end", "inside", "crests", "gauge", "taper", "angle", "seal")
# What the drawn part measures, each from the numbers it is drawn with.
SIZES = {
    "shaft_diameter_mm": jaws_shaft.SHAFT_MM,
    "shaft_projection_mm": jaws_shaft.PROJECTION_MM,
    "shaft_key_width_mm": jaws_shaft.KEY_WIDTH_MM,
    "shaft_key_top_mm": jaws_shaft.KEY_TOP_MM,
    "shaft_keyseat_length_mm": jaws_shaft.KEYSEAT_LENGTH_MM,
    "shaft_keyseat_from_end_mm": jaws_shaft.KEYSEAT_FROM_END_MM,
    "face_hole_mm": jaws_face.HOLE_MM,
    "face_thickness_mm": jaws_face.THICKNESS_MM,
    "face_bolt_length_mm": jaws_face.BOLT_LENGTH_MM,
    "face_tapped_depth_mm": jaws_face.THREAD_DEEP_MM,
    "face_pilot_mm": jaws_face.PILOT_MM,
    "face_pilot_depth_mm": jaws_face.PILOT_HIGH_MM,
    "face_seat_heights_mm": jaws_seats.GAP_MM,
    "room_length_mm": jaws_face.ROOM_MM,
    "bore_diameter_mm": jaws_bore.BORE_MM,
    "bore_depth_mm": jaws_bore.DEPTH_MM,
    "bore_recess_mm": jaws_bore.RECESS_MM,
    "bore_keyway_width_mm": jaws_bore.KEYWAY_WIDTH_MM,
    "bore_keyway_floor_mm": jaws_bore.KEYWAY_FLOOR_MM,
    "bore_keyway_from_mm": jaws_bore.KEYWAY_FROM_MM,
    "bore_keyway_to_mm": jaws_bore.KEYWAY_TO_MM,
    "flange_hole_mm": jaws_face.HOLE_MM,
    "flange_thickness_mm": jaws_face.THICKNESS_MM,
    "flange_pilot_mm": jaws_face.PILOT_MM,
    "flange_pilot_depth_mm": jaws_face.PILOT_HIGH_MM,
    "flange_seat_heights_mm": jaws_seats.GAP_MM,
    "pump_length_mm": jaws_face.PUMP_LENGTH_MM,
}
counts = st.integers(2, 8)


@st.composite
def pairs(draw: st.DrawFn) -> tuple[int, int, int]:
    """Return a count of holes and two different ones of them."""
    holes = draw(counts)
    one = draw(st.integers(1, holes))
    other = draw(st.integers(1, holes).filter(lambda number: number != one))
    return holes, one, other


def is_taken_with_a_tool(field: Field) -> bool:
    """Lengths, angles, holes, seats, threads and free room are; what a plate says or a word names is not."""
    if field.kind is Kind.NUMBER:
        return field.unit in {"mm", "deg"}
    return field.kind in {Kind.HOLES, Kind.HEIGHTS, Kind.THREAD, Kind.SECTORS}


def needed(field_id: str, *, step: str = "", holes: int = 4, way: str = "") -> JawDrawing:
    drawing = jaw_drawing(field_id, step=step, holes=holes, way=way)
    assert drawing is not None
    return drawing


def every_drawing() -> Iterator[tuple[str, JawDrawing]]:
    """Yield every picture there is with a name, those of a face for each count of holes."""
    taken = [one.field_id for one in all_fields().values() if is_taken_with_a_tool(one)]
    yield from ((field_id, needed(field_id)) for field_id in taken)
    for field_id, step in product(("inlet_thread", "face_bolt"), THREAD_STEPS):
        yield f"{field_id} {step}", needed(field_id, step=step)
    for field_id, step, holes, way in product(HOLE_FIELDS, HOLES_STEPS, range(2, 9), ("outer edges", "inner edges")):
        yield f"{field_id} {step} {holes} {way}", needed(field_id, step=step, holes=holes, way=way)
    yield from ((f"seats {holes}", needed("flange_seat_heights_mm", holes=holes)) for holes in range(2, 9))


EVERY = dict(every_drawing())


def from_line(point: Point, start: Point, end: Point) -> float:
    (x, y), (ax, ay), (bx, by) = point, start, end
    long = (bx - ax) ** 2 + (by - ay) ** 2
    share = 0.0 if long == 0 else max(0.0, min(1.0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long))
    return math.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay))


def from_edge(point: Point, shape: Shape | Circle) -> float:
    """Return how far a point lies from the outline of a shape, mm."""
    if isinstance(shape, Circle):
        return abs(math.dist(point, (shape.x_mm, shape.y_mm)) - shape.radius_mm)
    points = [*shape.points, shape.points[0]] if shape.is_closed else list(shape.points)
    return min(from_line(point, start, end) for start, end in pairwise(points))


def is_inside(point: Point, shape: Shape) -> bool:
    """Say whether a point lies inside a closed outline (a ray to the right crosses it an odd number of times)."""
    x, y = point
    crossings = 0
    for (ax, ay), (bx, by) in pairwise([*shape.points, shape.points[0]]):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            crossings += 1
    return crossings % 2 == 1


def jaws_of(drawing: JawDrawing) -> list[Shape]:
    return [shape for shape in drawing.shapes if isinstance(shape, Shape) and shape.kind is Drawn.JAW]


def size_mm(drawing: JawDrawing) -> float:
    return drawing.spans[0].arrow.length_mm


def test_every_size_taken_with_a_tool_has_a_picture_and_nothing_else_has() -> None:
    drawn = {field_id for field_id in all_fields() if jaw_drawing(field_id) is not None}
    assert drawn == {field_id for field_id, field in all_fields().items() if is_taken_with_a_tool(field)}


@pytest.mark.parametrize("field_id", SIZES)
def test_the_arrow_is_as_long_as_the_size_that_the_field_means(field_id: str) -> None:
    drawing = needed(field_id)
    assert [span.arrow.length_mm for span in drawing.spans] == [pytest.approx(SIZES[field_id])] * len(drawing.spans)


def test_no_length_is_left_out_of_the_sizes_above() -> None:
    lengths = {one.field_id for one in all_fields().values() if one.kind is Kind.NUMBER and one.unit == "mm"}
    seals = {field_id for field_id in lengths if field_id.endswith("_seal_mm")}
    assert set(SIZES) == lengths - seals | {"face_seat_heights_mm", "flange_seat_heights_mm"}


@pytest.mark.parametrize("name", EVERY)
def test_the_touched_points_lie_on_edges_of_what_is_drawn(name: str) -> None:
    solid = [shape for shape in EVERY[name].shapes if shape.kind in SOLID]
    for span in EVERY[name].spans:
        for touch in span.touches:
            assert min(from_edge(touch, shape) for shape in solid) < ON_AN_EDGE_MM


@pytest.mark.parametrize("name", EVERY)
def test_the_arrow_shows_the_distance_of_the_touched_points_along_it(name: str) -> None:
    for span in EVERY[name].spans:
        (ax, ay), (bx, by) = span.arrow.points[0], span.arrow.points[-1]
        (tx, ty), (ux, uy) = span.touches
        along = ((ux - tx) * (bx - ax) + (uy - ty) * (by - ay)) / span.arrow.length_mm
        assert along == pytest.approx(span.arrow.length_mm)


@pytest.mark.parametrize("name", EVERY)
def test_every_picture_says_in_words_where_the_jaws_go(name: str) -> None:
    words = str(EVERY[name].words)
    assert len(words) > 20
    assert words.endswith(".")
    assert "{" not in words


def chord_mm(holes: int, one: int, other: int) -> float:
    """Plain geometry: the chord of a regular polygon's circle over (other - one) of its sides."""
    return jaws_holes.CIRCLE_MM * math.sin(math.pi * abs(other - one) / holes)


@given(pairs(), st.sampled_from(["{}-{}", "side {}-{}"]), st.sampled_from(HOLE_FIELDS))
def test_outer_edges_are_a_hole_more_and_inner_edges_a_hole_less_than_the_centres(
    pair: tuple[int, int, int], spelling: str, field_id: str
) -> None:
    holes, one, other = pair
    centres, step = chord_mm(holes, one, other), spelling.format(one, other)
    for way, more in (("outer edges", 1), ("inner edges", -1), ("centres", 0)):
        drawing = needed(field_id, step=step, holes=holes, way=way)
        assert size_mm(drawing) == pytest.approx(centres + more * jaws_holes.HOLE_MM)


@given(pairs(), st.sampled_from(["outer edges", "inner edges"]))
def test_the_jaws_stand_in_the_holes_and_touch_from_the_side_that_holds(pair: tuple[int, int, int], way: str) -> None:
    holes, one, other = pair
    drawing = needed("flange_holes_xy_mm", step=f"{one}-{other}", holes=holes, way=way)
    (start, end), jaws = drawing.spans[0].touches, jaws_of(drawing)
    long = math.dist(start, end)
    aside = 0.4 / long * (1 if way == "outer edges" else -1)
    for touch, far, hole in ((start, end, one), (end, start, other)):
        assert min(from_edge(touch, jaw) for jaw in jaws) < 1e-9
        body = (touch[0] + (far[0] - touch[0]) * aside, touch[1] + (far[1] - touch[1]) * aside)
        assert any(is_inside(body, jaw) for jaw in jaws)
        centre = jaws_holes.hole_centre(hole, holes)
        assert math.dist(body, centre) < jaws_holes.HOLE_MM / 2


@given(counts)
def test_neighbours_stand_as_near_and_opposite_ones_as_far_apart_as_any_two(holes: int) -> None:
    apart = [chord_mm(holes, one, other) for one, other in combinations(range(1, holes + 1), 2)]
    for step, expected in (("neighbours", min(apart)), ("opposite", max(apart))):
        drawing = needed("face_holes_xy_mm", step=step, holes=holes, way="centres")
        assert size_mm(drawing) == pytest.approx(expected)


@given(counts, st.data())
def test_from_the_shaft_to_a_hole_is_from_edge_to_near_edge(holes: int, data: st.DataObject) -> None:
    number = data.draw(st.integers(1, holes))
    drawing = needed("face_holes_xy_mm", step=f"shaft to hole {number}", holes=holes)
    between = (jaws_holes.CIRCLE_MM - jaws_holes.AXIS_MM - jaws_holes.HOLE_MM) / 2
    assert size_mm(drawing) == pytest.approx(between)
    middle = [sum(part) / 2 for part in zip(*drawing.spans[0].touches, strict=True)]
    centre = jaws_holes.hole_centre(number, holes)
    assert math.atan2(middle[1], middle[0]) == pytest.approx(math.atan2(centre[1], centre[0]))


@pytest.mark.parametrize("holes", range(2, 9))
def test_the_holes_are_numbered_counter_clockwise(holes: int) -> None:
    labels = [str(label.text) for label in needed("face_holes_xy_mm", step="count", holes=holes).labels]
    assert labels == [str(number) for number in range(1, holes + 1)]
    angles = [math.atan2(y, x) for x, y in (jaws_holes.hole_centre(number, holes) for number in range(1, holes + 1))]
    turns = [(after - before) % (2 * math.pi) for before, after in pairwise([*angles, angles[0]])]
    assert turns == [pytest.approx(2 * math.pi / holes)] * holes


def test_three_and_four_holes_are_two_pictures() -> None:
    three, four = (needed("face_holes_xy_mm", step="neighbours", holes=holes) for holes in (3, 4))
    assert three.shapes != four.shapes
    assert size_mm(three) != size_mm(four)


@given(pairs(), st.sampled_from(["outer edges", "inner edges"]))
def test_the_caliper_covers_no_other_hole(pair: tuple[int, int, int], way: str) -> None:
    holes, one, other = pair
    jaws = jaws_of(needed("face_holes_xy_mm", step=f"{one}-{other}", holes=holes, way=way))
    for number in set(range(1, holes + 1)) - {one, other}:
        centre = jaws_holes.hole_centre(number, holes)
        assert min(from_edge(centre, jaw) for jaw in jaws) > 0.9 * jaws_holes.HOLE_MM / 2
        assert not any(is_inside(centre, jaw) for jaw in jaws)


@pytest.mark.parametrize(("step", "holes"), [("1-1", 4), ("1-5", 4), ("neighbours", 1), ("count", 9), ("count", 0)])
def test_a_hole_that_is_not_there_has_no_picture(step: str, holes: int) -> None:
    assert jaw_drawing("face_holes_xy_mm", step=step, holes=holes) is None


def test_a_seat_under_each_bolt_and_no_picture_of_a_single_one() -> None:
    assert jaw_drawing("face_seat_heights_mm", holes=1) is None
    numbers = [str(label.text) for label in needed("face_seat_heights_mm", holes=3).labels]
    assert numbers[:3] == ["1", "2", "3"]


def test_the_large_end_is_larger_than_the_tip_and_only_where_the_thread_tapers() -> None:
    large, small = (needed("inlet_thread", step=f"outside {end} end") for end in ("large", "small"))
    assert (size_mm(large), size_mm(small)) == pytest.approx((jaws_thread.LARGE_MM, jaws_thread.SMALL_MM))
    bolt = needed("face_bolt", step="outside small end")
    assert size_mm(bolt) == pytest.approx(jaws_thread.LARGE_MM)


def test_crests_are_counted_from_the_first_to_the_last() -> None:
    drawing = needed("outlet_thread", step="crests")
    assert [str(label.text) for label in drawing.labels] == ["1", str(jaws_thread.CRESTS)]
    # Between n crests lie n - 1 pitches.
    assert size_mm(drawing) == pytest.approx((jaws_thread.CRESTS - 1) * jaws_thread.PITCH_MM)


def test_inside_a_thread_the_jaws_reach_its_crests_not_its_roots() -> None:
    drawing = needed("inlet_thread", step="inside")
    assert size_mm(drawing) == pytest.approx(jaws_thread.LARGE_MM - 2 * jaws_thread.DEEP_MM)


def test_plug_and_socket_are_two_sizes_of_one_picture() -> None:
    plug, socket = needed("inlet_seal_mm").spans
    assert plug.arrow.length_mm == pytest.approx(jaws_thread.PLUG_MM)
    assert socket.arrow.length_mm == pytest.approx(jaws_thread.SOCKET_MM)


@pytest.mark.parametrize("field_id", HOLE_FIELDS)
def test_a_shaft_is_closed_on_and_a_bore_opened_in(field_id: str) -> None:
    drawing = needed(field_id, step="shaft or bore")
    (start, end), jaws = drawing.spans[0].touches, jaws_of(drawing)
    assert math.dist(start, end) == pytest.approx(jaws_holes.AXIS_MM)
    outward = 0.4 if field_id == "face_holes_xy_mm" else -0.4
    assert any(is_inside((start[0] - outward, start[1]), jaw) for jaw in jaws)
    assert any(is_inside((end[0] + outward, end[1]), jaw) for jaw in jaws)


def test_a_step_that_only_looks_shows_no_size() -> None:
    assert not needed("face_holes_xy_mm", step="count").spans
    assert not needed("inlet_thread", step="gauge").spans
    assert needed("inlet_thread") == needed("inlet_thread", step="gauge")


def test_a_field_that_nobody_knows_is_refused() -> None:
    with pytest.raises(UnknownFieldError):
        jaw_drawing("face_colour")
