"""Salvaged engines and pumps side by side, and what the judge says of each pair, as plain values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import SalvagedUnit, UnitReservationRow
from xref_app.core.plan.pair_value import PairParts

GOOD_CONDITIONS = ("tested good", "runs")
"""Units in these conditions are paired up; the others are counted and left out. House rule."""

BOTH_FIT = frozenset({Verdict.FITS, Verdict.FITS_WITH_PARTS})


@dataclass(frozen=True, slots=True)
class PairUnit:
    """One salvaged unit with what the catalog calls it; ``kind`` is ``pump``, ``driver`` or ``machine``."""

    unit: SalvagedUnit
    kind: str
    number: str
    name: str

    @property
    def unit_id(self) -> str:
        """Return the unit's own number."""
        return self.unit.unit_id

    @property
    def entry_id(self) -> str:
        """Return what the unit is."""
        return self.unit.entry_id


@dataclass(frozen=True, slots=True)
class PairVerdict:
    """What the judge says of one engine with one pump.

    ``asked`` are the fields that open checks ask for, sorted, only where it is not known yet; ``parts`` what joining
    them takes, only where they fit; ``rests_on_claims`` says that the verdict holds only if what is claimed does.
    """

    verdict: Verdict
    asked: tuple[str, ...] = ()
    parts: PairParts | None = None
    rests_on_claims: bool = False


@dataclass(frozen=True)
class PairMatrix:
    """Every free unit in good condition, engines as rows, pumps as columns; ``verdicts`` are by entry, not by unit.

    ``left_out`` counts the units in no good condition, by condition; ``unknown_entries`` those of which the catalog
    knows nothing. ``put_by`` are the open reservations with their units.
    """

    engines: Sequence[PairUnit] = ()
    pumps: Sequence[PairUnit] = ()
    verdicts: Mapping[tuple[str, str], PairVerdict] = field(default_factory=dict)
    left_out: Mapping[str, int] = field(default_factory=dict)
    unknown_entries: int = 0
    put_by: Sequence[tuple[UnitReservationRow, PairUnit]] = ()

    def of(self, engine: PairUnit, pump: PairUnit) -> PairVerdict:
        """Return what the judge says of this pair."""
        return self.verdicts[engine.entry_id, pump.entry_id]

    def pairs(self) -> Iterator[tuple[PairUnit, PairUnit, PairVerdict]]:
        """Yield every pair, row by row."""
        for engine in self.engines:
            for pump in self.pumps:
                yield engine, pump, self.of(engine, pump)

    def counted(self) -> Mapping[Verdict, int]:
        """Return how many pairs have each verdict."""
        counts = dict.fromkeys(Verdict, 0)
        for _, _, found in self.pairs():
            counts[found.verdict] += 1
        return counts
