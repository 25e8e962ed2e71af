"""Why no plate is proposed, in words, and which measurements each reason hangs on."""

from __future__ import annotations

from xref_app.core.sentence import Sentence, marked

THROUGH_HOLES = marked(
    "findings",
    "The engine's holes go through, and a plate's screws would need nuts behind them: nobody measured whether there is "
    "room, so no plate is proposed.",
)
TOO_FEW = marked(
    "findings",
    "The engine has {ours} holes and the pump {theirs}; where the numbers differ, each side needs at least {least}, "
    "with a plate as without.",
)
NO_SCREW = marked("findings", "No table has a socket head screw of thread {thread}, so no head can be sunk in a plate.")
ENGINE_SEATS = marked(
    "findings",
    "The engine's seats stand up to {gap:.2f} mm apart; a plate lies flat only where they are within {allowed:.2f} mm.",
)
PUMP_SEATS = marked(
    "findings",
    "The pump's legs stand up to {gap:.2f} mm apart; on a flat plate they sit only within {allowed:.2f} mm.",
)
SCREWS_TIGHT = marked(
    "findings",
    "The engine's holes may be {away:.2f} mm from those of the plate, and a screw has only {free:.2f} mm of freedom.",
)
NO_PUMP_BOLT = marked(
    "findings",
    "No bolt thread surely passes the pump's {hole:.2f} mm holes: they may be {away:.2f} mm from those of the plate.",
)
NO_WEB = marked(
    "findings",
    "At no turn of the pump is enough left between the holes of a plate: {web:.2f} mm at best, {least:.1f} mm must be.",
)
NO_STOCK = marked(
    "findings",
    "No stock plate is right for the shaft: it must be between {least:.2f} and {most:.2f} mm thick as made.",
)
HEAD_FLOOR = marked(
    "findings",
    "Even a {thickness:.2f} mm plate, the thickest the shaft allows, leaves only {floor:.2f} mm under the sunk heads; "
    "{needed:.2f} mm must be.",
)
BOSSES_HIGH = marked(
    "findings",
    "Even a {thickness:.2f} mm plate, the thickest the shaft allows, is too thin for the bosses: they take "
    "{bosses:.2f} mm.",
)
RECESS_FLOOR = marked(
    "findings",
    "Even a {thickness:.2f} mm plate, the thickest the shaft allows, is too thin for its recesses: they take "
    "{taken:.2f} mm, and the bore cannot be opened so far.",
)
THREAD_SHORT = marked(
    "findings",
    "Even a {thickness:.2f} mm plate, the thickest the shaft allows, has only {thread:.2f} mm of thread for the pump's "
    "bolts; {wanted:.2f} mm must be.",
)
NO_SCREW_LENGTH = marked(
    "findings",
    "With a {thickness:.2f} mm plate, the thickest the shaft allows, no standard length of a {thread} screw holds in "
    "the engine without bottoming.",
)
NO_BOLT_LENGTH = marked(
    "findings",
    "With a {thickness:.2f} mm plate, the thickest the shaft allows, no standard length of a {thread} bolt holds the "
    "pump without standing out behind the plate.",
)

# The fields each reason hangs on; those that were not read for the case at hand are left out by the caller.
_FIELDS = {
    ENGINE_SEATS: ("face_seat_heights_mm",),
    PUMP_SEATS: ("flange_seat_heights_mm",),
    SCREWS_TIGHT: ("face_holes_xy_mm",),
    NO_PUMP_BOLT: ("flange_hole_mm", "flange_holes_xy_mm"),
    NO_WEB: ("shaft_diameter_mm", "shaft_key_top_mm", "face_pilot_mm", "flange_pilot_mm", "flange_hole_mm"),
    BOSSES_HIGH: ("face_pilot_depth_mm", "flange_pilot_depth_mm"),
    RECESS_FLOOR: ("face_pilot_depth_mm", "flange_pilot_depth_mm"),
    THREAD_SHORT: ("face_pilot_depth_mm",),
    NO_SCREW_LENGTH: ("face_tapped_depth_mm",),
    NO_BOLT_LENGTH: ("flange_thickness_mm", "face_pilot_depth_mm"),
}


def fields_to_measure(reason: Sentence) -> tuple[str, ...]:
    """Return the fields a refusal may hang on; none where it hangs on no reading."""
    return _FIELDS.get(reason.template, ())
