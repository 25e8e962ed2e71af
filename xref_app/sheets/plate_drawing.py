"""An adapter plate, seen from the pump: its own drawing with a table of holes, or laid over both faces.

Everything is in mm about the shaft's axis, x right and y up, in the view of the holes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.shapes import CentreLine, Circle, Drawing, Label, Line, Segment, Shape

TITLE = marked("drawing", "Adapter plate, {thickness:.2f} mm thick, seen from the pump")
HOLE, ACROSS, UP, WHAT = (
    marked("drawing", "Hole"),
    marked("drawing", "x mm"),
    marked("drawing", "y mm"),
    marked("drawing", "What"),
)
NUMBER = marked("drawing", "{number:.3f}")
NAME = marked("drawing", "{name}")
# Half the cross on the centre of a hole, and how far an axis runs past the plate, mm (house rule: looks only).
_CROSS_MM, _AXIS_PAST_MM = 1.5, 4.0
_LABEL_DEG = 45.0


class HoleForm(StrEnum):
    """How a hole of the plate is made."""

    PLAIN = "plain"
    TAPPED = "tapped"
    COUNTERBORED = "counterbored"


@dataclass(frozen=True, slots=True)
class PlateHole:
    """One hole: ``through_mm`` is drilled through; ``outer_mm`` is the thread's basic or the counterbore's diameter.

    ``name`` stands beside it and in the table, ``what`` says how it is made.
    """

    name: str
    x_mm: float
    y_mm: float
    through_mm: float
    what: Sentence
    form: HoleForm = HoleForm.PLAIN
    outer_mm: float | None = None


@dataclass(frozen=True, slots=True)
class PlateFigure:
    """What a plate looks like, mm: a disc of ``outside_mm``, a bore at its middle, a boss or recess of ``pilot_mm``."""

    outside_mm: float
    thickness_mm: float
    bore_mm: float | None
    pilot_mm: float | None
    holes: tuple[PlateHole, ...]
    notes: tuple[Sentence, ...] = ()
    not_known: tuple[Sentence, ...] = ()


def plate_drawing(plate: PlateFigure) -> Drawing:
    """Return the plate alone, with every hole named and a table of where they are."""
    reach_mm = plate.outside_mm / 2 + _AXIS_PAST_MM
    shapes = (
        *plate_shapes(plate, Line.PART),
        *(_name(hole) for hole in plate.holes),
        CentreLine(-reach_mm, 0.0, reach_mm, 0.0),
        CentreLine(0.0, -reach_mm, 0.0, reach_mm),
    )
    title = Sentence(TITLE, {"thickness": plate.thickness_mm})
    return Drawing(shapes, plate.notes, plate.not_known, title=title, table=tuple(_table(plate)))


def plate_shapes(plate: PlateFigure, line: Line = Line.BETWEEN) -> Iterator[Shape]:
    """Yield the plate's edges in one kind of line, to be laid over both faces with ``Drawing.with_shapes``."""
    yield Circle(0.0, 0.0, plate.outside_mm, line)
    for across_mm in (plate.bore_mm, plate.pilot_mm):
        if across_mm is not None:
            yield Circle(0.0, 0.0, across_mm, line)
    for hole in plate.holes:
        yield Circle(hole.x_mm, hole.y_mm, hole.through_mm, line)
        if hole.outer_mm is not None:
            yield Circle(hole.x_mm, hole.y_mm, hole.outer_mm, Line.THREAD if hole.form is HoleForm.TAPPED else line)
        yield Segment(hole.x_mm - _CROSS_MM, hole.y_mm, hole.x_mm + _CROSS_MM, hole.y_mm, Line.THREAD)
        yield Segment(hole.x_mm, hole.y_mm - _CROSS_MM, hole.x_mm, hole.y_mm + _CROSS_MM, Line.THREAD)


def _name(hole: PlateHole) -> Label:
    clear_mm = max(hole.through_mm, hole.outer_mm or 0.0) / 2
    return Label(hole.x_mm, hole.y_mm, Sentence(NAME, {"name": hole.name}), Line.PART, _LABEL_DEG, clear_mm)


def _table(plate: PlateFigure) -> Iterator[tuple[Sentence, ...]]:
    yield Sentence(HOLE), Sentence(ACROSS), Sentence(UP), Sentence(WHAT)
    for hole in plate.holes:
        place = (Sentence(NUMBER, {"number": one + 0.0}) for one in (hole.x_mm, hole.y_mm))
        yield Sentence(NAME, {"name": hole.name}), *place, hole.what
