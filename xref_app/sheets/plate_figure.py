"""An adapter plate as designed, turned into what its drawing shows."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.plan.face_plan import NOT_RECKONED, SET_PLATE
from xref_app.core.plan.house_rules import (
    CENTRING_MM,
    MADE_DIAMETER_MM,
    MADE_POSITION_MM,
    MADE_THICKNESS_MM,
    OVERSIZE_MM,
)
from xref_app.core.plan.plate_parts import EngineHole, Plate, PumpHole
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.threads import bolt_nominal_mm, bolt_pitch_mm
from xref_app.sheets.plate_drawing import HoleForm, PlateFigure, PlateHole

TAPPED = marked("drawing", "tapped {thread}, through")
SUNK = marked(
    "drawing", "{clearance:.2f} through, counterbore {counterbore:.1f} x {depth:.1f} deep from the pump's side"
)
MATERIAL = marked("drawing", "{material}, {thickness:.2f} ± {off:.2f} mm; both sides flat, edges broken")
ROUND = marked("drawing", "Outside {outside:.1f} mm across, bore {bore:.2f} mm through; both about the crossing axes")
AS_MADE = marked(
    "drawing",
    "As made: places ± {place:.2f} mm, bore and recesses ± {across:.2f} mm across, all depths ± {depth:.2f} mm; "
    "drilled holes and counterbores up to {over:.1f} mm larger, never smaller",
)
TURNED = marked("drawing", "Pump's holes turned {turn}° counter-clockwise; E: engine's screws, P: pump's bolts")
ENGINE_RECESS = marked("drawing", "Recess for the engine's boss: {across:.2f} mm, {depth:.2f} mm deep, engine's side")
PUMP_RECESS = marked("drawing", "Recess for the pump's boss: {across:.2f} mm, {depth:.2f} mm deep, pump's side")
LEAST = marked("drawing", "Least web {web:.1f} mm, least edge {edge:.1f} mm")


def plate_figure(plate: Plate) -> PlateFigure:
    """Return the plate's outline, bore and holes, with what must be written beside them."""
    recess = plate.pump_recess or plate.engine_recess
    return PlateFigure(
        outside_mm=plate.outline_mm,
        thickness_mm=plate.thickness_mm,
        bore_mm=plate.centre_bore_mm,
        pilot_mm=recess.diameter_mm if recess else None,
        holes=(
            *(_sunk(f"E{place}", hole) for place, hole in enumerate(plate.engine_holes, 1)),
            *(_tapped(f"P{place}", hole) for place, hole in enumerate(plate.pump_holes, 1)),
        ),
        notes=tuple(_notes(plate)),
    )


def _sunk(name: str, hole: EngineHole) -> PlateHole:
    what = Sentence(
        SUNK,
        {
            "clearance": hole.clearance_mm,
            "counterbore": hole.counterbore_mm,
            "depth": hole.counterbore_depth_mm,
        },
    )
    return PlateHole(name, hole.x_mm, hole.y_mm, hole.clearance_mm, what, HoleForm.COUNTERBORED, hole.counterbore_mm)


def _tapped(name: str, hole: PumpHole) -> PlateHole:
    """Return a tapped hole: drilled to the thread's diameter less its pitch (common practice for tap drills)."""
    across, pitch = bolt_nominal_mm(hole.thread) or 0.0, bolt_pitch_mm(hole.thread) or 0.0
    what = Sentence(TAPPED, {"thread": hole.thread})
    return PlateHole(name, hole.x_mm, hole.y_mm, across - pitch, what, HoleForm.TAPPED, across)


def _notes(plate: Plate) -> Iterator[Sentence]:
    size = {"material": plate.material.value, "thickness": plate.thickness_mm, "off": MADE_THICKNESS_MM}
    yield Sentence(MATERIAL, size)
    yield Sentence(ROUND, {"outside": plate.outline_mm, "bore": plate.centre_bore_mm})
    made = {"place": MADE_POSITION_MM, "across": MADE_DIAMETER_MM, "depth": MADE_THICKNESS_MM, "over": OVERSIZE_MM}
    yield Sentence(AS_MADE, made)
    yield Sentence(TURNED, {"turn": plate.turn_deg})
    for template, recess in ((ENGINE_RECESS, plate.engine_recess), (PUMP_RECESS, plate.pump_recess)):
        if recess is not None:
            yield Sentence(template, {"across": recess.diameter_mm, "depth": recess.depth_mm})
    yield Sentence(SET_PLATE, {"off": CENTRING_MM})
    yield Sentence(NOT_RECKONED)
    yield Sentence(LEAST, {"web": plate.least_web_mm, "edge": plate.least_edge_mm})
