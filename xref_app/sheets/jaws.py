"""Pictures of where the jaws go, one for each size that is taken with a tool: an invented part, drawn from numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from xref_app.core.fields.fields import Kind as FieldKind
from xref_app.core.fields.fields import field_for
from xref_app.sheets import jaws_bore, jaws_face, jaws_shaft
from xref_app.sheets.jaws_holes import holes_drawing
from xref_app.sheets.jaws_seats import seat_heights
from xref_app.sheets.jaws_shapes import JawDrawing
from xref_app.sheets.jaws_thread import seal, thread_drawing

_DRAWN: Mapping[str, Callable[[], JawDrawing]] = {
    "shaft_diameter_mm": jaws_shaft.shaft_diameter,
    "shaft_projection_mm": jaws_shaft.projection,
    "shaft_key_width_mm": jaws_shaft.key_width,
    "shaft_key_top_mm": jaws_shaft.key_top,
    "shaft_keyseat_length_mm": jaws_shaft.keyseat_length,
    "shaft_keyseat_from_end_mm": jaws_shaft.keyseat_from_end,
    "face_hole_mm": jaws_face.hole,
    "face_thickness_mm": jaws_face.thickness,
    "face_bolt_length_mm": jaws_face.bolt_length,
    "face_tapped_depth_mm": jaws_face.tapped_depth,
    "face_pilot_mm": jaws_face.pilot,
    "face_pilot_depth_mm": jaws_face.pilot_depth,
    "supply_seal_mm": seal,
    "discharge_seal_mm": seal,
    "room_outlet_free_deg": jaws_face.room_free,
    "room_length_mm": jaws_face.room_length,
    "bore_diameter_mm": jaws_bore.bore_diameter,
    "bore_depth_mm": jaws_bore.bore_depth,
    "bore_recess_mm": jaws_bore.bore_recess,
    "bore_keyway_width_mm": jaws_bore.keyway_width,
    "bore_keyway_floor_mm": jaws_bore.keyway_floor,
    "bore_keyway_from_mm": jaws_bore.keyway_from,
    "bore_keyway_to_mm": jaws_bore.keyway_to,
    "flange_hole_mm": jaws_face.hole,
    "flange_thickness_mm": jaws_face.thickness,
    "flange_pilot_mm": jaws_face.pilot,
    "flange_pilot_depth_mm": jaws_face.pilot_depth,
    "inlet_seal_mm": seal,
    "outlet_seal_mm": seal,
    "outlet_direction_deg": jaws_face.outlet_direction,
    "pump_length_mm": jaws_face.pump_length,
}


def jaw_drawing(field_id: str, *, step: str = "", holes: int = 4, way: str = "") -> JawDrawing | None:
    """Return where the jaws go for a field; None where it is not taken with a tool, or the face has no such hole.

    Args:
        field_id: The field.
        step: Which step of measuring it, where it takes several.
        holes: How many holes or seats the face has.
        way: Which edges of two holes, ``outer edges``, ``inner edges`` or ``centres``.

    Raises:
        UnknownFieldError: there is no such field.
    """
    kind = field_for(field_id).kind
    if kind is FieldKind.HOLES:
        return holes_drawing(step, holes, way, has_shaft=field_id == "face_holes_xy_mm")
    if kind is FieldKind.HEIGHTS:
        return seat_heights(holes)
    if kind is FieldKind.THREAD:
        return thread_drawing(step, is_bolt=field_id == "face_bolt")
    drawn = _DRAWN.get(field_id)
    return None if drawn is None else drawn()
