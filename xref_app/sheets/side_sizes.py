"""The lengths written on a side view: each with its range, and marked where it is too small."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.fit.house_rules import BOTTOM_CLEARANCE_MM
from xref_app.core.fit.key_load import overlap_mm
from xref_app.core.fit.show import rounded_up, span_outside
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.shapes import Label, Line, Point, Shape, SizeLine
from xref_app.sheets.side_frame import Frame, pilot_step_mm
from xref_app.sheets.side_lengths import (
    BoltLengths,
    boss_room_or_none,
    bottom_clearance_or_none,
    engagement_needed_or_none,
    engagement_or_none,
    pilot_play_or_none,
)
from xref_app.sheets.side_moving import bolt_axis_mm, bolt_tip_mm, cross, key_span_or_none

CLEARANCE = marked("drawing", "bottom clearance {size} mm")
CLEARANCE_SHORT = marked("drawing", "bottom clearance {size} mm, {needed} needed")
ENGAGEMENT = marked("drawing", "engagement {size} mm")
ENGAGEMENT_SHORT = marked("drawing", "engagement {size} mm, {needed} needed")
KEY = marked("drawing", "key overlap {size} mm")
SPACER = marked("drawing", "spacer {size} mm")
SPACERS = marked("drawing", "spacers {size} mm")
PLATE = marked("drawing", "plate {size} mm")
IN_THREAD = marked("drawing", "bolt in thread {size} mm")
IN_THREAD_SHORT = marked("drawing", "bolt in thread {size} mm, {needed} needed")
PAST_FACE = marked("drawing", "bolt past the washer {size} mm")
PAST_FACE_SHORT = marked("drawing", "bolt past the washer {size} mm, {needed} needed")
THREAD_LEFT = marked("drawing", "thread left {size} mm")
BOSS_ROOM = marked("drawing", "room at the boss {size} mm")
BOSS_WIDE = marked("drawing", "boss {size} mm too wide")


def shaft_sizes(frame: Frame) -> Iterator[Shape]:
    """Yield engagement, bottom clearance, key overlap and what lies between, below the drawing."""
    yield from _between_sizes(frame)
    yield from _engagement(frame)
    yield from _clearance(frame)
    yield from _key_overlap(frame)


def _engagement(frame: Frame) -> Iterator[Shape]:
    found = engagement_or_none(frame.machine, frame.pump, frame.between)
    projection, recess = frame.machine.shaft.projection_mm, frame.pump.bore.recess_mm
    if found is None or projection is None or recess is None:
        return
    y = -(frame.shaft_mm or 0.0)
    needed = engagement_needed_or_none(frame.machine)
    ends = ((frame.gap_mm + recess.value, y), (projection.value, y))
    yield _size(ends, found, needed, (ENGAGEMENT, ENGAGEMENT_SHORT))


def _clearance(frame: Frame) -> Iterator[Shape]:
    found = bottom_clearance_or_none(frame.machine, frame.pump, frame.between)
    projection, depth = frame.machine.shaft.projection_mm, frame.pump.bore.depth_mm
    if found is None or projection is None or depth is None:
        return
    y = -(frame.shaft_mm or 0.0)
    ends = ((projection.value, y), (frame.gap_mm + depth.value, y))
    yield _size(ends, found, BOTTOM_CLEARANCE_MM, (CLEARANCE, CLEARANCE_SHORT))
    if found.low < -SAME_MM:
        yield from cross(projection.value, 0.0)


def _key_overlap(frame: Frame) -> Iterator[Shape]:
    found = overlap_mm(frame.machine, frame.pump, frame.between.thickness_mm)
    key, bore = key_span_or_none(frame), frame.pump.bore
    if found is None or key is None or bore.keyway_from_mm is None or bore.keyway_to_mm is None:
        return
    begins = max(key[0], frame.gap_mm + bore.keyway_from_mm.value)
    ends = min(key[1], frame.gap_mm + bore.keyway_to_mm.value)
    y = -(frame.shaft_mm or 0.0)
    line = Line.MISS if found.low <= SAME_MM else Line.SIZE
    yield SizeLine((begins, y), (ends, y), Sentence(KEY, {"size": span_outside(found, 1)}), line)


def _between_sizes(frame: Frame) -> Iterator[Shape]:
    plate_mm, spacers_mm = frame.between.plate_mm, frame.between.spacers_mm
    y = -frame.low_mm
    if plate_mm is not None:
        text = Sentence(PLATE, {"size": f"{plate_mm:.2f}"})
        yield SizeLine((0.0, y), (plate_mm, y), text)
    if spacers_mm:
        begins = plate_mm or 0.0
        text = Sentence(
            SPACERS if len(spacers_mm) > 1 else SPACER, {"size": " + ".join(f"{t:.2f}" for t in spacers_mm)}
        )
        yield SizeLine((begins, y), (begins + sum(spacers_mm), y), text)


def bolt_sizes(frame: Frame, bolt: BoltLengths) -> Iterator[Shape]:
    """Yield how far the bolt is in its thread, and what thread is left, above the drawing."""
    y, tip = bolt_axis_mm(frame), bolt_tip_mm(frame, bolt)
    if y is None or tip is None:
        return
    top = y + bolt.diameter_mm / 2
    if bolt.is_through:
        back = -frame.case_deep_mm - bolt.washer_mm.middle
        yield _size(
            ((tip, top), (back, top)), bolt.inside_mm, bolt.needed_mm, (PAST_FACE, PAST_FACE_SHORT), is_above=True
        )
        return
    begins = frame.between.plate_mm or 0.0
    words = (IN_THREAD, IN_THREAD_SHORT)
    yield _size(((tip, top), (begins, top)), bolt.inside_mm, bolt.needed_mm, words, is_above=True)
    if bolt.left_mm is not None:
        end = tip - bolt.left_mm.middle
        line = Line.MISS if bolt.left_mm.low < -SAME_MM else Line.SIZE
        text = Sentence(THREAD_LEFT, {"size": span_outside(bolt.left_mm, 1)})
        yield SizeLine((end, top), (tip, top), text, line, is_above=True)
        if line is Line.MISS:
            yield from cross(tip, y)


def pilot_misses(frame: Frame) -> Iterator[Shape]:
    """Yield what is wrong between boss and recess: too high, or too wide; nothing where nothing is."""
    room = boss_room_or_none(frame.machine, frame.pump, frame.between)
    steps = [pilot_step_mm(side) for side in (frame.machine.face, frame.pump.flange)]
    radius_mm = max(radius for radius, _ in steps)
    if room is not None and room.low < -SAME_MM:
        ends = ((steps[0][1], radius_mm), (frame.gap_mm - steps[1][1], radius_mm))
        yield SizeLine(*ends, Sentence(BOSS_ROOM, {"size": span_outside(room, 1)}), Line.MISS, is_above=True)
        yield from cross((ends[0][0] + ends[1][0]) / 2, (radius_mm + frame.inner_mm) / 2)
    play = pilot_play_or_none(frame.machine, frame.pump)
    if play is not None and play.low < -SAME_MM and not _is_lifted(frame):
        text = Sentence(BOSS_WIDE, {"size": span_outside(-play, 2)})
        yield Label(frame.gap_mm, radius_mm, text, Line.MISS, towards_deg=0.0, clear_mm=4.0)
        yield from cross(frame.gap_mm, radius_mm)


def _is_lifted(frame: Frame) -> bool:
    """Say whether what lies between surely keeps the boss out of its recess."""
    bosses = [out for _, out in (pilot_step_mm(frame.machine.face), pilot_step_mm(frame.pump.flange)) if out > 0]
    return frame.between.thickness_mm.low >= max(bosses, default=0.0)


def _size(
    ends: tuple[Point, Point],
    found: Range,
    needed: float | None,
    words: tuple[str, str],
    *,
    is_above: bool = False,
) -> SizeLine:
    """Return a length in words; marked, with what is needed, where it is not surely enough."""
    size = span_outside(found, 1)
    if needed is None or found.low >= needed - SAME_MM:
        return SizeLine(*ends, Sentence(words[0], {"size": size}), is_above=is_above)
    values = {"size": size, "needed": rounded_up(needed, 1)}
    return SizeLine(*ends, Sentence(words[1], values), Line.MISS, is_above=is_above)
