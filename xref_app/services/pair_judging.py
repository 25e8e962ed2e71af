"""Every engine judged with every pump, by parts: one machine side per engine entry, each pump entry once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from xref_app.core.fields.fields import Side, field_for
from xref_app.core.fit.finding import Judgement, Outcome, Verdict
from xref_app.core.model.shelf import Shelf
from xref_app.core.plan.judge import VERDICT_OF
from xref_app.core.plan.pair_value import pair_parts
from xref_app.core.progress import Progress
from xref_app.services.catalog import Catalog
from xref_app.services.judge_all import PumpsJudged
from xref_app.services.machine_side import JobValues, job_values
from xref_app.services.pair_matrix import BOTH_FIT, PairVerdict
from xref_app.services.pump_table import PumpTable, table_of

_STEPS_PER_ENGINE = 100

Verdicts = Mapping[tuple[str, str], PairVerdict]


def engine_values(catalog: Catalog, entry_id: str) -> JobValues:
    """Return what is known of an engine: of the whole machine where the entry is one, else of the driver alone."""
    if entry_id in catalog.machines:
        return job_values(catalog, None, entry_id)
    known = catalog.known(entry_id)
    machine = {name: values for name, values in known.items() if field_for(name).side is Side.MACHINE}
    return JobValues(machine, {}, (entry_id,))


@dataclass
class PairsJudged:
    """Judges pairs of entries and remembers each until something its verdict rests on changes.

    Used in one thread at a time.
    """

    _found: dict[tuple[str, str], PairVerdict] = field(default_factory=dict)
    _rests_on: dict[str, object] = field(default_factory=dict)
    _shelf: Shelf = ()

    def verdicts(
        self, catalog: Catalog, engine_ids: Sequence[str], pump_ids: Sequence[str], progress: Progress
    ) -> Verdicts:
        """Return the verdict on every engine entry with every pump entry.

        Raises:
            WorkCancelledError: ``progress`` says nobody waits any more; what was judged so far is remembered.
        """
        self._forget_changed(catalog, engine_ids, pump_ids)
        engines, whole = list(dict.fromkeys(engine_ids)), len(set(engine_ids)) * _STEPS_PER_ENGINE
        table: PumpTable | None = None
        for place, engine in enumerate(engines):
            part = _PartOf(progress, place * _STEPS_PER_ENGINE, whole)
            part.step(0, 1)
            missing = [one for one in dict.fromkeys(pump_ids) if (engine, one) not in self._found]
            if missing:
                table = table if table is not None and table.ids == missing else table_of(catalog, missing)
                self._found |= _judged(catalog, engine, table, part)
        progress.step(whole, whole)
        return {(engine, pump): self._found[engine, pump] for engine in engines for pump in pump_ids}

    def _forget_changed(self, catalog: Catalog, engine_ids: Sequence[str], pump_ids: Sequence[str]) -> None:
        shelf = catalog.shelf
        if shelf != self._shelf:
            self._found, self._shelf = {}, shelf
        catalog.read_ahead([*engine_ids, *pump_ids])
        for entry_id in {*engine_ids, *pump_ids}:
            rests_on = _rows_behind(catalog, entry_id)
            if self._rests_on.get(entry_id) != rests_on:
                self._found = {pair: found for pair, found in self._found.items() if entry_id not in pair}
                self._rests_on[entry_id] = rests_on


def _rows_behind(catalog: Catalog, entry_id: str) -> object:
    """Return all that a verdict with this entry rests on but the shelf, to compare with what it was."""
    row = catalog.machines.get(entry_id)
    entries = [entry_id] if row is None else [one for one in (entry_id, row.driver_id, row.pump_id) if one]
    said = tuple((catalog.observations.get(one, ()), catalog.ports.get(one, ())) for one in entries)
    in_doubt = tuple(catalog.doubts.get(one, ()) for one in entries)
    return (row, said, in_doubt, catalog.damaged.touches(*entries))


def _judged(
    catalog: Catalog, engine_id: str, table: PumpTable, progress: Progress
) -> dict[tuple[str, str], PairVerdict]:
    judged = PumpsJudged(catalog, engine_values(catalog, engine_id), table=table)
    verdicts = judged.verdicts(progress)
    found: dict[tuple[str, str], PairVerdict] = {}
    for place, pump_id in enumerate(table.ids):
        verdict = VERDICT_OF[Outcome(int(verdicts.worst[place]))]
        if verdict in BOTH_FIT:
            progress.step(1, 1)
            (candidate,) = judged.candidates([place], verdicts)
            found[engine_id, pump_id] = _verdict_of(candidate.judgement)
        else:
            asked = (name for name, asking in verdicts.asked.items() if asking[place])
            found[engine_id, pump_id] = PairVerdict(verdict, _asked(verdict, asked))
    return found


def _verdict_of(judgement: Judgement) -> PairVerdict:
    """Return what a judgement in full comes to; it may be worse than the table said where damage is found only now."""
    parts = pair_parts(judgement.needs) if judgement.verdict in BOTH_FIT else None
    asked = _asked(judgement.verdict, judgement.measure_next)
    return PairVerdict(judgement.verdict, asked, parts, rests_on_claims=bool(judgement.claims))


def _asked(verdict: Verdict, asked: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(asked)) if verdict is Verdict.NOT_KNOWN_YET else ()


class _PartOf:
    """Progress of one engine as part of that of all."""

    def __init__(self, progress: Progress, begin: int, whole: int) -> None:
        self._progress, self._begin, self._whole = progress, begin, whole

    def step(self, done: int, total: int) -> None:
        """Note how far this engine is."""
        share = _STEPS_PER_ENGINE * done // total if total else 0
        self._progress.step(self._begin + share, self._whole)
