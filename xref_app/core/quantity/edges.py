"""The distance between two centres, from what jaws can reach: the edges of two holes, or of a hole and a shaft."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError, refuse_unless_positive


class Taken(StrEnum):
    """Between which points of two holes a distance was taken."""

    CENTRES = "centres"
    NEAR_EDGES = "near edges"
    FAR_EDGES = "far edges"


@dataclass(frozen=True, slots=True)
class EdgeReading:
    """One distance as read, mm, with the diameters of the two holes (or of shaft and hole) it was taken at.

    ``diameters`` may be None where the distance was taken between centres; one entry stands for two equal holes.
    """

    distance: Range
    taken: Taken = Taken.CENTRES
    diameters: tuple[Range, ...] | None = None


def centre_distance_mm(reading: EdgeReading) -> Range:
    """Return the distance between the centres, mm: near edges + (d1 + d2) / 2, or far edges - (d1 + d2) / 2.

    Raises:
        ReadingError: a diameter is missing, or the distance is not a size.

    Source: geometry; the doubts of distance and diameters are added (worst case), for the same jaws took both.
    """
    refuse_unless_positive("The distance", reading.distance)
    if reading.taken is Taken.CENTRES:
        return reading.distance
    radii = _radii(reading)
    if reading.taken is Taken.NEAR_EDGES:
        return reading.distance + radii
    centres = reading.distance - radii
    refuse_unless_positive("The distance between the centres", centres)
    return centres


def centre_distance_of_both_mm(*, near_edges: Range, far_edges: Range) -> Range:
    """Return the distance between the centres, mm: the mean of near and far edges, whatever the two diameters.

    Raises:
        ReadingError: the near edges lie further apart than the far ones.

    Source: geometry; (c - (d1 + d2) / 2 + c + (d1 + d2) / 2) / 2 = c.
    """
    if near_edges.surely_above(far_edges.high):
        raise ReadingError(
            f"The near edges ({near_edges.middle:g} mm) lie further apart than the far edges ({far_edges.middle:g} mm);"
            " change them over or measure again."
        )
    refuse_unless_positive("The distance between the near edges", near_edges)
    return (near_edges + far_edges) / 2.0


def _radii(reading: EdgeReading) -> Range:
    if not reading.diameters or len(reading.diameters) > 2:
        raise ReadingError(
            f"A distance over {reading.taken} needs the diameter of both holes; measure them, or take the distance over"
            " the other edges as well."
        )
    for diameter in reading.diameters:
        refuse_unless_positive("The diameter of the hole", diameter)
    return (reading.diameters[0] + reading.diameters[-1]) / 2.0
