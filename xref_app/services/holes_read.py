"""The bolt circle and the places of its holes from the distances in READINGS.json."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.identify.circle import HoleDistance, Spacing, circle_from
from xref_app.core.identify.circle_of_holes import circle_of_holes
from xref_app.core.identify.even_holes import holes_on_circle_mm
from xref_app.core.identify.holes import AXIS, Apart, SeenFrom, holes_from
from xref_app.core.quantity.edges import EdgeReading, Taken, centre_distance_mm
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked
from xref_app.exchange.json_file import JsonFileError
from xref_app.exchange.readings_file import Readings

NO_CIRCLE = marked("identify", "No one circle goes through these holes: give their places, not a circle.")
PLACED = marked("identify", "The places of the holes are right within {doubt:.2f} mm.")
FACE_UNSAID = marked(
    "identify",
    "Taken as numbered counter-clockwise looking at the engine's face; numbered on the loose pump the pattern is"
    " mirrored: say so with seen_from.",
)
WAYS = ("distance_mm", "sides_mm", "pairs_mm")


@dataclass(frozen=True, slots=True)
class HolesRead:
    """A bolt circle, mm, with what is known of the spacing, both None where no one circle goes through the holes.

    ``holes_xy_mm`` are their centres looking at the engine's face with the pump in front of it, x right, y up.
    """

    diameter_mm: Range | None
    holes: int
    spacing: Spacing | None
    holes_xy_mm: tuple[tuple[float, float], ...]
    notes: tuple[Sentence, ...] = ()


def holes_read(readings: Readings) -> HolesRead:
    """Return the circle that the distances of its holes give.

    Raises:
        XrefError: no distance was read, or in more ways than one, or they give no circle.
    """
    if readings.sides:
        return _of_sides(readings)
    if readings.pairs:
        return _of_pairs(readings)
    return _of_one_distance(readings)


def refuse_unless_one_way(readings: Readings, ways: Sequence[str] = WAYS) -> None:
    """Refuse readings that give the circle in no way, or in two that could contradict each other."""
    read = {*readings.lengths, *(["sides_mm"] if readings.sides else []), *(["pairs_mm"] if readings.pairs else [])}
    given = [way for way in ways if way in read]
    if len(given) != 1:
        found = " and ".join(given) if given else "nothing"
        raise JsonFileError(
            f"{readings.kind} readings", f"{found} to find the circle from", f"give one of: {', '.join(ways)}"
        )


def _of_one_distance(readings: Readings) -> HolesRead:
    distance = readings.length_or_none("distance_mm")
    holes = readings.number_or_none("holes")
    if distance is None or holes is None or not readings.word("taken"):
        unsaid = "taken" if holes is not None else "holes"
        raise JsonFileError(f"{readings.kind} readings", f"distance_mm without “{unsaid}”", "say it as well")
    count = int(holes)
    found = circle_from(
        [HoleDistance(_edges(readings, distance), _steps(readings.word("measured"), count))], holes=count
    )
    places = holes_on_circle_mm(found.diameter_mm.middle, [360 / count] * count)
    return HolesRead(found.diameter_mm, count, found.spacing, places, found.notes)


def _of_sides(readings: Readings) -> HolesRead:
    if readings.number_or_none("holes") not in {None, 3}:
        raise JsonFileError("holes", f"{readings.word('holes')} holes with three sides", "give pairs_mm, or 3 holes")
    found = circle_from([HoleDistance(_edges(readings, side.range)) for side in readings.sides], holes=3)
    uneven = found.spacing is Spacing.UNEQUAL
    places = holes_on_circle_mm(found.diameter_mm.middle, found.arcs_deg)
    if _seen_from(readings) is SeenFrom.LOOSE_PUMP:
        places = tuple((x, 0.0 - y) for x, y in places)
    notes = (*found.notes, *_which_face(readings)) if uneven else found.notes
    return HolesRead(found.diameter_mm, 3, found.spacing, places, notes)


def _edges(readings: Readings, distance: Range) -> EdgeReading:
    hole = readings.length_or_none("hole_mm")
    taken = Taken(readings.word("taken") or Taken.CENTRES)
    return EdgeReading(distance, taken, None if hole is None else (hole,))


def _steps(measured: str, holes: int) -> int:
    if measured == "neighbouring":
        return 1
    if measured == "opposite":
        if holes % 2:
            raise JsonFileError(
                "measured", f"{holes} holes have no opposite ones", "write “neighbouring”, or “across 2” for two steps"
            )
        return holes // 2
    return int(measured.removeprefix("across "))


def _of_pairs(readings: Readings) -> HolesRead:
    distances = [
        Apart(*_pair(name), centre_distance_mm(_edges(readings, one.range))) for name, one in readings.pairs.items()
    ]
    counted = readings.number_or_none("holes")
    holes = max(max(one.first, one.second) for one in distances) if counted is None else int(counted)
    found = holes_from(distances, holes=holes, seen_from=_seen_from(readings))
    circle = circle_of_holes(distances, found)
    doubt = max(one.doubt for hole in found.holes for one in (hole.x_mm, hole.y_mm))
    notes = (Sentence(PLACED, {"doubt": doubt}), *found.notes, *_which_face(readings))
    if circle is None:
        return HolesRead(None, holes, None, found.holes_xy_mm, (*notes, Sentence(NO_CIRCLE)))
    return HolesRead(circle.diameter_mm, holes, circle.spacing, found.holes_xy_mm, (*notes, *circle.notes))


def _pair(name: str) -> tuple[int, int]:
    one, _, other = name.partition("-")
    return AXIS if one == "shaft" else int(one), int(other)


def _seen_from(readings: Readings) -> SeenFrom:
    return SeenFrom.LOOSE_PUMP if readings.word("seen_from") == "loose pump" else SeenFrom.ENGINE


def _which_face(readings: Readings) -> tuple[Sentence, ...]:
    return () if readings.word("seen_from") else (Sentence(FACE_UNSAID),)
