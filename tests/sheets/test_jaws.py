"""The pictures of where the jaws go: the jaws touch the part, and what lies between them is what the field means.

The check against something outside: plane geometry (chords of a circle, Euclid III and the sine rule) worked out here
from the drawn holes alone, and the wording of each field in the schema (``description`` and ``howToMeasure``).
"""

from __future__ import annotations

import math
import re
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sheets.jaw_pictures_for_tests import drawing_of, pictures_of
from xref_app.core.fields.fields import Kind, all_fields
from xref_app.core.fields.schema_files import schema_file
from xref_app.services.card import StepKind
from xref_app.services.card_thread import _STEPS as THREAD_STEPS
from xref_app.sheets import jaw_parts as part
from xref_app.sheets import jaw_threads as thread
from xref_app.sheets.jaw_faces import FLANGE_BORE, FLANGE_RADIUS, HOLE
from xref_app.sheets.jaw_shapes import Ink, JawDrawing, Path, Point, Round, Word
from xref_app.sheets.jaws import jaw_drawing

FIELDS = all_fields()
HOLES_FIELDS = tuple(name for name, field in FIELDS.items() if field.kind is Kind.HOLES)
OUTER, INNER = "outer edges", "inner edges"
NEAR_MM = 1e-6
PARTS = (Ink.PART, Ink.CUT, Ink.HIDDEN)
# Lengths in mm that no tool is laid on would stand here; there is none: even the room for a pump is read with a rule.
SIZES = tuple(
    name for name, field in FIELDS.items() if field.unit == "mm" and field.kind in (Kind.NUMBER, Kind.HEIGHTS)
)


def drawn(field_id: str, *, step: str = "", holes: int = 4, way: str = "") -> JawDrawing:
    drawing = jaw_drawing(field_id, step=step, holes=holes, way=way)
    assert drawing is not None
    return drawing


def stretches(path: Path) -> list[tuple[Point, Point]]:
    return list(pairwise((*path.points, path.points[0]) if path.closed else path.points))


def off_stretch(spot: Point, a: Point, b: Point) -> float:
    """Return how far ``spot`` is from the stretch a to b."""
    length = math.dist(a, b)
    if length == 0:
        return math.dist(spot, a)
    along = ((spot[0] - a[0]) * (b[0] - a[0]) + (spot[1] - a[1]) * (b[1] - a[1])) / length
    share = min(max(along / length, 0), 1)
    return math.dist(spot, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))


def off_part(drawing: JawDrawing, spot: Point) -> float:
    """Return how far ``spot`` is from the nearest edge of the part."""
    away = [math.inf]
    for shape in drawing.shapes:
        if isinstance(shape, Round) and shape.ink in PARTS:
            away.append(abs(math.dist(spot, shape.centre) - shape.diameter / 2))
        elif isinstance(shape, Path) and shape.ink in PARTS:
            away += [off_stretch(spot, a, b) for a, b in stretches(shape)]
    return min(away)


def off_tools(drawing: JawDrawing, spot: Point) -> float:
    """Return how far ``spot`` is from the nearest edge of a tool."""
    paths = [shape for shape in drawing.shapes if isinstance(shape, Path) and shape.ink is Ink.TOOL]
    return min(off_stretch(spot, a, b) for path in paths for a, b in stretches(path))


def arrows(drawing: JawDrawing) -> list[tuple[Point, Point]]:
    return [
        (shape.points[0], shape.points[-1])
        for shape in drawing.shapes
        if isinstance(shape, Path) and shape.ink is Ink.MEASURED and not shape.closed
    ]


def bolt_holes(drawing: JawDrawing) -> list[Round]:
    """Return the drawn holes, counter-clockwise in the order of the numbers beside them."""
    rounds = [one for one in drawing.shapes if isinstance(one, Round) and one.ink is Ink.PART]
    holes = [one for one in rounds if math.hypot(*one.centre) > 1]
    words = {int(one.text): one.place for one in drawing.shapes if isinstance(one, Word)}
    assert sorted(words) == list(range(1, len(holes) + 1))
    return [min(holes, key=lambda hole: math.dist(hole.centre, words[number])) for number in sorted(words)]


# -- which fields have a picture


def test_every_size_taken_with_a_tool_has_a_picture_and_nothing_else_has() -> None:
    """Words, plates, gauges and buckets have none: no jaws touch anything there."""
    assert len(SIZES) > 25
    with_one = {name for name in FIELDS if any(drawing_of(name, one) is not None for one in pictures_of(FIELDS[name]))}
    threads = {name for name, field in FIELDS.items() if field.kind is Kind.THREAD}
    assert with_one == {*SIZES, *HOLES_FIELDS, *threads}


