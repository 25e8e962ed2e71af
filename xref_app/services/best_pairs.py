"""Which engine goes with which pump, so that all machines together are worth the most; nothing that may not fit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from xref_app.core.errors import XrefError
from xref_app.core.fit.finding import Verdict
from xref_app.core.plan.pair_value import PairFigures, PairParts, PairSum, pair_sum
from xref_app.services.pair_matrix import BOTH_FIT, PairMatrix, PairUnit, PairVerdict
from xref_app.services.pair_measure import PairMeasure, pair_measure

UnitPair = tuple[str, str]
"""The numbers of an engine's and a pump's unit."""


class PairsWanted(StrEnum):
    """Which pairs may be made."""

    ANY_FIT = "whatever fits"
    ON_SHELF = "with parts on the shelf"
    AS_IS = "fits as is"


@dataclass(frozen=True, slots=True)
class PairWishes:
    """What the person wants: which pairs at all, some surely, some never, and what single engines sell for.

    ``sells_for`` is by the engine's unit number, where the shop's figure for any machine is not meant.
    """

    wanted: PairsWanted = PairsWanted.ANY_FIT
    forced: frozenset[UnitPair] = frozenset()
    forbidden: frozenset[UnitPair] = frozenset()
    sells_for: Mapping[str, float] = field(default_factory=dict)

    def force(self, pair: UnitPair) -> PairWishes:
        """Return the wishes with this pair made surely, or left to the sum again; other wishes of both units go."""
        if pair in self.forced:
            return replace(self, forced=self.forced - {pair})
        others = {one for one in self.forced if one[0] != pair[0] and one[1] != pair[1]}
        return replace(self, forced=frozenset({*others, pair}), forbidden=self.forbidden - {pair})

    def only(self, wanted: PairsWanted) -> PairWishes:
        """Return the wishes with another filter."""
        return replace(self, wanted=wanted)

    def with_prices(self, sells_for: Mapping[str, float]) -> PairWishes:
        """Return the wishes with other figures of single engines."""
        return replace(self, sells_for=dict(sells_for))

    def forbid(self, pair: UnitPair) -> PairWishes:
        """Return the wishes with this pair made never, or left to the sum again."""
        if pair in self.forbidden:
            return replace(self, forbidden=self.forbidden - {pair})
        return replace(self, forced=self.forced - {pair}, forbidden=self.forbidden | {pair})


class CannotPairError(XrefError):
    """Two units are to be paired that do not surely fit, or one of them twice; the sentence says why not."""


@dataclass(frozen=True, slots=True)
class MadePair:
    """One pair that is to be made, with its sum.

    ``parts_go_to_better`` says that better pairs take pieces from the bins that this one counts on.
    """

    engine: PairUnit
    pump: PairUnit
    found: PairVerdict
    parts: PairParts
    sum: PairSum
    is_forced: bool = False
    parts_go_to_better: bool = False


@dataclass(frozen=True, slots=True)
class Pairing:
    """The pairs to be made, the best first, their value together, and what to measure for those not known yet."""

    pairs: tuple[MadePair, ...] = ()
    measure_next: PairMeasure | None = None

    @property
    def value(self) -> float:
        """Return what all pairs together leave, in the shop's money."""
        return round(sum((one.sum.value for one in self.pairs), 0.0), 2)


def best_pairs(matrix: PairMatrix, figures: PairFigures, wishes: PairWishes) -> Pairing:
    """Return the pairs whose values add up to the most; a unit may stay alone, and no pair that loses money is made.

    A pair that somebody wants surely is made even if it loses money, but never where it does not surely fit.

    Raises:
        CannotPairError: a pair wanted surely does not fit or is not known yet, or one unit is wanted in two pairs.
    """
    sums = {
        (engine.unit_id, pump.unit_id): made
        for engine, pump, found in matrix.pairs()
        if (made := _made(engine, pump, found, figures, wishes)) is not None
    }
    forced = _forced(matrix, sums, wishes)
    taken = {unit for pair in forced for unit in pair}
    free = {
        pair: made
        for pair, made in sums.items()
        if made.sum.value > 0
        and pair not in wishes.forbidden
        and taken.isdisjoint(pair)
        and is_wanted(made.found, wishes.wanted)
    }
    chosen = [*(replace(sums[pair], is_forced=True) for pair in forced), *_assigned(free)]
    ranked = sorted(chosen, key=lambda one: (-one.sum.value, one.engine.unit_id))
    return Pairing(tuple(_marked_short(ranked)), pair_measure(matrix))


