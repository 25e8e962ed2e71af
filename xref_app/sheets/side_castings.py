"""The solid things of the side view: the engine's case, the pump's flange and hub, spacers and plate, cut open."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import pairwise

from xref_app.core.fit.bolt_joint import is_through
from xref_app.sheets.section import Band, Cut, Stretch, section, without
from xref_app.sheets.shapes import Line, Shape
from xref_app.sheets.side_frame import Frame, pilot_step_mm

# Where the mouth of the bore lies behind the face, the room before it is drawn so much wider, mm (house rule: looks).
_MOUTH_MM = 4.0
# Half the outside of a spacer in bolt radii (house rule: looks only).
_SPACER_RADII = 2.3
_ENGINE_DEG, _PUMP_DEG, _BETWEEN_DEG = 45.0, 135.0, 60.0

Solid = Callable[[float], tuple[Stretch, ...]]


def engine_case(frame: Frame) -> Iterator[Shape]:
    """Yield the engine's face, hatched on its side of axial zero, with boss or recess and one bolt's hole."""
    pilot_mm, out_mm = pilot_step_mm(frame.machine.face)
    back_mm = -frame.case_deep_mm
    hole_y, hole_mm = frame.bolt_y_mm, frame.engine_hole_mm
    deep = frame.machine.face.tapped_depth_mm

    def solid(y: float, *, has_hole: bool) -> tuple[Stretch, ...]:
        front_mm = out_mm if y < pilot_mm else 0.0
        whole = (back_mm, front_mm)
        if not has_hole or hole_y is None or hole_mm is None or abs(y - hole_y) >= hole_mm:
            return (whole,)
        if is_through(frame.machine):
            return ()
        return (whole,) if deep is None else without(whole, (-deep.value, front_mm))

    open_x = (back_mm,) if frame.is_case_open else ()
    hole_ends = () if hole_y is None or hole_mm is None else (hole_y - hole_mm, hole_y + hole_mm)
    for up, high_mm in ((1, frame.top_mm), (-1, frame.low_mm)):
        bands = _bands(
            (frame.inner_mm, pilot_mm, *(hole_ends if up > 0 else ())),
            high_mm,
            partial(solid, has_hole=up > 0),
        )
        yield from section(bands, Cut(Line.MACHINE, _ENGINE_DEG, open_x, (frame.inner_mm, high_mm), up))


def pump_casting(frame: Frame) -> Iterator[Shape]:
    """Yield flange and hub: bore with bottom and mouth, keyway, boss or recess, and one hole."""
    high = {1: frame.top_mm, -1: frame.low_mm}
    floor_mm = frame.keyway_floor_mm
    for up in (1, -1):
        breaks = [0.0, frame.bore_mm or 0.0, (frame.bore_mm or 0.0) + _MOUTH_MM, frame.hub_mm]
        breaks.append(pilot_step_mm(frame.pump.flange)[0])
        if up > 0:
            breaks += [floor_mm or 0.0, *_hole_ends(frame)]
        bands = _bands(breaks, high[up], partial(_pump_solid, frame, is_upper=up > 0))
        back = () if frame.pump_back_mm is None else (frame.pump_back_mm,)
        yield from section(bands, Cut(Line.PUMP, _PUMP_DEG, back, (0.0, frame.hub_mm, high[up]), up))


def _hole_ends(frame: Frame) -> tuple[float, ...]:
    y, half = frame.hole_y_mm, frame.flange_hole_mm
    return () if y is None or half is None else (y - half, y + half)


def _pump_solid(frame: Frame, y: float, *, is_upper: bool) -> tuple[Stretch, ...]:
    """Return where the pump is solid at height ``y``; nothing where its lengths are not known."""
    bore, thickness = frame.pump.bore, frame.pump.flange.thickness_mm
    back_mm, gap_mm = frame.pump_back_mm, frame.gap_mm
    if y >= frame.hub_mm or back_mm is None or frame.bore_mm is None:
        ends = _hole_ends(frame)
        if thickness is None or y < frame.hub_mm or (is_upper and ends and ends[0] < y < ends[1]):
            return ()
        return ((_pump_face_mm(frame, y), gap_mm + thickness.value),)
    if y < frame.bore_mm:
        return () if bore.depth_mm is None else ((gap_mm + bore.depth_mm.value, back_mm),)
    whole = (_pump_face_mm(frame, y), back_mm)
    floor_mm = frame.keyway_floor_mm
    is_keyway = is_upper and floor_mm is not None and y < floor_mm
    if not is_keyway or bore.keyway_from_mm is None or bore.keyway_to_mm is None:
        return (whole,)
    return without(whole, (gap_mm + bore.keyway_from_mm.value, gap_mm + bore.keyway_to_mm.value))


def _pump_face_mm(frame: Frame, y: float) -> float:
    """Return where the pump begins at height ``y``: at its face, its boss, its recess or the mouth of its bore."""
    pilot_mm, out_mm = pilot_step_mm(frame.pump.flange)
    begins = frame.gap_mm - (out_mm if y < pilot_mm else 0.0)
    recess = frame.pump.bore.recess_mm
    if recess is not None and recess.value > 0 and y < (frame.bore_mm or 0.0) + _MOUTH_MM:
        return max(begins, frame.gap_mm + recess.value)
    return begins


def between_faces(frame: Frame) -> Iterator[Shape]:
    """Yield the plate, with the pump's bolt tapped through it, and the spacers under one bolt."""
    plate_mm = frame.between.plate_mm
    if plate_mm is not None:
        for up, high_mm in ((1, frame.top_mm), (-1, frame.low_mm)):
            bands = _bands((frame.inner_mm,), high_mm, lambda _y: ((0.0, plate_mm),))
            yield from section(bands, Cut(Line.BETWEEN, _BETWEEN_DEG, (), (high_mm,), up))
    hole_y, bolt_mm = frame.bolt_y_mm if plate_mm is None else frame.hole_y_mm, frame.bolt_mm
    if hole_y is None or bolt_mm is None:
        return
    begins = plate_mm or 0.0
    hole_mm = frame.flange_hole_mm or bolt_mm
    outside_mm = max(_SPACER_RADII * bolt_mm, hole_mm + bolt_mm)
    for thickness_mm in frame.between.spacers_mm:
        ends = begins + thickness_mm
        for low, high in ((hole_y - outside_mm, hole_y - hole_mm), (hole_y + hole_mm, hole_y + outside_mm)):
            yield from section((Band(low, high, ((begins, ends),)),), Cut(Line.BETWEEN, _BETWEEN_DEG))
        begins = ends


def _bands(breaks: Sequence[float], high_mm: float, solid: Solid) -> list[Band]:
    """Return the bands between the lowest break and ``high_mm``, each solid as it is at its middle."""
    heights = sorted({min(one, high_mm) for one in breaks if one >= breaks[0]} | {high_mm})
    return [Band(low, high, solid((low + high) / 2)) for low, high in pairwise(heights)]