def test_the_schema_names_a_tool_or_a_way_to_measure_wherever_there_is_a_picture() -> None:
    rows = {str(row["name"]): str(row.get("howToMeasure", "")) for row in _rows()}
    for name in (*SIZES, *HOLES_FIELDS):
        assert re.search(r"measure|jaws|depth rod|straightedge", rows[name], re.IGNORECASE), name


def _rows() -> list[dict[str, object]]:
    rows = schema_file("sizes")["fields"]
    assert isinstance(rows, list)
    return [row for row in rows if isinstance(row, dict)]


@pytest.mark.parametrize("field_id", HOLES_FIELDS)
@pytest.mark.parametrize("holes", range(2, 9))
def test_every_step_of_the_card_of_holes_has_a_picture_with_as_many_holes(field_id: str, holes: int) -> None:
    pictures = list(pictures_of(FIELDS[field_id], holes))
    assert len(pictures) > holes * (holes - 1) / 2 + holes
    for picture in pictures:
        drawing = drawing_of(field_id, picture)
        assert drawing is not None, picture
        assert len(bolt_holes(drawing)) == picture.holes


def test_every_step_of_the_card_of_a_thread_that_names_a_picture_has_one() -> None:
    steps = [step for step in THREAD_STEPS.values() if step.kind is StepKind.LENGTH or step.picture.step]
    assert len(steps) >= 7
    made = [drawn("inlet_thread", step=step.picture.step) for step in steps]
    assert len(set(made_shapes(made))) == len(made)
    assert jaw_drawing("face_bolt") is None, "the call of a thread is written, not measured"


def made_shapes(drawings: list[JawDrawing]) -> list[object]:
    return [drawing.shapes for drawing in drawings]


# -- holes: any two of 2 to 8, geometry worked out from the drawn circles


@given(
    st.integers(2, 8).flatmap(lambda n: st.tuples(st.just(n), st.sampled_from(list(combinations(range(1, n + 1), 2)))))
)
def test_edges_of_two_holes_are_their_centres_apart_more_or_less_one_hole(case: tuple[int, tuple[int, int]]) -> None:
    count, (one, other) = case
    for field_id in HOLES_FIELDS:
        for way, sign in ((OUTER, 1), (INNER, -1)):
            drawing = drawn(field_id, step=f"{one}-{other}", holes=count, way=way)
            holes = bolt_holes(drawing)
            first, second = holes[one - 1], holes[other - 1]
            chord = 2 * FLANGE_RADIUS * math.sin(math.pi * (other - one) / count)
            assert math.dist(first.centre, second.centre) == pytest.approx(chord)
            assert math.dist(*drawing.touch) == pytest.approx(chord + sign * HOLE)
            for hole in (first, second):
                ends = [abs(math.dist(end, hole.centre) - hole.diameter / 2) for end in drawing.touch]
                assert min(ends) < NEAR_MM, "one end lies on the edge of each hole"


@pytest.mark.parametrize("count", range(2, 9))
def test_all_pairs_differ_in_their_pictures_and_ways_too(count: int) -> None:
    asked = [f"{one}-{other}" for one, other in combinations(range(1, count + 1), 2)]
    made = [drawn("face_holes_xy_mm", step=step, holes=count, way=way) for step in asked for way in (OUTER, INNER)]
    assert len(set(made_shapes(made))) == len(made)
    assert len({frozenset(drawing.touch) for drawing in made}) == len(made)
    assert {(drawing.said.values["one"], drawing.said.values["other"]) for drawing in made} == {
        tuple(map(int, step.split("-"))) for step in asked
    }


def test_three_and_four_holes_give_other_pictures() -> None:
    for step in ("count", "neighbours", "hole size", "shaft to hole 1", "1-2", "shaft or bore"):
        made = [drawn("flange_holes_xy_mm", step=step, holes=count, way=OUTER) for count in range(2, 9)]
        assert len(set(made_shapes(made))) == len(made), step


@pytest.mark.parametrize("count", range(2, 9))
@pytest.mark.parametrize("field_id", HOLES_FIELDS)
def test_holes_are_numbered_counter_clockwise_from_the_first_right_of_the_top(field_id: str, count: int) -> None:
    """The card says 'number the holes counter-clockwise as you look at the face'; the turn is the sign of a product."""
    for picture in pictures_of(FIELDS[field_id], count):
        drawing = drawing_of(field_id, picture)
        assert drawing is not None
        centres = [hole.centre for hole in bolt_holes(drawing)]
        assert len(set(centres)) == len(centres)
        assert centres[0][0] > 0
        assert centres[0][1] > -NEAR_MM
        if len(centres) > 2:
            turns = [ax * by - ay * bx for (ax, ay), (bx, by) in pairwise((*centres, centres[0]))]
            assert min(turns) > 0