def is_wanted(found: PairVerdict, wanted: PairsWanted) -> bool:
    """Say whether the filter lets a pair through; what fits not at all or only if a claim holds never does."""
    if found.verdict not in BOTH_FIT or found.rests_on_claims:
        return False
    if wanted is PairsWanted.AS_IS:
        return found.verdict is Verdict.FITS
    return wanted is PairsWanted.ANY_FIT or (found.parts is not None and found.parts.all_on_shelf)


def sum_of(
    engine: PairUnit, pump: PairUnit, found: PairVerdict, figures: PairFigures, wishes: PairWishes
) -> PairSum | None:
    """Return the sum of one pair; None where it does not surely fit."""
    made = _made(engine, pump, found, figures, wishes)
    return None if made is None else made.sum


def _made(
    engine: PairUnit, pump: PairUnit, found: PairVerdict, figures: PairFigures, wishes: PairWishes
) -> MadePair | None:
    if found.verdict not in BOTH_FIT or found.parts is None:
        return None
    prices = (engine.unit.price, pump.unit.price)
    sells_for = wishes.sells_for.get(engine.unit_id)
    return MadePair(engine, pump, found, found.parts, pair_sum(found.parts, figures, prices, sells_for=sells_for))


def _forced(matrix: PairMatrix, sums: Mapping[UnitPair, MadePair], wishes: PairWishes) -> list[UnitPair]:
    """Return the pairs wanted surely, of units that are still there."""
    there = {one.unit_id for one in (*matrix.engines, *matrix.pumps)}
    forced = sorted(pair for pair in wishes.forced if there.issuperset(pair))
    for pair in forced:
        if pair not in sums:
            raise CannotPairError(
                f"{pair[0]} with {pair[1]} does not surely fit, so it is not paired: choose a pair that fits."
            )
    units = [unit for pair in forced for unit in pair]
    for unit in units:
        if units.count(unit) > 1:
            raise CannotPairError(f"{unit} is wanted in two pairs: leave one of them to the sum.")
    return forced


def _assigned(free: Mapping[UnitPair, MadePair]) -> Iterable[MadePair]:
    """Return the assignment of most value; a cell of nothing stands for both units staying alone."""
    if not free:
        return []
    import numpy as np  # noqa: PLC0415 - both only when somebody pairs up: they cost more than the window
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415

    engines, pumps = (sorted({pair[side] for pair in free}) for side in (0, 1))
    rows = {unit: place for place, unit in enumerate(engines)}
    columns = {unit: place for place, unit in enumerate(pumps)}
    values = np.zeros((len(engines), len(pumps)))
    for (engine, pump), made in free.items():
        values[rows[engine], columns[pump]] = made.sum.value
    picked = zip(*linear_sum_assignment(values, maximize=True), strict=True)
    pairs = [(engines[row], pumps[column]) for row, column in picked]
    return [free[pair] for pair in pairs if pair in free]


def _marked_short(ranked: Sequence[MadePair]) -> Iterator[MadePair]:
    """Yield the pairs, better ones first, marked where too few pieces are left in the bins once those have theirs."""
    taken: Counter[str] = Counter()
    for one in ranked:
        short = any(taken[take.part_id] + take.pieces > take.lying for take in one.parts.takes)
        taken.update({take.part_id: take.pieces for take in one.parts.takes})
        yield replace(one, parts_go_to_better=short)
