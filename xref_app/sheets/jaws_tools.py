"""The tools in the pictures: caliper with jaws or depth rod, straightedge, rule and thread gauge."""

from __future__ import annotations

import math
from dataclasses import dataclass

from xref_app.sheets.jaws_shapes import Kind, Point, Sheet, box

# The caliper's looks, times the size it is drawn at (house rule: looks only).
_JAW_WIDE, _JAW_TIP, _NIB_WIDE, _NIB_TIP = 7.0, 2.2, 5.0, 1.3
_BEAM, _SLIDER, _LIP, _OTHER_JAW = 8.0, 17.0, 1.6, 9.0
_TICK, _TICK_STEP = 2.6, 3.0
_ROD, _BODY = 1.6, 9.0


@dataclass(frozen=True, slots=True)
class Grip:
    """How a caliper is put on.

    ``away`` points from the touched points to the beam, ``reach_mm`` is how far; the jaw at the first touched point
    presses outward where ``inside`` says so for it, else inward, and so the second. ``size`` scales the tool,
    ``tip_mm`` is how far the jaws pass the touched points, ``over_mm`` how far the beam passes the second.
    """

    away: Point
    reach_mm: float
    inside: tuple[bool, bool] = (False, False)
    size: float = 1.0
    tip_mm: float = 3.0
    over_mm: float = 30.0


INSIDE = (True, True)


def caliper(sheet: Sheet, one: Point, other: Point, grip: Grip) -> None:
    """Draw a caliper whose jaws touch two points and show the size between them."""
    place = _Placed(one, other, grip)
    sheet.fill(Kind.JAW, place.fixed())
    _ticks(sheet, place)
    sheet.fill(Kind.JAW, place.sliding())
    sheet.span(one, other)


class _Placed:
    """A caliper's outline: worked out along x from the first touched point, the beam at y = reach; then moved there."""

    def __init__(self, one: Point, other: Point, grip: Grip) -> None:
        self.open_mm = math.dist(one, other)
        self._one = one
        self._along = ((other[0] - one[0]) / self.open_mm, (other[1] - one[1]) / self.open_mm)
        self._away = grip.away
        self.grip = grip
        self.foot = grip.reach_mm
        self.top = grip.reach_mm + _BEAM * grip.size
        self.nib = min(_NIB_WIDE * grip.size, self.open_mm * 0.42)
        self.nib_tip = min(_NIB_TIP * grip.size, self.open_mm * 0.25)

    def at(self, x: float, y: float) -> Point:
        (ex, ey), (nx, ny) = self._along, self._away
        return self._one[0] + ex * x + nx * y, self._one[1] + ey * x + ny * y

    def fixed(self) -> list[Point]:
        """Return the jaw at the first point in one piece with the beam and the other jaw behind it."""
        wide, tip, end = (
            self.grip.size * _JAW_WIDE,
            -self.grip.tip_mm,
            self.open_mm + self.grip.over_mm * self.grip.size,
        )
        high = self.top + _OTHER_JAW * self.grip.size
        narrow = _JAW_TIP * self.grip.size
        if self.grip.inside[0]:
            lower = [(self.nib, self.foot), (self.nib_tip, tip), (0, tip), (0, self.foot)]
            upper = [(-narrow, high), (0, high), (0, self.top)]
        else:
            lower = [(0, self.foot), (0, tip), (-narrow, tip)]
            upper = [(0, self.top), (0, high), (self.nib_tip, high), (self.nib, self.top)]
        ends = [(-wide, self.foot), (-wide, self.top)]
        return [self.at(x, y) for x, y in [(end, self.foot), *lower, *ends, *upper, (end, self.top)]]

    def sliding(self) -> list[Point]:
        """Return the slider with the jaw at the second point and the other jaw behind it."""
        size, tip, far = self.grip.size, -self.grip.tip_mm, self.open_mm
        foot, top, high = self.foot - _LIP * size, self.top + _LIP * size, self.top + _OTHER_JAW * size
        wide, narrow, back = far + _JAW_WIDE * size, far + _JAW_TIP * size, far + _SLIDER * size
        near = far - self.nib
        if self.grip.inside[1]:
            lower = [(near, foot), (far - self.nib_tip, tip), (far, tip), (far, foot)]
            upper = [(wide, top), (narrow, high), (far, high), (far, top), (near, top)]
        else:
            lower = [(near, foot), (far, foot), (far, tip), (narrow, tip), (wide, foot)]
            upper = [(far, top), (far, high), (far - self.nib_tip, high), (near, top)]
        return [self.at(x, y) for x, y in [*lower, (back, foot), (back, top), *upper]]