def test_numbers_stand_clear_of_every_tool() -> None:
    for field_id in HOLES_FIELDS:
        for count in range(2, 9):
            for picture in pictures_of(FIELDS[field_id], count):
                drawing = drawing_of(field_id, picture)
                assert drawing is not None
                has_tool = any(isinstance(one, Path) and one.ink is Ink.TOOL for one in drawing.shapes)
                for word in (one for one in drawing.shapes if isinstance(one, Word) and has_tool):
                    assert off_tools(drawing, word.place) > 3, (picture, word)


@given(st.integers(2, 8).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, n))))
def test_shaft_to_hole_goes_from_near_edge_to_near_edge(case: tuple[int, int]) -> None:
    count, number = case
    for field_id in HOLES_FIELDS:
        drawing = drawn(field_id, step=f"shaft to hole {number}", holes=count)
        hole = bolt_holes(drawing)[number - 1]
        axis_end, hole_end = drawing.touch
        assert math.hypot(*axis_end) == pytest.approx(FLANGE_BORE / 2)
        assert math.dist(hole_end, hole.centre) == pytest.approx(HOLE / 2)
        assert math.dist(*drawing.touch) == pytest.approx(FLANGE_RADIUS - FLANGE_BORE / 2 - HOLE / 2)


def test_hole_size_is_the_whole_hole_1_and_the_shaft_or_bore_the_whole_of_it() -> None:
    for field_id in HOLES_FIELDS:
        drawing = drawn(field_id, step="hole size", holes=5)
        hole = bolt_holes(drawing)[0]
        assert math.dist(*drawing.touch) == pytest.approx(hole.diameter)
        assert math.dist(drawing.touch[0], hole.centre) == pytest.approx(hole.diameter / 2)
        middle = drawn(field_id, step="shaft or bore", holes=5)
        assert math.dist(*middle.touch) == pytest.approx(FLANGE_BORE)
    assert math.dist(*drawn("face_hole_mm").touch) == pytest.approx(HOLE)
    assert math.dist(*drawn("flange_hole_mm").touch) == pytest.approx(HOLE)


# -- everything else: what is between the jaws is what the field is called

MEANT = {
    "shaft_diameter_mm": part.SHAFT,
    "shaft_key_width_mm": part.KEY_W,
    "shaft_key_top_mm": part.SHAFT + part.KEY_UP,
    "shaft_projection_mm": part.REACH,
    "shaft_keyseat_length_mm": part.SEAT_ENDS - part.SEAT_BEGINS,
    "shaft_keyseat_from_end_mm": part.REACH - part.SEAT_ENDS,
    "bore_diameter_mm": part.SHAFT,
    "bore_keyway_width_mm": part.KEY_W,
    "bore_keyway_floor_mm": part.SHAFT + part.KEY_UP,
    "bore_depth_mm": part.REACH,
    "bore_recess_mm": 16.0,
    "bore_keyway_from_mm": part.WAY_BEGINS,
    "bore_keyway_to_mm": part.WAY_ENDS,
    "face_hole_mm": HOLE,
    "flange_hole_mm": HOLE,
    "face_thickness_mm": 20.0,
    "flange_thickness_mm": 28.0,
    "face_tapped_depth_mm": 40.0,
    "face_pilot_mm": part.PILOT,
    "flange_pilot_mm": part.PILOT,
    "face_pilot_depth_mm": part.PILOT_STEP,
    "flange_pilot_depth_mm": part.PILOT_STEP,
    "face_seat_heights_mm": part.SEAT_LOW,
    "flange_seat_heights_mm": part.SEAT_LOW,
    "face_bolt_length_mm": part.BOLT_TIP - part.HEAD_UNDER,
    "pump_length_mm": part.PUMP_END,
    "room_length_mm": part.ROOM,
    **dict.fromkeys(("supply_seal_mm", "discharge_seal_mm", "inlet_seal_mm", "outlet_seal_mm"), 2 * thread.SEAL_R),
}
# The end of these that lies in the plane of a face or end, beside the part: a foot, a straightedge bridges it.
BRIDGED = {
    "shaft_projection_mm": 0,
    "bore_depth_mm": 0,
    "bore_recess_mm": 0,
    "bore_keyway_to_mm": 0,
    "face_tapped_depth_mm": 0,
    "face_pilot_depth_mm": 0,
    "flange_pilot_depth_mm": 0,
    "face_bolt_length_mm": 0,
    "face_seat_heights_mm": 1,
    "flange_seat_heights_mm": 1,
}
IN_THE_AIR = {"face_tapped_depth_mm"}  # The end of the thread is a plane across the hole: the rod stops in it.


