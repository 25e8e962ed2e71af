"""Sets of stacks that bring all legs to sit: against every set there is, each gap worked out as the checks do."""

from __future__ import annotations

import random
from itertools import product

from xref_app.core.fit.apart import gaps_left_mm
from xref_app.core.fit.house_rules import SEAT_GAP_MM
from xref_app.core.fit.stack import NO_STACK, Piece, Stack
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.plan.legs import Legs, per_place, stack_sets
from xref_app.core.quantity.range import Range

SHELF = tuple(
    Part(PartKind.SPACER, part_id=f"T-{size}", thickness_mm=size, count=9) for size in (0.1, 0.5, 1.0, 1.5, 2.0)
)
SINGLE = tuple(Stack((Piece(part.thickness_mm or 0.0, part),)) for part in SHELF)
DOUBLE = tuple(Stack((*one.pieces, *other.pieces)) for place, one in enumerate(SINGLE) for other in SINGLE[place:])
OFFERED = tuple(sorted((NO_STACK, *SINGLE, *DOUBLE), key=lambda stack: stack.nominal_mm))
WINDOW = Range(-2.0, 4.0)


def drawn(rng: random.Random) -> Legs:
    """Return two or three groups of one or two legs, lower ones after higher ones."""
    sums: list[Range] = []
    groups: list[tuple[int, ...]] = []
    height = 0.0
    for _ in range(rng.choice((2, 2, 3))):
        places = range(len(sums), len(sums) + rng.choice((1, 1, 2)))
        sums += [Range.around(height - rng.choice((0.0, 0.02)), rng.choice((0.0, 0.01, 0.03))) for _ in places]
        groups.append(tuple(places))
        height -= rng.choice((0.1, 0.5, 0.53, 1.0, 1.4, rng.uniform(0.06, 2.5)))
    return Legs(tuple(sums), tuple(groups))


def test_the_sets_are_those_whose_gaps_are_small_enough_and_no_others() -> None:
    rng, found = random.Random(11), 0
    for _ in range(120):
        legs = drawn(rng)
        firsts = {NO_STACK} | {
            one
            for one in OFFERED
            if one.pieces and all((one.thickness_mm + legs.sums[place]).within(WINDOW) for place in legs.groups[0])
        }
        expected = {
            chosen
            for chosen in product(firsts, *(OFFERED for _ in legs.groups[1:]))
            if all(gap.surely_at_most(SEAT_GAP_MM) for gap in gaps_left_mm(legs.sums, per_place(legs, chosen)))
        }
        given = stack_sets(legs, OFFERED, WINDOW, is_surely_needed=False)
        listed = {chosen for chosen in given if all(piece.listed for stack in chosen for piece in stack.pieces)}
        assert listed == expected, legs
        found += len(expected)
    assert found >= 300
