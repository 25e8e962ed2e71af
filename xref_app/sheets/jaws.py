"""Where the jaws go: one drawn picture per field and step, made from numbers, turning with the number of holes."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.jaw_parts import (
    FLANGE_BORE,
    HOLE,
    KEY_UP,
    KEY_W,
    REACH,
    SHAFT,
    bore_end,
    bore_side,
    flange_front,
    hole_places,
    legs_side,
    pilot_side,
    plate_side,
    shaft_end,
    shaft_side,
    thread_side,
)
from xref_app.sheets.jaw_shapes import Ink, JawDrawing, Path, Point, Shape, Word, arrow, box
from xref_app.sheets.jaw_tools import depth_rod, gauge, inside_jaws, outside_jaws, straightedge

__all__ = ["JawDrawing", "jaw_drawing"]

OUTSIDE = marked("jaws", "Outside jaws across {what}.")
INSIDE = marked("jaws", "Inside jaws across {what}.")
DEPTH = marked("jaws", "Depth rod from {what}.")
HOLES = marked("jaws", "Jaws on the {way} of holes {one} and {other}.")
TO_HOLE = marked("jaws", "From the edge of the shaft or bore to the near edge of hole {one}.")
COUNT = marked("jaws", "A face with {count} holes, numbered counter-clockwise.")
STRAIGHT = marked("jaws", "Straightedge on the highest seats, feelers under it at each bolt.")
GAUGE = marked("jaws", "The leaf of the gauge that fills the thread.")
RULE = marked("jaws", "From {what}.")

INNER = "inner edges"
_PAIR = re.compile(r"(\d)-(\d)")
_TO_HOLE = re.compile(r"shaft to hole (\d)")
_R, _HALF = SHAFT / 2, KEY_W / 2


def jaw_drawing(field_id: str, *, step: str = "", holes: int = 4, way: str = "") -> JawDrawing | None:
    """Return the picture for one step of measuring a field, or None where no tool is laid on anything.

    Args:
        field_id: The field of the schema.
        step: The step of its card, empty for the only one (``neighbours``, ``1-3``, ``outside large end`` ..).
        holes: How many holes the drawn face has, 2 to 8.
        way: ``outer edges`` or ``inner edges`` of two holes.
    """
    if field_id.endswith("_holes_xy_mm"):
        return _face(step, holes, way)
    if field_id.endswith("_thread") or field_id == "face_bolt":
        return _thread(step)
    draw = _DRAWN.get(field_id)
    return None if draw is None else draw()


def _outside(part: tuple[Shape, ...], a: Point, b: Point, reach: float, what: str) -> JawDrawing:
    return JawDrawing((*part, *outside_jaws(a, b, reach)), (a, b), Sentence(OUTSIDE, {"what": what}))


def _inside(part: tuple[Shape, ...], a: Point, b: Point, reach: float, what: str) -> JawDrawing:
    return JawDrawing((*part, *inside_jaws(a, b, reach)), (a, b), Sentence(INSIDE, {"what": what}))


def _depth(part: tuple[Shape, ...], mouth: Point, bottom: Point, width: float, what: str) -> JawDrawing:
    return JawDrawing((*part, *depth_rod(mouth, bottom, width)), (mouth, bottom), Sentence(DEPTH, {"what": what}))


def _along(part: tuple[Shape, ...], a: Point, b: Point, what: str) -> JawDrawing:
    """Return a distance read along something with the jaws or a rule."""
    lines = (Path((a, (a[0], a[1] + 14)), Ink.MEASURED), Path((b, (b[0], b[1] + 14)), Ink.MEASURED))
    measured = arrow((a[0], a[1] + 11), (b[0], b[1] + 11))
    return JawDrawing((*part, *lines, *measured), (a, b), Sentence(RULE, {"what": what}))


# -- bolt holes


def _face(step: str, holes: int, way: str) -> JawDrawing:
    part, places = flange_front(holes), hole_places(holes)
    to_hole, pair = _TO_HOLE.fullmatch(step), _PAIR.fullmatch(step)
    if step == "hole size":
        x, y = places[0]
        return _inside(part, (x - HOLE / 2, y), (x + HOLE / 2, y), 26, "one bolt hole")
    if to_hole is not None:
        return _to_hole(part, places, int(to_hole[1]))
    if pair is not None:
        return _pair(part, places, (int(pair[1]), int(pair[2])), way)
    if step == "neighbours":
        return _pair(part, places, (2, 1), way)
    numbers = tuple(Word((0.68 * x, 0.68 * y), str(number)) for number, (x, y) in enumerate(places, 1))
    return JawDrawing((*part, *numbers), (places[0], places[-1]), Sentence(COUNT, {"count": holes}))


def _pair(part: tuple[Shape, ...], places: tuple[Point, ...], pair: tuple[int, int], way: str) -> JawDrawing:
    one, other = (places[number - 1] for number in pair)
    length = math.dist(one, other)
    ux, uy = (other[0] - one[0]) / length, (other[1] - one[1]) / length
    # The beam lies outside the face: on the side of the two holes that is turned away from the shaft.
    if -uy * (one[0] + other[0]) + ux * (one[1] + other[1]) < 0:
        one, other, ux, uy = other, one, -ux, -uy
    edge = -HOLE / 2 if way == INNER else HOLE / 2
    a = (one[0] - ux * edge, one[1] - uy * edge)
    b = (other[0] + ux * edge, other[1] + uy * edge)
    jaws = inside_jaws if way != INNER else outside_jaws
    said = Sentence(HOLES, {"way": way or "outer edges", "one": pair[0], "other": pair[1]})
    reach = 34 - abs(-uy * one[0] + ux * one[1]) + 22
    return JawDrawing((*part, *jaws(a, b, max(reach, 14.0))), (a, b), said)


def _to_hole(part: tuple[Shape, ...], places: tuple[Point, ...], number: int) -> JawDrawing:
    x, y = places[number - 1]
    radius = math.hypot(x, y)
    ux, uy = x / radius, y / radius
    a = (ux * FLANGE_BORE / 2, uy * FLANGE_BORE / 2)
    b = (x - ux * HOLE / 2, y - uy * HOLE / 2)
    return JawDrawing((*part, *outside_jaws(a, b, 30)), (a, b), Sentence(TO_HOLE, {"one": number}))


# -- threads


def _thread(step: str) -> JawDrawing | None:
    part, crests = thread_side(taper=4.0)
    if step in ("outside large end", "outside small end"):
        x, y = crests[0] if step == "outside large end" else crests[-1]
        return _outside(part, (x, -y), (x, y), -30 if x > 0 else 40, "the crests")
    if step == "inside":
        return _inside(bore_end(), (-_R, 0), (_R, 0), 46, "the crests inside")
    if step == "seal":
        plug = (box(20, -14, 44, 14, Ink.PART),)
        return _outside((*thread_side(taper=0.0)[0], *plug), (40, -14), (40, 14), -22, "the plug that seals")
    if step in ("gauge", "angle"):
        straight, even = thread_side(taper=0.0)
        shapes = (*straight, *gauge(even[2:7], 4.0))
        return JawDrawing(shapes, (even[2], even[6]), Sentence(GAUGE))
    if step == "taper":
        first, last = crests[0], crests[-1]
        both = (*outside_jaws((first[0], -first[1]), first, 40), *outside_jaws((last[0], -last[1]), last, -30))
        return JawDrawing((*part, *both), ((first[0], -first[1]), first), Sentence(OUTSIDE, {"what": "both ends"}))
    return None


# -- everything else


def _seats() -> JawDrawing:
    feeler = (Path(((30, -0.6), (52, -0.6)), Ink.MEASURED), *arrow((37, -5), (37, 0)))
    shapes = (*legs_side(), *straightedge(-52, 52, 0), *feeler)
    return JawDrawing(shapes, ((37, -5), (37, 0)), Sentence(STRAIGHT))


def _seal() -> JawDrawing:
    return _outside(
        (*thread_side(taper=0.0)[0], box(33.75, -14, 52, 14, Ink.PART)), (46, -14), (46, 14), -24, "the plug"
    )


def _bolt() -> JawDrawing:
    head, shank = box(-44, -16, -30, 16, Ink.PART), box(-30, -7, 44, 7, Ink.PART)
    return _outside((head, shank), (-30, 12), (44, 12), 22, "the bolt from under its head to the tip")


def _long() -> JawDrawing:
    body = (box(-60, -26, 40, 26, Ink.PART), box(40, -34, 52, 34, Ink.CUT))
    return _along(body, (-60, 30), (52, 30), "the mounting face to the farthest end")


_DRAWN: Mapping[str, Callable[[], JawDrawing]] = {
    "shaft_diameter_mm": lambda: _outside(shaft_end(), (-_R, 0), (_R, 0), -48, "the shaft, clear of the key"),
    "shaft_key_width_mm": lambda: _outside(shaft_end(), (-_HALF, _R + 2), (_HALF, _R + 2), 24, "the key"),
    "shaft_key_top_mm": lambda: _outside(
        shaft_end(), (0, -_R), (0, _R + KEY_UP), -44, "the far side of the shaft and the top of the key"
    ),
    "shaft_projection_mm": lambda: _depth(
        shaft_side(), (REACH, _R - 6), (0, _R - 6), 18, "the shaft's end back to the face"
    ),
    "shaft_keyseat_length_mm": lambda: _along(shaft_side(), (22, _R), (54, _R), "one end of the keyseat to the other"),
    "shaft_keyseat_from_end_mm": lambda: _along(
        shaft_side(), (54, _R), (REACH, _R), "the keyseat to the end of the shaft"
    ),
    "bore_diameter_mm": lambda: _inside(bore_end(), (-_R, 0), (_R, 0), 52, "the bore, clear of the keyway"),
    "bore_keyway_width_mm": lambda: _inside(bore_end(), (-_HALF, _R + 3), (_HALF, _R + 3), 30, "the keyway"),
    "bore_keyway_floor_mm": lambda: _inside(
        bore_end(), (0, -_R), (0, _R + KEY_UP), -52, "the far side of the bore and the floor of the keyway"
    ),
    "bore_depth_mm": lambda: _depth(bore_side(), (0, 0), (-REACH, 0), 34, "the mounting face down to the stop"),
    "bore_recess_mm": lambda: _depth(
        bore_side(recess=16), (0, _R + 2), (-16, _R + 2), 15, "the mounting face down to the mouth of the bore"
    ),
    "bore_keyway_from_mm": lambda: _along(
        bore_side(), (-6, _R + 3), (0, _R + 3), "the face to where the keyway begins"
    ),
    "bore_keyway_to_mm": lambda: _along(bore_side(), (-48, _R + 3), (0, _R + 3), "the face to where the keyway ends"),
    "face_hole_mm": lambda: _face("hole size", 4, ""),
    "flange_hole_mm": lambda: _face("hole size", 4, ""),
    "face_thickness_mm": lambda: _outside(plate_side(20), (-10, 18), (10, 18), 26, "the face"),
    "flange_thickness_mm": lambda: _outside(plate_side(26), (-13, 18), (13, 18), 26, "the flange beside a hole"),
    "face_tapped_depth_mm": lambda: _depth(
        bore_side(), (0, 0), (-REACH, 0), 34, "the face down to the bottom of the tapped hole"
    ),
    "face_pilot_mm": lambda: _outside(pilot_side(boss=True), (5, -24), (5, 24), -34, "the turned ring"),
    "flange_pilot_mm": lambda: _inside(pilot_side(boss=False), (-4, -24), (-4, 24), -34, "the turned ring"),
    "face_pilot_depth_mm": lambda: _depth(
        pilot_side(boss=False), (0, 0), (-9, 0), 32, "the face to the bottom of the ring"
    ),
    "flange_pilot_depth_mm": lambda: _depth(
        pilot_side(boss=False), (0, 0), (-9, 0), 32, "the seats to the bottom of the ring"
    ),
    "face_seat_heights_mm": _seats,
    "flange_seat_heights_mm": _seats,
    "supply_seal_mm": _seal,
    "discharge_seal_mm": _seal,
    "inlet_seal_mm": _seal,
    "outlet_seal_mm": _seal,
    "face_bolt_length_mm": _bolt,
    "pump_length_mm": _long,
    "room_length_mm": _long,
}
