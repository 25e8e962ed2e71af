"""An adapter plate as designed, turned into what its drawing shows."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.plan.face_plan import NOT_RECKONED, SET_PLATE
from xref_app.core.plan.house_rules import CENTRING_MM
from xref_app.core.plan.plate_parts import EngineHole, Plate, PumpHole
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.threads import bolt_nominal_mm, bolt_pitch_mm
from xref_app.sheets.plate_drawing import HoleForm, PlateFigure, PlateHole

TAPPED = marked("drawing", "tapped {thread}, through")
SUNK = marked(
    "drawing", "{clearance:.1f} through, counterbore {counterbore:.1f} x {depth:.1f} deep from the pump's side"
)
MATERIAL = marked("drawing", "{material}, {thickness:.2f} ± 0.05 mm; places ± 0.05 mm; both sides flat, edges broken")
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
    yield Sentence(MATERIAL, {"material": plate.material.value, "thickness": plate.thickness_mm})
    yield Sentence(TURNED, {"turn": plate.turn_deg})
    for template, recess in ((ENGINE_RECESS, plate.engine_recess), (PUMP_RECESS, plate.pump_recess)):
        if recess is not None:
            yield Sentence(template, {"across": recess.diameter_mm, "depth": recess.depth_mm})
    yield Sentence(SET_PLATE, {"off": CENTRING_MM})
    yield Sentence(NOT_RECKONED)
    yield Sentence(LEAST, {"web": plate.least_web_mm, "edge": plate.least_edge_mm})