def _ticks(sheet: Sheet, place: _Placed) -> None:
    size = place.grip.size
    number = int((place.open_mm + place.grip.over_mm * size - size) // (_TICK_STEP * size))
    for step in range(1, number + 1):
        x, long = step * _TICK_STEP * size, _TICK * size * (1.6 if step % 5 == 0 else 1.0)
        sheet.line(Kind.TICK, place.at(x, place.foot), place.at(x, place.foot + long))


@dataclass(frozen=True, slots=True)
class Rod:
    """How a depth rod is put on: ``near`` and ``far`` are how wide the beam's end lies left and right of the rod."""

    near_mm: float
    far_mm: float
    size: float = 1.0
    beam_mm: float = 26.0


def depth_rod(sheet: Sheet, rest: Point, tip: Point, rod: Rod) -> None:
    """Draw a caliper's end that rests at ``rest`` and its rod that reaches to ``tip``; the size is shown apart."""
    long = math.dist(rest, tip)
    along = ((tip[0] - rest[0]) / long, (tip[1] - rest[1]) / long)
    left = (-along[1], along[0])

    def at(x: float, y: float) -> Point:
        return rest[0] + along[0] * x + left[0] * y, rest[1] + along[1] * x + left[1] * y

    half, back = _ROD * rod.size / 2, -rod.beam_mm * rod.size
    sheet.fill(Kind.JAW, [at(0, -half), at(long, -half), at(long, half), at(0, half)])
    sheet.fill(Kind.JAW, [at(0, -rod.far_mm), at(0, rod.near_mm), *(at(x, y) for x, y in _broken(back, rod))])
    step = _TICK_STEP * rod.size
    for number in range(2, int(rod.beam_mm * rod.size / step)):
        tick = _TICK * rod.size * (1.6 if number % 5 == 0 else 1.0)
        sheet.line(Kind.TICK, at(-number * step, rod.near_mm), at(-number * step, rod.near_mm - tick))


def _broken(back: float, rod: Rod) -> list[Point]:
    """Return the end where the beam is broken off: only a part of it is drawn."""
    high = rod.near_mm + rod.far_mm
    notch = high / 6
    steps = ((0, 0), (0.35, 0), (0.45, -notch), (0.55, notch), (0.65, 0), (1, 0))
    return [(back + aside, rod.near_mm - share * high) for share, aside in steps]


def straightedge(sheet: Sheet, left: float, bottom: float, right: float, top: float) -> None:
    """Draw a straightedge lying across seats."""
    sheet.fill(Kind.TOOL, box(left, bottom, right, top))


def rule(sheet: Sheet, left: float, right: float, foot: float, *, high: float) -> None:
    """Draw a rule that lies along x with its marks up."""
    sheet.fill(Kind.JAW, box(left, foot, right, foot + high))
    step = high / 2.5
    for number in range(1, int((right - left) / step)):
        x = left + number * step
        sheet.line(Kind.TICK, (x, foot + high), (x, foot + high * (0.45 if number % 5 == 0 else 0.7)))


def cross(sheet: Sheet, centre: Point, half_mm: float) -> None:
    """Draw the two centre lines of something round."""
    x, y = centre
    sheet.line(Kind.CENTRE, (x - half_mm, y), (x + half_mm, y))
    sheet.line(Kind.CENTRE, (x, y - half_mm), (x, y + half_mm))
