"""The bolt circle from whatever distances of its holes people can take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

from xref_app.core.identify.circle_of_three import arcs_deg, circle_through_three_mm
from xref_app.core.quantity.edges import EdgeReading, centre_distance_mm
from xref_app.core.quantity.range import Range, hull
from xref_app.core.quantity.readings import ReadingError
from xref_app.core.sentence import Sentence, marked

FEWEST_HOLES, MOST_HOLES = 2, 8

ASSUMED = marked(
    "identify",
    "This circle is right only if the {holes} holes are equally spaced: one distance cannot show that; measure all"
    " distances from hole to hole.",
)
AGREE = marked(
    "identify",
    "The distances agree with {holes} equally spaced holes and do not prove them; all distances from hole to hole do.",
)
TWO_HOLES = marked("identify", "Two holes: this is their circle only if the shaft lies half way between them.")
THREE_DIFFER = marked(
    "identify",
    "The three sides differ: the holes are not equally spaced (arcs of {arcs} degrees); do not use one distance, it"
    " would give a circle of {least:.2f} to {most:.2f} mm.",
)


class Spacing(StrEnum):
    """What the distances say about the spacing of the holes."""

    ASSUMED_EQUAL = "assumed equal"
    CAN_BE_EQUAL = "can be equal"
    UNEQUAL = "not equal"


@dataclass(frozen=True, slots=True)
class HoleDistance:
    """One distance as read, and how many steps round the circle its two holes lie apart: 1 for neighbours."""

    reading: EdgeReading
    steps: int = 1


@dataclass(frozen=True, slots=True)
class CircleFound:
    """A bolt circle: its diameter, mm; what is known of the spacing; the arcs between three holes; what to be told."""

    diameter_mm: Range
    spacing: Spacing
    arcs_deg: tuple[float, ...] = ()
    notes: tuple[Sentence, ...] = ()


def circle_from(distances: Sequence[HoleDistance], *, holes: int) -> CircleFound:
    """Return the bolt circle of ``holes`` holes.

    Three neighbouring distances of three holes, in order round the face, give the circle through them (Heron), however
    they are spaced. Everything else is D = c / sin(pi · steps / holes), which holds for equal spacing only: several
    distances must then agree, and one alone is said to be no proof.

    Args:
        distances: n ≥ 1 distances, each from edge to edge or between centres, with the steps it spans.
        holes: 2 to 8.

    Returns:
        The diameter with everything that the doubts of the readings allow (worst case).

    Raises:
        ReadingError: the number of holes or of steps makes no sense, a reading is no size, or the distances
            contradict equal spacing and are not the three sides of a triangle.

    Source: geometry of chords; circumscribed circle by Heron's formula.
    """
    _refuse_impossible(distances, holes)
    if holes == 3 and len(distances) == 3:
        return _of_three(tuple(centre_distance_mm(one.reading) for one in distances))
    circles = [_equal_circle_mm(one, holes) for one in distances]
    least, most = max(circle.low for circle in circles), min(circle.high for circle in circles)
    agreed = circles[0] if len(circles) == 1 else _agreed(circles)
    if agreed is None:
        raise ReadingError(
            f"The distances would give circles from {most:.2f} to {least:.2f} mm, so the holes are not equally spaced;"
            " measure the distance of every hole to every other."
        )
    alone = len({one.steps for one in distances}) == 1 and len(distances) < holes
    if alone:
        return CircleFound(agreed, Spacing.ASSUMED_EQUAL, notes=_unproven(holes))
    return CircleFound(agreed, Spacing.CAN_BE_EQUAL, notes=(Sentence(AGREE, {"holes": holes}),))


def _unproven(holes: int) -> tuple[Sentence, ...]:
    return (Sentence(TWO_HOLES) if holes == 2 else Sentence(ASSUMED, {"holes": holes}),)


def _refuse_impossible(distances: Sequence[HoleDistance], holes: int) -> None:
    if not FEWEST_HOLES <= holes <= MOST_HOLES:
        raise ReadingError(
            f"A circle of {holes} holes is not measured here; give {FEWEST_HOLES} to {MOST_HOLES} holes."
        )
    if not distances:
        raise ReadingError("There is no distance to find the circle from; measure from one hole to another.")
    for one in distances:
        if not 1 <= one.steps <= holes // 2:
            raise ReadingError(
                f"Two of {holes} holes cannot lie {one.steps} steps apart the short way round; give 1 to {holes // 2}."
            )


def _equal_circle_mm(distance: HoleDistance, holes: int) -> Range:
    return centre_distance_mm(distance.reading) / math.sin(math.pi * distance.steps / holes)


def _agreed(circles: Sequence[Range]) -> Range | None:
    """Return what all allow, or None where they share nothing.

    Equal spacing makes each of them hold the true circle, so what they share holds it too.
    """
    shared: Range | None = circles[0]
    for circle in circles[1:]:
        shared = shared.overlap_or_none(circle) if shared is not None else None
    return shared


def _of_three(sides: tuple[Range, ...]) -> CircleFound:
    first, second, third = sides
    circle = circle_through_three_mm(first, second, third)
    arcs = arcs_deg(first.middle, second.middle, third.middle)
    can_be_equal = all(one.meets(other) for one, other in combinations(sides, 2))
    if can_be_equal:
        return CircleFound(circle, Spacing.CAN_BE_EQUAL, arcs)
    wrong = hull(side / math.sin(math.pi / 3) for side in sides)
    said = " / ".join(f"{arc:.1f}" for arc in arcs)
    note = Sentence(THREE_DIFFER, {"arcs": said, "least": wrong.low, "most": wrong.high})
    return CircleFound(circle, Spacing.UNEQUAL, arcs, (note,))