def test_all_sizes_are_checked() -> None:
    assert set(MEANT) == set(SIZES)


@pytest.mark.parametrize("field_id", MEANT)
def test_the_touched_points_are_as_far_apart_as_the_field_means(field_id: str) -> None:
    drawing = drawn(field_id)
    assert math.dist(*drawing.touch) == pytest.approx(MEANT[field_id])
    a, b = drawing.touch
    assert abs(a[0] - b[0]) < NEAR_MM or abs(a[1] - b[1]) < NEAR_MM, "square to the part"


@pytest.mark.parametrize("field_id", MEANT)
def test_the_touched_points_lie_on_edges_of_the_part(field_id: str) -> None:
    drawing = drawn(field_id)
    for place, end in enumerate(drawing.touch):
        if BRIDGED.get(field_id) == place:
            assert in_plane_of_an_edge(drawing, end), "in one plane with an edge of the part"
        elif field_id in IN_THE_AIR:
            assert any(
                abs(x - end[0]) < NEAR_MM
                for shape in drawing.shapes
                if isinstance(shape, Path)
                for x, _ in shape.points
            )
        else:
            assert off_part(drawing, end) < NEAR_MM


def in_plane_of_an_edge(drawing: JawDrawing, end: Point) -> bool:
    """Tell whether an edge of the part, drawn out, runs through ``end`` across the measured distance."""
    a, b = drawing.touch
    along = 0 if abs(a[0] - b[0]) > NEAR_MM else 1
    return any(
        abs(one[along] - end[along]) < NEAR_MM
        and abs(other[along] - end[along]) < NEAR_MM
        and math.dist(one, other) > 1
        for shape in drawing.shapes
        if isinstance(shape, Path) and shape.ink in PARTS
        for one, other in stretches(shape)
    )


@pytest.mark.parametrize(
    ("step", "first", "second"),
    [
        ("outside large end", (-30.0, -thread.CREST_R), (-30.0, thread.CREST_R)),
        ("outside small end", (30.0, -thread.CREST_R + thread.TAPERS), (30.0, thread.CREST_R - thread.TAPERS)),
        ("inside", (-3.75, -thread.CREST_R + thread.DEEP), (-3.75, thread.CREST_R - thread.DEEP)),
        ("gauge", (-15.0, thread.CREST_R), (15.0, thread.CREST_R)),
    ],
)
def test_jaws_on_a_thread_touch_crests(step: str, first: Point, second: Point) -> None:
    """A male thread's crests are its largest, a female thread's its smallest radius (ISO 5408, crest)."""
    drawing = drawn("outlet_thread", step=step)
    assert drawing.touch[0] == pytest.approx(first)
    assert drawing.touch[1] == pytest.approx(second)
    assert max(off_part(drawing, end) for end in drawing.touch) < NEAR_MM


def test_seal_shows_plug_and_socket_of_one_size() -> None:
    """M22x1.5 comes with a plug of 14 or 15 mm: the same size is asked of either half."""
    drawing = drawn("inlet_seal_mm")
    lengths = [math.dist(*one) for one in arrows(drawing)]
    assert lengths == [pytest.approx(2 * thread.SEAL_R)] * 2
    for a, b in arrows(drawing):
        assert max(off_part(drawing, a), off_part(drawing, b)) < NEAR_MM


ASKED = [
    *((name, "", 4) for name in MEANT),
    *(("inlet_thread", step, 4) for step in ("outside large end", "outside small end", "inside")),
    *(
        (name, step, 5)
        for name in HOLES_FIELDS
        for step in ("1-3", "shaft to hole 2", "hole size", "neighbours", "shaft or bore")
    ),
]


@pytest.mark.parametrize(("name", "step", "holes"), ASKED)
def test_the_arrow_shows_the_measured_distance_and_a_tool_is_at_both_ends(name: str, step: str, holes: int) -> None:
    drawing = drawn(name, step=step, holes=holes, way=OUTER)
    a, b = drawing.touch
    length = math.dist(a, b)
    (c, d), *_ = arrows(drawing)
    cross = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
    assert math.dist(c, d) == pytest.approx(length), name
    assert abs(cross) < NEAR_MM * length, "parallel"
    is_by_rule = name in ("pump_length_mm", "room_length_mm")
    for end in (a, b):
        assert off_tools(drawing, end) < (60 if is_by_rule else 1.3), "jaw, rod or blade; a rod is 2.4 thick"
