"""The pieces of a picture of where the jaws go: plain geometry, mm, x right and y up."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from xref_app.core.sentence import Sentence

Point = tuple[float, float]


class Ink(StrEnum):
    """What a line belongs to, and so how it is drawn: by weight and pattern, never by colour alone."""

    PART = "part"
    CUT = "cut"
    HIDDEN = "hidden"
    CENTRE = "centre"
    TOOL = "tool"
    MEASURED = "measured"


@dataclass(frozen=True, slots=True)
class Path:
    """Straight lines from point to point; ``closed`` joins the last to the first. A closed CUT is hatched."""

    points: tuple[Point, ...]
    ink: Ink
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Round:
    """A circle."""

    centre: Point
    diameter: float
    ink: Ink


@dataclass(frozen=True, slots=True)
class Word:
    """A short label centred on a point, in a square of ``room``."""

    place: Point
    text: str
    room: float = 12.0


Shape = Path | Round | Word


@dataclass(frozen=True, slots=True)
class JawDrawing:
    """A part and the tool on it. ``touch`` are the two points whose distance is read; ``said`` says it in words."""

    shapes: tuple[Shape, ...]
    touch: tuple[Point, Point]
    said: Sentence

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Return left, bottom, right and top of everything drawn, mm."""
        points = [point for shape in self.shapes for point in _corners(shape)]
        xs, ys = zip(*points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


def _corners(shape: Shape) -> Sequence[Point]:
    match shape:
        case Path():
            return shape.points
        case Round():
            (x, y), radius = shape.centre, shape.diameter / 2
            return ((x - radius, y - radius), (x + radius, y + radius))
        case Word():
            return (shape.place,)


def box(left: float, bottom: float, right: float, top: float, ink: Ink) -> Path:
    """Return a rectangle."""
    return Path(((left, bottom), (right, bottom), (right, top), (left, top)), ink, closed=True)


def circle_path(centre: Point, diameter: float, steps: int = 48) -> tuple[Point, ...]:
    """Return points round a circle."""
    angles = (2 * math.pi * step / steps for step in range(steps))
    return tuple((centre[0] + diameter / 2 * math.cos(one), centre[1] + diameter / 2 * math.sin(one)) for one in angles)


def axis(start: Point, end: Point) -> Path:
    """Return a centre line."""
    return Path((start, end), Ink.CENTRE)


def cross(centre: Point, reach: float) -> tuple[Path, Path]:
    """Return the two centre lines of something round."""
    x, y = centre
    return axis((x - reach, y), (x + reach, y)), axis((x, y - reach), (x, y + reach))


def arrow(start: Point, end: Point) -> tuple[Path, ...]:
    """Return a measured distance with a head at each end."""
    length = math.dist(start, end) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    head = min(3.0, length / 4)
    lines = [Path((start, end), Ink.MEASURED)]
    for (x, y), way in ((start, 1), (end, -1)):
        back = (x + way * ux * head, y + way * uy * head)
        side = (-uy * head * 0.35, ux * head * 0.35)
        points = ((x, y), (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
        lines.append(Path(points, Ink.MEASURED, closed=True))
    return tuple(lines)
