"""Every pump of the catalog judged against a job: all of them counted, the best shown in full."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.model.assemble import MOST_COMBINATIONS
from xref_app.core.plan.judge import VERDICT_OF, count_in_the_way
from xref_app.core.plan.judge_parts import JudgeOfParts
from xref_app.core.progress import Progress
from xref_app.services.answers import Candidate, Candidates, MeasureNext, Standing
from xref_app.services.catalog import Catalog
from xref_app.services.job_records import JobRecords
from xref_app.services.judge_candidates import candidate_of, doubted_fields, judge_one, machine_question
from xref_app.services.machine_side import JobValues
from xref_app.services.measure_next import best_settling
from xref_app.services.pump_table import PumpTable, pump_table, versions_counted
from xref_app.services.settling import asked_over
from xref_app.services.verdicts import Steps, Verdicts, judge_table

MOST_SHOWN: Final = 300
"""Pumps shown in full, best first; the others are counted. House rule: nobody reads on, everybody types a number."""

_ORDER: Final = {verdict: int(outcome) for outcome, verdict in VERDICT_OF.items()}


def judge_all(catalog: Catalog, job: JobValues, *, guessed_number: bool, progress: Progress) -> Candidates:
    """Return the best pumps of the catalog judged against the job, and how many of all have each verdict.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    work = PumpsJudged(catalog, job, guessed_number=guessed_number)
    verdicts = work.verdicts(progress)
    order = np.lexsort((verdicts.rests_on_claims, verdicts.in_the_way, work.standings(), verdicts.worst))
    rows = sorted(work.candidates(order[:MOST_SHOWN].tolist(), verdicts), key=_rank)
    return Candidates(tuple(rows), work.measure_next(verdicts, order, rows), verdicts.counted())


class PumpsJudged:
    """One job before the pumps of one catalog, or before those of ``table`` alone."""

    def __init__(
        self, catalog: Catalog, job: JobValues, *, guessed_number: bool = False, table: PumpTable | None = None
    ) -> None:
        side = machine_question(catalog, job)
        self._catalog, self._job, self._guessed = catalog, job, guessed_number
        self._records = JobRecords.about(catalog, job)
        self._set_aside = catalog.damaged.touches(*job.sources)
        self._in_doubt = doubted_fields(catalog, job)
        self._table = pump_table(catalog) if table is None else table
        self._judge = JudgeOfParts(side.cases, side.contradicted)
        self._by_itself: dict[int, Candidate] = {}

    def verdicts(self, progress: Progress) -> Verdicts:
        """Return what every pump comes to; those that are not put together from parts are judged by themselves."""
        table = self._table
        apart = np.flatnonzero(table.apart | self._hangs_together()).tolist()
        alone = self._catalog.damaged.known().entries | self._catalog.doubts.keys()
        if alone:
            apart = sorted({*apart, *(place for place, pump in enumerate(table.ids) if pump in alone)})
        # At most every part, every part of faces once more for the room, and the pumps apart.
        work = Steps(progress, sum(len(parts) for parts in table.parts) + len(table.ids) + len(apart))
        verdicts = judge_table(
            table,
            self._judge,
            work=work,
            guessed_number=self._guessed,
            set_aside=self._set_aside,
            in_doubt=self._in_doubt,
        )
        for place in work.through(apart):
            self._settle_alone(verdicts, place)
        return verdicts

    def _settle_alone(self, verdicts: Verdicts, place: int) -> None:
        """Judge one pump by itself, and count it so."""
        pump_id = self._table.ids[place]
        found = judge_one(self._catalog, self._job, pump_id, guessed_number=self._guessed, records=self._records)
        self._by_itself[place] = found
        verdicts.settle(place, found.judgement)

    def _hangs_together(self) -> NDArray[np.bool_]:
        """Return which pumps contradict themselves in ways that hang together with those of the machine side."""
        several = np.prod(versions_counted(self._table.numbers, self._table.parts), axis=0)
        old = math.prod(len(versions) for versions in self._job.old_has.values())
        sides = old * math.prod(len(versions) for versions in self._job.machine.values())
        found: NDArray[np.bool_] = (several > 1) & ((several * sides > MOST_COMBINATIONS) | (old > 1))
        return found

    def standings(self) -> NDArray[np.uint8]:
        """Return the standing of every pump by what happened with it before, in the order of the table."""
        stands = np.full(len(self._table.ids), Standing.UNTRIED, np.uint8)
        if self._records.past:
            for place, pump_id in enumerate(self._table.ids):
                if pump_id in self._records.past:
                    stands[place] = self._records.standing(pump_id)
        return stands

    def candidates(self, places: Sequence[int], verdicts: Verdicts) -> list[Candidate]:
        """Return the pumps at ``places``, each judged in full; damage found only now changes ``verdicts``, too."""
        self._catalog.read_ahead(self._table.ids[place] for place in places)
        if not self._set_aside:
            for place in places:
                if place not in self._by_itself and self._catalog.damaged.touches(self._table.ids[place]):
                    self._settle_alone(verdicts, place)
        return [self.candidate(place) for place in places]

    def candidate(self, place: int) -> Candidate:
        """Return the pump at ``place`` of the table, judged in full."""
        found = self._by_itself.get(place)
        if found is not None:
            return found
        judgement = self._judge.put_together(
            self._table.parts_of(place),
            guessed_number=self._guessed,
            set_aside=self._set_aside,
            in_doubt=self._in_doubt,
        )
        return self._records.told_of(candidate_of(self._catalog, self._job, self._table.ids[place], judgement))

    def measure_next(
        self, verdicts: Verdicts, order: np.ndarray[tuple[int], np.dtype[np.intp]], rows: list[Candidate]
    ) -> MeasureNext | None:
        """Return the measurement that settles most of what is open, over all pumps."""
        is_open = verdicts.worst == Outcome.UNKNOWN
        asks = np.zeros(len(is_open), np.bool_)
        for asking in verdicts.asked.values():
            asks |= asking & is_open
        if not asks.any():
            return None
        shown = (row for row in rows if row.judgement.verdict is Verdict.NOT_KNOWN_YET and row.judgement.measure_next)
        nearest = next(shown, None) or self.candidate(int(next(place for place in order if asks[place])))
        return best_settling(asked_over(verdicts.asked, is_open), nearest, int(asks.sum()))


def _rank(candidate: Candidate) -> tuple[int, int, int, bool, float, str]:
    """Return what candidates are sorted by: verdict, what happened before, what is in the way, claims, cost, number."""
    in_the_way = count_in_the_way(candidate.judgement.findings)
    cost = sum(need.quantity * need.listed.cost for need in candidate.judgement.needs if need.listed)
    rests_on_claims = bool(candidate.judgement.claims)
    verdict = _ORDER[candidate.judgement.verdict]
    return (verdict, candidate.standing, in_the_way, rests_on_claims, cost, candidate.number)
