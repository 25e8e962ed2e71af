"""What a picture of the jaws is made of: plain outlines, circles, arrows and words, each of a kind that says its looks.

Lengths are mm of an invented part, x right and y up. Whatever comes later lies over what came before.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum

from xref_app.core.sentence import Sentence, marked

Point = tuple[float, float]

# A full turn is drawn with this many straight pieces: at 900 px still rounder than a pixel (house rule: looks only).
_TURN_STEPS = 96

NUMBER = marked("drawing", "{number}")


class Kind(StrEnum):
    """What an element shows, and so how it is drawn; told apart by weight and pattern, not by colour alone."""

    PART = "part"
    CUT = "cut face"
    EMPTY = "empty"
    EDGE = "edge"
    HIDDEN = "hidden"
    CENTRE = "centre line"
    TOOL = "tool"
    JAW = "jaw"
    GAUGE = "gauge"
    TICK = "tick"
    ARROW = "arrow"
    EXTENSION = "extension line"
    MEASURED = "measured"


@dataclass(frozen=True, slots=True)
class Shape:
    """Straight lines through ``points``; ``is_closed`` joins the last to the first and fills what is inside."""

    points: tuple[Point, ...]
    kind: Kind
    is_closed: bool = True


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle, mm."""

    x_mm: float
    y_mm: float
    radius_mm: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class Arrow:
    """A line through ``points`` with a head at its end and, where ``is_double``, at its start."""

    points: tuple[Point, ...]
    is_double: bool = True

    @property
    def length_mm(self) -> float:
        """Return the distance from the first point to the last, mm."""
        return math.dist(self.points[0], self.points[-1])


@dataclass(frozen=True, slots=True)
class Label:
    """Words beside a point: where there is room, best towards ``towards_deg``.

    ``is_close``: they may not stand farther off, where they would be taken for another thing's.
    """

    at: Point
    text: Sentence
    towards_deg: float
    is_close: bool = False


@dataclass(frozen=True, slots=True)
class Span:
    """One measurement: the two points that are touched, and the arrow that shows the size."""

    touches: tuple[Point, Point]
    arrow: Arrow


@dataclass(frozen=True, slots=True)
class JawDrawing:
    """A part, the tool on it and the size it takes. ``words`` say the same to who cannot see it."""

    shapes: tuple[Shape | Circle, ...]
    spans: tuple[Span, ...]
    arrows: tuple[Arrow, ...]
    labels: tuple[Label, ...]
    words: Sentence

    @property
    def all_arrows(self) -> tuple[Arrow, ...]:
        """Return the arrows of the sizes and those that only point."""
        return (*(span.arrow for span in self.spans), *self.arrows)

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """Return least x, least y, greatest x and greatest y of all but the words, mm."""
        points = [point for shape in self.shapes for point in _corners(shape)]
        points += [point for arrow in self.all_arrows for point in arrow.points]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)


def _corners(shape: Shape | Circle) -> tuple[Point, ...]:
    if isinstance(shape, Shape):
        return shape.points
    x, y, radius = shape.x_mm, shape.y_mm, shape.radius_mm
    return (x - radius, y - radius), (x + radius, y + radius)


@dataclass(slots=True)
class Sheet:
    """What has been drawn so far."""

    shapes: list[Shape | Circle] = field(default_factory=list)
    spans: list[Span] = field(default_factory=list)
    arrows: list[Arrow] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def fill(self, kind: Kind, points: Iterable[Point]) -> None:
        """Draw a closed outline."""
        self.shapes.append(Shape(tuple(points), kind))

    def line(self, kind: Kind, *points: Point) -> None:
        """Draw an open line."""
        self.shapes.append(Shape(points, kind, is_closed=False))

    def circle(self, kind: Kind, centre: Point, radius_mm: float) -> None:
        """Draw a circle."""
        self.shapes.append(Circle(*centre, radius_mm, kind))

    def label(self, template: str, at: Point, towards_deg: float) -> None:
        """Write words beside a point."""
        self.labels.append(Label(at, Sentence(template), towards_deg))

    def number(self, number: int, at: Point, towards_deg: float) -> None:
        """Write a number close to what it counts."""
        self.labels.append(Label(at, Sentence(NUMBER, {"number": number}), towards_deg, is_close=True))

    def name(self, template: str, at: Point, towards_deg: float) -> None:
        """Write the name of one of two views close to it."""
        self.labels.append(Label(at, Sentence(template), towards_deg, is_close=True))

    def span(self, one: Point, other: Point, *, moved: Point = (0.0, 0.0)) -> None:
        """Show the size between two touched points, ``moved`` aside between two extension lines."""
        start, end = plus(one, moved), plus(other, moved)
        self.measure((one, other), Arrow((start, end)))

    def measure(self, touches: tuple[Point, Point], arrow: Arrow) -> None:
        """Show a size with an arrow that stands wherever it likes, an extension line from each touched point."""
        for touch, end in zip(touches, (arrow.points[0], arrow.points[-1]), strict=True):
            if math.dist(touch, end) > 0:
                self.line(Kind.EXTENSION, touch, end)
        self.spans.append(Span(touches, arrow))

    def done(self, words: str, **values: object) -> JawDrawing:
        """Return the picture, told in ``words``."""
        return JawDrawing(
            tuple(self.shapes), tuple(self.spans), tuple(self.arrows), tuple(self.labels), Sentence(words, values)
        )


def plus(one: Point, other: Point, times: float = 1.0) -> Point:
    """Return ``one`` moved ``times`` along ``other``."""
    return one[0] + other[0] * times, one[1] + other[1] * times


def polar(radius_mm: float, angle_deg: float, centre: Point = (0.0, 0.0)) -> Point:
    """Return the point at this distance and direction from ``centre``."""
    angle = math.radians(angle_deg)
    return centre[0] + radius_mm * math.cos(angle), centre[1] + radius_mm * math.sin(angle)


def arc(centre: Point, radius_mm: float, start_deg: float, end_deg: float) -> list[Point]:
    """Return the points of an arc from one direction to the other, counter-clockwise where the end is greater."""
    steps = max(2, math.ceil(abs(end_deg - start_deg) / 360 * _TURN_STEPS))
    return [polar(radius_mm, start_deg + (end_deg - start_deg) * step / steps, centre) for step in range(steps + 1)]


def box(left: float, bottom: float, right: float, top: float) -> list[Point]:
    """Return the corners of an upright rectangle."""
    return [(left, bottom), (right, bottom), (right, top), (left, top)]
