"""The card of a face's bolt holes: how many, how they lie, and the distances that jaws can take."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from xref_app.core.fields.fields import Field, Side
from xref_app.core.identify.answer import Identified
from xref_app.core.identify.circle import CircleFound, HoleDistance, circle_from
from xref_app.core.identify.circle_sizes import standard_circles
from xref_app.core.identify.even_holes import FEWEST_TOLD, SAME_WITHIN_MM, even_doubt_mm, holes_on_circle_mm
from xref_app.core.identify.holes import AXIS, Apart, HolesFound, SeenFrom, holes_from
from xref_app.core.quantity.edges import EdgeReading, Taken, centre_distance_mm, centre_distance_of_both_mm
from xref_app.core.quantity.instruments import Instrument, doubt_of
from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.positions import rows_text
from xref_app.core.quantity.quantities import parse_quantity
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import show_value
from xref_app.core.quantity.units import DEGREE, Kind
from xref_app.core.sentence import Sentence, marked
from xref_app.services.card import Answers, CardStep, Picture, StepKind, Worked

OUTSIDE_MM, INSIDE_MM = doubt_of(Instrument.CALIPER_OUTSIDE), doubt_of(Instrument.CALIPER_INSIDE)
COUNT, EVEN, FAR, NEAR, HOLE, CENTRED, AXIS_SIZE, TURN = (
    "count",
    "spacing",
    "far edges",
    "near edges",
    "hole",
    "centred",
    "shaft or bore",
    "hole 1 points to",
)
MEASURED_SAME, DIFFERS, NOT_MEASURED = "all the same, measured", "they differ", "not measured"

ASK_COUNT = marked("card", "How many bolt holes has the face?")
ASK_EVEN = marked(
    "card", "Measure from each hole to the next, all round: are the distances all the same, within {within:g} mm?"
)
ASK_FAR = marked("card", "Measure across two neighbouring holes, outer edges.")
ASK_NEAR = marked("card", "Then the inner edges of the same two holes. With both, the hole's own size does not matter.")
ASK_HOLE = marked("card", "Measure a bolt hole across.")
ASK_CENTRED = marked(
    "card", "Measure from the edge of the shaft or bore to the edge of each hole: all the same, within {within:g} mm?"
)
ASK_AXIS_SIZE = marked("card", "Measure the shaft, or the bore, across.")
ASK_PAIR = marked(
    "card", "Number the holes counter-clockwise as you look at the face. Measure holes {one} and {other}, outer edges."
)
ASK_TO_AXIS = marked("card", "Measure from the edge of the shaft or bore to the near edge of hole {one}.")
ASK_TURN = marked("card", "Looking at the engine's face: where does hole 1 point? 0 is right, 90 is up.")
TWO_ONLY = marked("card", "Distances cannot tell that two holes lie in line with the shaft, so it counts as claimed.")
LOOKED_ONLY = marked("card", "Not measured all round, so it counts as claimed until it is.")

# House rules: what these distances can be on a pump's or engine's face, mm. A shaft and a hole are as their fields say.
_FAR_MM, _NEAR_MM, _HOLE_MM, _AXIS_MM = (20.0, 700.0), (5.0, 700.0), (4.0, 20.0), (8.0, 60.0)
_COUNTS = ("2", "3", "4", "5", "6", "7", "8")
_SAME = (MEASURED_SAME, DIFFERS, NOT_MEASURED)
_WITHIN = {"within": SAME_WITHIN_MM}


@dataclass(frozen=True, slots=True)
class HolesCard:
    """Evenly spaced and centred holes take one distance; all others the distances of all pairs and of the shaft."""

    field: Field
    unit: str = "mm"

    def step(self, answers: Answers) -> CardStep | None:
        """Return the first step without an answer; None once the positions can be worked out."""
        return next((step for step in self._steps(answers) if step.key not in answers), None)

    def identified(self, answers: Answers) -> Identified | None:
        """Return the sizes that the bolt circle can have, once it is known."""
        circle = self._circle_or_none(answers)
        return None if circle is None else standard_circles(circle.diameter_mm)

    def worked(self, answers: Answers) -> Worked | None:
        """Return the positions, hole 1 to the right of the shaft (a machine's: where it points).

        Raises:
            ReadingError: the distances contradict each other.
        """
        if self.step(answers) is not None:
            return None
        if self._is_even(answers):
            return self._worked_even(answers)
        return self._worked_general(answers)

    # -- what is asked

    def _steps(self, answers: Answers) -> Iterator[CardStep]:
        yield CardStep(COUNT, "how many", Sentence(ASK_COUNT), StepKind.CHOICE, _COUNTS, Picture("count"))
        count = int(answers.get(COUNT) or 4)
        neighbours = Picture("neighbours", count, "outer edges")
        yield CardStep(EVEN, "spacing", Sentence(ASK_EVEN, _WITHIN), StepKind.CHOICE, _SAME, neighbours)
        if answers.get(EVEN) != DIFFERS:
            yield CardStep(
                CENTRED,
                "centred",
                Sentence(ASK_CENTRED, _WITHIN),
                StepKind.CHOICE,
                _SAME,
                Picture("shaft to hole 1", count),
            )
        if self._is_even(answers):
            yield from self._even_steps(answers, count)
        else:
            yield from self._general_steps(count)
        if self.field.side is Side.MACHINE:
            yield CardStep(TURN, "hole 1 points to", Sentence(ASK_TURN), StepKind.TEXT, picture=Picture("turn", count))

    def _even_steps(self, answers: Answers, count: int) -> Iterator[CardStep]:
        far, near = Picture("neighbours", count, "outer edges"), Picture("neighbours", count, "inner edges")
        yield CardStep(FAR, "outer edges", Sentence(ASK_FAR), picture=far, is_optional=True, usual_mm=_FAR_MM)
        yield CardStep(
            NEAR,
            "inner edges",
            Sentence(ASK_NEAR),
            picture=near,
            is_optional=bool(answers.get(FAR, "x")),
            usual_mm=_NEAR_MM,
        )
        if answers.get(FAR) == "" or answers.get(NEAR) == "":
            yield CardStep(
                HOLE, "hole size", Sentence(ASK_HOLE), picture=Picture("hole size", count), usual_mm=_HOLE_MM
            )

    def _general_steps(self, count: int) -> Iterator[CardStep]:
        yield CardStep(HOLE, "hole size", Sentence(ASK_HOLE), picture=Picture("hole size", count), usual_mm=_HOLE_MM)
        yield CardStep(
            AXIS_SIZE,
            "shaft or bore",
            Sentence(ASK_AXIS_SIZE),
            picture=Picture("shaft or bore", count),
            usual_mm=_AXIS_MM,
        )
        for one, other in combinations(range(1, count + 1), 2):
            ask = Sentence(ASK_PAIR, {"one": one, "other": other})
            picture = Picture(f"{one}-{other}", count, "outer edges")
            yield CardStep(_pair(one, other), f"holes {one} and {other}", ask, picture=picture, usual_mm=_FAR_MM)
        for one in range(1, count + 1):
            ask = Sentence(ASK_TO_AXIS, {"one": one})
            yield CardStep(
                _to_axis(one),
                f"shaft to hole {one}",
                ask,
                picture=Picture(f"shaft to hole {one}", count),
                usual_mm=_NEAR_MM,
            )

    def _is_even(self, answers: Answers) -> bool:
        return answers.get(EVEN) != DIFFERS and answers.get(CENTRED) != DIFFERS

    # -- what it comes to

    def _length(self, answers: Answers, key: str, doubt_mm: float) -> Range:
        return Range.around(parse_length_mm(answers[key], default_unit=self.unit).value_mm, doubt_mm)

    def _circle_or_none(self, answers: Answers) -> CircleFound | None:
        far, near = answers.get(FAR), answers.get(NEAR)
        if not answers.get(COUNT) or not self._is_even(answers) or not (far or near):
            return None
        if far and near:
            both = centre_distance_of_both_mm(
                near_edges=self._length(answers, NEAR, INSIDE_MM), far_edges=self._length(answers, FAR, INSIDE_MM)
            )
            reading = EdgeReading(both)
        elif answers.get(HOLE):
            taken, key = (Taken.FAR_EDGES, FAR) if far else (Taken.NEAR_EDGES, NEAR)
            hole = self._length(answers, HOLE, INSIDE_MM)
            reading = EdgeReading(self._length(answers, key, INSIDE_MM), taken, (hole,))
        else:
            return None
        return circle_from([HoleDistance(reading)], holes=int(answers[COUNT]))

    def _worked_even(self, answers: Answers) -> Worked | None:
        circle = self._circle_or_none(answers)
        if circle is None:
            return None
        count = int(answers[COUNT])
        arcs = [360 / count] * count
        holes = holes_on_circle_mm(circle.diameter_mm.middle, arcs, first_deg=self._turn_deg(answers))
        was_measured = answers[EVEN] == MEASURED_SAME and answers[CENTRED] == MEASURED_SAME
        is_sure = was_measured and count >= FEWEST_TOLD
        doubt = max(self.field.default_doubt, even_doubt_mm(circle.diameter_mm, max(count, FEWEST_TOLD)))
        shown = f"{count} on {show_value(circle.diameter_mm.middle, 'mm')}"
        notes = () if is_sure else (Sentence(LOOKED_ONLY if count >= FEWEST_TOLD else TWO_ONLY),)
        return Worked(_text(holes), shown, doubt, "measured" if is_sure else "claimed", notes)

    def _worked_general(self, answers: Answers) -> Worked:
        count = int(answers[COUNT])
        hole = self._length(answers, HOLE, INSIDE_MM)
        axis = self._length(answers, AXIS_SIZE, OUTSIDE_MM if self.field.side is Side.MACHINE else INSIDE_MM)
        apart = [
            Apart(one, other, self._apart(answers, _pair(one, other), Taken.FAR_EDGES, (hole,)))
            for one, other in combinations(range(1, count + 1), 2)
        ]
        apart += [
            Apart(AXIS, one, self._apart(answers, _to_axis(one), Taken.NEAR_EDGES, (axis, hole)))
            for one in range(1, count + 1)
        ]
        seen_from = SeenFrom.ENGINE if self.field.side is Side.MACHINE else SeenFrom.LOOSE_PUMP
        found = holes_from(apart, holes=count, seen_from=seen_from)
        holes = _turned(found.holes_xy_mm, self._turn_deg(answers))
        return Worked(_text(holes), f"{count} holes", _doubt(found), notes=found.notes)

    def _apart(self, answers: Answers, key: str, taken: Taken, diameters: tuple[Range, ...]) -> Range:
        return centre_distance_mm(EdgeReading(self._length(answers, key, INSIDE_MM), taken, diameters))

    def _turn_deg(self, answers: Answers) -> float:
        text = answers.get(TURN, "")
        return parse_quantity(text, Kind.ANGLE, default_unit=DEGREE).value if text else 0.0


def _pair(one: int, other: int) -> str:
    return f"{one}-{other}"


def _to_axis(one: int) -> str:
    return f"shaft to {one}"


def _turned(holes: Sequence[tuple[float, float]], turn_deg: float) -> list[tuple[float, float]]:
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return [(x * cos - y * sin, x * sin + y * cos) for x, y in holes]


def _doubt(found: HolesFound) -> float:
    """Return the largest doubt of any position, mm; turning the face mixes x and y, so both add up (worst case)."""
    return max(math.hypot(hole.x_mm.doubt, hole.y_mm.doubt) for hole in found.holes)


def _text(holes: Sequence[tuple[float, float]]) -> str:
    return rows_text([(round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in holes])
