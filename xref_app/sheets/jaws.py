"""Where the jaws go: one drawn picture per field and step, made from numbers, turning with the number of holes."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets import jaw_parts as part
from xref_app.sheets.jaw_faces import face_drawing_of
from xref_app.sheets.jaw_parts import KEY_UP, KEY_W, REACH, SHAFT
from xref_app.sheets.jaw_shapes import Ink, JawDrawing, Path, Point, Shape, arrow, axis
from xref_app.sheets.jaw_threads import seal_drawing, thread_drawing
from xref_app.sheets.jaw_tools import ROD, depth_rod, feelers, inside_jaws, outside_jaws, rule, straightedge

__all__ = ["JawDrawing", "jaw_drawing"]

_R, _HALF = SHAFT / 2, KEY_W / 2
_KEY_OUT = 16.0


def jaw_drawing(field_id: str, *, step: str = "", holes: int = 4, way: str = "") -> JawDrawing | None:
    """Return the picture for one step of measuring a field, or None where no tool is laid on anything.

    Args:
        field_id: The field of the schema.
        step: The step of its card, empty for the only one (``neighbours``, ``1-3``, ``outside large end`` ..).
        holes: How many holes the drawn face has, 2 to 8.
        way: ``outer edges`` or ``inner edges`` of two holes.
    """
    is_shaft = field_id.startswith("face_")
    if field_id.endswith("_holes_xy_mm"):
        return face_drawing_of(step, holes, way, is_shaft=is_shaft)
    if field_id in ("face_hole_mm", "flange_hole_mm"):
        return face_drawing_of("hole size", 4, "", is_shaft=is_shaft)
    if field_id.endswith("_thread") or field_id == "face_bolt":
        return thread_drawing(step)
    if field_id.endswith("_seal_mm"):
        return seal_drawing()
    draw = _DRAWN.get(field_id)
    return None if draw is None else draw()


_Shapes = tuple[Shape, ...]


def _shaft_diameter() -> JawDrawing:
    a, b = (-_R, 0.0), (_R, 0.0)
    said = marked("jaws", "Outside jaws across the shaft, clear of the keyseat.")
    return JawDrawing((*part.shaft_end(), *outside_jaws(a, b, -34)), (a, b), Sentence(said))


def _key_width() -> JawDrawing:
    y = _R + _KEY_OUT
    a, b = (-_HALF, y), (_HALF, y)
    said = marked("jaws", "The key taken out, outside jaws across the two sides that carry the load.")
    return JawDrawing((*part.shaft_end(lifted=_KEY_OUT), *outside_jaws(a, b, 22)), (a, b), Sentence(said))


def _key_top() -> JawDrawing:
    a, b = (0.0, -_R), (0.0, _R + KEY_UP)
    said = marked("jaws", "Outside jaws over the far side of the shaft and the top of the key.")
    return JawDrawing((*part.shaft_end(), *outside_jaws(a, b, -34)), (a, b), Sentence(said))


def _projection() -> JawDrawing:
    y = _R + ROD + 1
    said = marked("jaws", "Depth rod beside the shaft, from its end back to the mounting face.")
    tool = depth_rod((REACH, y), (0, y), 14, -5)
    return JawDrawing((*part.shaft_side(), *tool), ((REACH, y), (0, y)), Sentence(said))


def _seat_length() -> JawDrawing:
    a, b = (part.SEAT_BEGINS, _R - 5), (part.SEAT_ENDS, _R - 5)
    said = marked("jaws", "Inside jaws in the keyseat, over its full depth from end to end.")
    return JawDrawing((*part.shaft_side(), *inside_jaws(a, b, 22)), (a, b), Sentence(said))


def _seat_from_end() -> JawDrawing:
    a, b = (part.SEAT_ENDS, _R - 4), (REACH, _R - 4)
    said = marked("jaws", "Outside jaws from the end of the keyseat to the end of the shaft.")
    return JawDrawing((*part.shaft_side(), *outside_jaws(a, b, 22)), (a, b), Sentence(said))


def _bore_diameter() -> JawDrawing:
    a, b = (-_R, 0.0), (_R, 0.0)
    said = marked("jaws", "Inside jaws across the bore, clear of the keyway.")
    return JawDrawing((*part.bore_end(), *inside_jaws(a, b, -46)), (a, b), Sentence(said))


def _keyway_width() -> JawDrawing:
    a, b = (-_HALF, _R + 2), (_HALF, _R + 2)
    said = marked("jaws", "The small inside jaws in the keyway.")
    return JawDrawing((*part.bore_end(), *inside_jaws(a, b, 26)), (a, b), Sentence(said))


def _keyway_floor() -> JawDrawing:
    a, b = (0.0, -_R), (0.0, _R + KEY_UP)
    said = marked("jaws", "Inside jaws from the far side of the bore to the floor of the keyway.")
    return JawDrawing((*part.bore_end(), *inside_jaws(a, b, -46)), (a, b), Sentence(said))


def _down(shown: _Shapes, depth: float, y: float, width: float, said: str) -> JawDrawing:
    """Return a depth rod standing on a face at x = 0 and reaching ``depth`` to the left."""
    touch = ((0.0, y), (-depth, y))
    return JawDrawing((*shown, *depth_rod(*touch, width)), touch, Sentence(said))


def _bore_depth() -> JawDrawing:
    said = marked("jaws", "Depth rod from the seats of the pump down to the stop in the bore.")
    return _down(part.bore_side(keyway_from=0), REACH, 0, 34, said)


def _bore_recess() -> JawDrawing:
    said = marked("jaws", "Depth rod from the seats of the pump down to where the bore begins.")
    return _down(part.bore_side(recess=16), 16, _R + 3, 14, said)


def _keyway_from() -> JawDrawing:
    said = marked("jaws", "Depth rod along the wall of the bore, from the mounting face to where the keyway begins.")
    y = _R - ROD
    shown = (*part.bore_side(keyway_from=part.WAY_BEGINS), *depth_rod((0, y), (-part.WAY_BEGINS, y), 14))
    return JawDrawing(shown, ((0, _R), (-part.WAY_BEGINS, _R)), Sentence(said))


def _keyway_to() -> JawDrawing:
    said = marked("jaws", "Depth rod along the keyway, from the mounting face to the end of the keyway.")
    return _down(part.bore_side(keyway_from=0), part.WAY_ENDS, _R + part.WAY_DEEP / 2, 14, said)


def _face_thickness() -> JawDrawing:
    said = marked("jaws", "Outside jaws across the ear or plate beside a bolt hole.")
    return JawDrawing(
        (*part.plate_side(20), *outside_jaws((-10, 18), (10, 18), 22)), ((-10, 18), (10, 18)), Sentence(said)
    )


def _flange_thickness() -> JawDrawing:
    said = marked("jaws", "Outside jaws across the flange or leg beside a bolt hole, where the bolt head sits.")
    return JawDrawing(
        (*part.plate_side(28), *outside_jaws((-14, 18), (14, 18), 22)), ((-14, 18), (14, 18)), Sentence(said)
    )


_TAPPED, _DRILLED, _TAP_R, _TAP_PITCH, _TAP_DEEP = 40.0, 50.0, 13.0, 5.0, 2.6


def _tapped_depth() -> JawDrawing:
    """Return a tapped hole cut open: thread for most of it, then the bare hole and the cone of the drill."""
    wall: list[Point] = [(0.0, 36.0), (0.0, _TAP_R)]
    for number in range(int(_TAPPED / _TAP_PITCH)):
        x = -_TAP_PITCH * number
        wall += [(x - _TAP_PITCH / 2, _TAP_R - _TAP_DEEP), (x - _TAP_PITCH, _TAP_R)]
    small = _TAP_R - _TAP_DEEP
    wall += [(-_TAPPED, small), (-_DRILLED, small), (-_DRILLED - small * 0.6, 0.0)]
    back = tuple((x, -y) for x, y in reversed(wall[:-1]))
    block = Path((*wall, *back, (-_DRILLED - 18, -36), (-_DRILLED - 18, 36)), Ink.CUT, closed=True)
    said = marked("jaws", "Depth rod from the face down the threaded hole, as far as it has thread.")
    return _down((block, axis((-_DRILLED - 24, 0), (10, 0))), _TAPPED, 0, 30, said)


def _face_pilot() -> JawDrawing:
    x, y = part.PILOT_STEP / 2, part.PILOT / 2
    said = marked("jaws", "Outside jaws across the turned ring; inside jaws where it is a recess.")
    return JawDrawing(
        (*part.pilot_side(boss=True), *outside_jaws((x, -y), (x, y), -26)), ((x, -y), (x, y)), Sentence(said)
    )


def _flange_pilot() -> JawDrawing:
    x, y = -part.PILOT_STEP / 2, part.PILOT / 2
    said = marked("jaws", "Inside jaws across the turned ring; outside jaws where it is a boss.")
    return JawDrawing(
        (*part.pilot_side(boss=False), *inside_jaws((x, -y), (x, y), -26)), ((x, -y), (x, y)), Sentence(said)
    )


def _face_pilot_depth() -> JawDrawing:
    said = marked("jaws", "Depth rod from the top of the boss down to the face, or from the seats into a recess.")
    y, step = part.PILOT / 2 + 4, part.PILOT_STEP
    touch = ((step, y), (0.0, y))
    return JawDrawing((*part.pilot_side(boss=True), *depth_rod(*touch, 12, -4.5)), touch, Sentence(said))


def _flange_pilot_depth() -> JawDrawing:
    said = marked("jaws", "Depth rod from the seats down into the recess, or from the top of a boss to the seats.")
    return _down(part.pilot_side(boss=False), part.PILOT_STEP, 0, 32, said)


def _seats() -> JawDrawing:
    low, x = -part.SEAT_LOW, 33.0
    shapes = (*part.legs_side(), *straightedge(-54, 54, 0), *feelers(29, 74, low, 0), *arrow((x, low), (x, 0)))
    said = marked("jaws", "Straightedge on the highest seats, feelers under it at each bolt.")
    return JawDrawing(shapes, ((x, low), (x, 0.0)), Sentence(said))


def _bolt() -> JawDrawing:
    y = part.BOLT_AROUND / 2 + ROD + 1
    touch = ((part.BOLT_TIP, y), (part.HEAD_UNDER, y))
    said = marked("jaws", "Depth rod beside the bolt, from its tip to under its head.")
    return JawDrawing((*part.bolt_side(), *depth_rod(*touch, 11, -4.5)), touch, Sentence(said))


def _pump_length() -> JawDrawing:
    said = marked("jaws", "A rule from the mounting face to the farthest end of the pump.")
    return _with_rule(part.pump_lying(), part.PUMP_END, said)


def _room_length() -> JawDrawing:
    said = marked("jaws", "A rule from the mounting face to the nearest thing a pump would hit.")
    return _with_rule(part.room_side(), part.ROOM, said)


def _with_rule(shown: _Shapes, length: float, said: str) -> JawDrawing:
    """Return a rule below the part, with lines down to it from both ends."""
    touch = ((0.0, -10.0), (length, -10.0))
    down = tuple(Path((end, (end[0], -58.0)), Ink.HIDDEN) for end in touch)
    return JawDrawing((*shown, *down, *rule(0, length, -58)), touch, Sentence(said))


_DRAWN: Mapping[str, Callable[[], JawDrawing]] = {
    "shaft_diameter_mm": _shaft_diameter,
    "shaft_key_width_mm": _key_width,
    "shaft_key_top_mm": _key_top,
    "shaft_projection_mm": _projection,
    "shaft_keyseat_length_mm": _seat_length,
    "shaft_keyseat_from_end_mm": _seat_from_end,
    "bore_diameter_mm": _bore_diameter,
    "bore_keyway_width_mm": _keyway_width,
    "bore_keyway_floor_mm": _keyway_floor,
    "bore_depth_mm": _bore_depth,
    "bore_recess_mm": _bore_recess,
    "bore_keyway_from_mm": _keyway_from,
    "bore_keyway_to_mm": _keyway_to,
    "face_thickness_mm": _face_thickness,
    "flange_thickness_mm": _flange_thickness,
    "face_tapped_depth_mm": _tapped_depth,
    "face_pilot_mm": _face_pilot,
    "flange_pilot_mm": _flange_pilot,
    "face_pilot_depth_mm": _face_pilot_depth,
    "flange_pilot_depth_mm": _flange_pilot_depth,
    "face_seat_heights_mm": _seats,
    "flange_seat_heights_mm": _seats,
    "face_bolt_length_mm": _bolt,
    "pump_length_mm": _pump_length,
    "room_length_mm": _room_length,
}
