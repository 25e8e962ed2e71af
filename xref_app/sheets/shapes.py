"""What every drawing is made of: plain geometry in mm that screen, PDF, SVG and DXF all read.

x runs right and y up. Where the origin lies each drawing says for itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from xref_app.core.sentence import Sentence, marked

Point = tuple[float, float]

# The value of a sentence that names what is lacking.
_WHAT = "what"
MORE_NOTES = marked("drawing", "{more} more notes: Bigger (Ctrl+D) and paper show them")
AND_MORE = marked("drawing", "{names} and {more} more")
ONLY_NUMBER = marked("drawing", "{size}")


class Line(StrEnum):
    """Whose line it is, and so how it is drawn: the machine solid, the pump dotted, a miss marked."""

    MACHINE = "machine"
    PUMP = "pump"
    BETWEEN = "between"
    PART = "part"
    THREAD = "thread"
    MISS = "miss"
    SIZE = "size"
    CENTRE = "centre"
    HATCH = "hatch"
    CHECK = "check"


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle, mm."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    line: Line


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle, mm, from ``start_deg`` counter-clockwise over ``sweep_deg`` (0 to 360)."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    line: Line
    start_deg: float
    sweep_deg: float


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight line, mm; ``arrow`` puts a head on its second end."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    line: Line
    arrow: bool = False


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed polygon, mm, its last corner joined to its first."""

    corners: tuple[Point, ...]
    line: Line


@dataclass(frozen=True, slots=True)
class Hatching:
    """Material cut through: a polygon, mm, filled with thin lines and without an edge of its own."""

    corners: tuple[Point, ...]
    line: Line
    towards_deg: float


@dataclass(frozen=True, slots=True)
class CentreLine:
    """An axis, mm."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float


@dataclass(frozen=True, slots=True)
class Label:
    """Words beside a point, mm: outward along ``towards_deg``, clear of a disc of ``clear_mm`` radius about it."""

    x_mm: float
    y_mm: float
    text: Sentence
    line: Line
    towards_deg: float
    clear_mm: float


@dataclass(frozen=True, slots=True)
class SizeLine:
    """A length along x with its words, mm: measured between two points, written above or below the whole drawing.

    ``line`` is SIZE, or MISS where the length is too small. Rows and the place of the words are found when it is laid
    out, for only then is it known how large the words are.
    """

    first: Point
    second: Point
    text: Sentence
    line: Line = Line.SIZE
    is_above: bool = False


Shape = Circle | Arc | Segment | Outline | Hatching | CentreLine | Label | SizeLine


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing, to scale. ``notes`` say how to read it, ``not_known`` what could not be drawn.

    On paper ``about`` says which machine and pump it is, and ``table`` stands below it (the holes of a plate, say), its
    first row the headings. ``clocking_deg`` is the turn of the pump that is known to work, None where none is or where
    the view shows no turn.
    """

    shapes: tuple[Shape, ...]
    notes: tuple[Sentence, ...] = ()
    not_known: tuple[Sentence, ...] = ()
    clocking_deg: float | None = None
    title: Sentence = Sentence("")  # noqa: RUF009 - frozen, and so is what it holds
    table: tuple[tuple[Sentence, ...], ...] = ()
    about: Sentence = Sentence("")  # noqa: RUF009 - as above

    @property
    def circles(self) -> tuple[Circle, ...]:
        """Return the whole circles."""
        return tuple(one for one in self.shapes if isinstance(one, Circle))

    @property
    def segments(self) -> tuple[Segment, ...]:
        """Return the straight lines that are edges or arrows; axes are none."""
        return tuple(one for one in self.shapes if isinstance(one, Segment))

    @property
    def labels(self) -> tuple[Label, ...]:
        """Return the words beside a point."""
        return tuple(one for one in self.shapes if isinstance(one, Label))

    @property
    def sizes(self) -> tuple[SizeLine, ...]:
        """Return the lengths with their words."""
        return tuple(one for one in self.shapes if isinstance(one, SizeLine))

    @property
    def lines(self) -> frozenset[Line]:
        """Return the kinds of line that are in it."""
        return frozenset(one.line for one in self.shapes if not isinstance(one, CentreLine))

    def told(self, most: int | None = None) -> tuple[Sentence, ...]:
        """Return the notes, ``most`` sentences of them at the most: the last then counts those left out."""
        if most is None or len(self.notes) <= most:
            return self.notes
        kept = self.notes[: most - 1]
        return (*kept, Sentence(MORE_NOTES, {"more": len(self.notes) - len(kept)}))

    def lacks(self, most: int | None = None) -> tuple[Sentence, ...]:
        """Return ``not_known`` in as few sentences as say it: those that differ only in what is lacking become one.

        Each names ``most`` of them at the most and counts the rest.
        """
        gathered: dict[str, list[str]] = {}
        for sentence in self.not_known:
            if sentence.values.keys() == {_WHAT}:
                gathered.setdefault(sentence.template, []).append(str(sentence.values[_WHAT]))
        joined = (Sentence(template, {_WHAT: _listed(whats, most)}) for template, whats in gathered.items())
        return (*joined, *(one for one in self.not_known if one.values.keys() != {_WHAT}))

    @property
    def is_empty(self) -> bool:
        """Say whether nothing at all could be drawn."""
        return not any(isinstance(one, (Circle, Arc, Segment, Outline)) for one in self.shapes)

    @property
    def reach_mm(self) -> float:
        """Return how far the drawing reaches from its origin, mm; 0 where it is empty."""
        return max((reach for one in self.shapes for reach in _reaches_mm(one)), default=0.0)

    def with_brief_sizes(self) -> Drawing:
        """Return the drawing with the lengths in mm as bare numbers, for where there is no room for their names."""
        return replace(self, shapes=tuple(_brief(one) if isinstance(one, SizeLine) else one for one in self.shapes))

    def without_sizes(self) -> Drawing:
        """Return the drawing without its lengths, for where it is too small to hold them."""
        return replace(self, shapes=tuple(one for one in self.shapes if not isinstance(one, SizeLine)))

    def with_shapes(self, *more: Shape, notes: tuple[Sentence, ...] = ()) -> Drawing:
        """Return the drawing with more laid over it, a plate over both faces, say."""
        return replace(self, shapes=(*self.shapes, *more), notes=(*self.notes, *notes))


def _reaches_mm(shape: Shape) -> Iterator[float]:
    if isinstance(shape, (Circle, Arc)):
        yield math.hypot(shape.x_mm, shape.y_mm) + shape.diameter_mm / 2
    elif isinstance(shape, Segment):
        yield math.hypot(shape.x1_mm, shape.y1_mm)
        yield math.hypot(shape.x2_mm, shape.y2_mm)
    elif isinstance(shape, Outline):
        yield from (math.hypot(x, y) for x, y in shape.corners)


def _listed(names: list[str], most: int | None) -> str | Sentence:
    if most is None or len(names) <= most + 1:
        return ", ".join(names)
    return Sentence(AND_MORE, {"names": ", ".join(names[:most]), "more": len(names) - most})


def _brief(size: SizeLine) -> SizeLine:
    if "size" not in size.text.values:
        return size
    return replace(size, text=Sentence(ONLY_NUMBER, {"size": size.text.values["size"]}))
