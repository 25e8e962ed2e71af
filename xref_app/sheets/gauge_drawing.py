"""The candidate's own face, to be held against the engine: holes, bore with keyway, pilot, axes, the outlet's side."""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.cautions import POWER_OFF
from xref_app.core.model.known import How
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import Axis
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.face_drawing import NO_MACHINE_HOLES, NO_SHAFT, face_drawing
from xref_app.sheets.face_misses import turned
from xref_app.sheets.shapes import CentreLine, Drawing, Label, Line, Segment, Shape

TITLE = marked("drawing", "Paper gauge: the pump's face at true size")
HOLD = marked(
    "drawing",
    "Hold it against the engine's face, the print towards you: you look at the engine from where the pump will be. The "
    "arrow UP points up.",
)
HOLD_VERTICAL = marked(
    "drawing",
    "Hold it against the engine's face from below, the print towards you. The arrow UP points to the engine's front.",
)
HOLD_UNKNOWN = marked(
    "drawing",
    "Hold it against the engine's face, the print towards you. The arrow UP points up; on a vertical shaft, seen from "
    "below, to the engine's front.",
)
CUT = marked(
    "drawing", "Cut out the bore along its line, put the paper over the shaft, and look through at each bolt hole."
)
TURNED_FOR = marked("drawing", "Drawn turned {turn}° counter-clockwise, as the pump goes on.")
AS_IT_GOES_ON = marked("drawing", "Drawn as the pump goes on.")
NOT_TURNED = marked("drawing", "Drawn as the pump was measured: turn the paper until the holes meet.")
CLAIMED = marked(
    "drawing", "Where these holes are is only claimed: measure them on the pump before anything is bolted."
)
PAPER_ONLY = marked(
    "drawing", "Holes that meet on paper are no verdict: shaft, key, lengths and heights are not shown here."
)
UP = marked("drawing", "UP")
# Half a cross on a hole's centre, and the arrow that points up, mm (house rule: looks only).
_CROSS_MM, _ARROW_MM, _PAST_MM = 3.0, 9.0, 3.0


def gauge_drawing(pump: Pump, clocking_deg: float | None) -> Drawing:
    """Return the pump's face as plain lines, mm about the bore's axis, in the view of the holes.

    Args:
        pump: Whose face it is.
        clocking_deg: The turn it goes on at, counter-clockwise; None where none is known: it is not turned then.
    """
    face = face_drawing(Machine(), pump, clocking_deg or 0.0)
    shapes = [replace(one, line=Line.PART) if not isinstance(one, CentreLine) else one for one in face.shapes]
    lacks = tuple(one for one in face.not_known if one.template not in {NO_MACHINE_HOLES, NO_SHAFT})
    if face.is_empty:
        return Drawing((), (), lacks, title=Sentence(TITLE))
    shapes = [one for one in shapes if not isinstance(one, CentreLine)]
    holes = () if pump.flange.holes_xy_mm is None else pump.flange.holes_xy_mm.holes
    for hole in holes:
        placed = turned(hole, clocking_deg or 0.0)
        shapes.extend(_cross(placed.x_mm, placed.y_mm))
    shapes.extend(_axes_and_arrow(face))
    return Drawing(tuple(shapes), _notes(pump, clocking_deg), lacks, clocking_deg, title=Sentence(TITLE))


def _notes(pump: Pump, clocking_deg: float | None) -> tuple[Sentence, ...]:
    axis = None if pump.bore.axis is None else pump.bore.axis.value
    hold = {Axis.HORIZONTAL: HOLD, Axis.VERTICAL: HOLD_VERTICAL}.get(axis or Axis.BOTH, HOLD_UNKNOWN)
    turn = round(clocking_deg) % 360 if clocking_deg is not None else 0
    turned_so = Sentence(TURNED_FOR, {"turn": turn}) if turn else Sentence(AS_IT_GOES_ON)
    how = Sentence(NOT_TURNED) if clocking_deg is None else turned_so
    pattern = pump.flange.holes_xy_mm
    claimed = (Sentence(CLAIMED),) if pattern is not None and pattern.how is How.CLAIMED else ()
    return (Sentence(POWER_OFF), Sentence(hold), how, Sentence(CUT), *claimed, Sentence(PAPER_ONLY))


def _cross(x: float, y: float) -> tuple[Shape, Shape]:
    return (
        Segment(x - _CROSS_MM, y, x + _CROSS_MM, y, Line.THREAD),
        Segment(x, y - _CROSS_MM, x, y + _CROSS_MM, Line.THREAD),
    )


def _axes_and_arrow(face: Drawing) -> tuple[Shape, ...]:
    reach = face.reach_mm + _PAST_MM
    top = reach + _ARROW_MM
    return (
        CentreLine(-reach, 0.0, reach, 0.0),
        CentreLine(0.0, -reach, 0.0, reach),
        Segment(0.0, reach + 1.0, 0.0, top, Line.PART, arrow=True),
        Label(0.0, reach + _ARROW_MM / 2, Sentence(UP), Line.PART, 0.0, 1.5),
    )
