"""What happened when pumps were put on this machine, or on its engine elsewhere: told, weighed, never a verdict."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from xref_app.core.fit.finding import Verdict
from xref_app.core.fit.question import FieldNames
from xref_app.core.model.catalog import OutcomeRow
from xref_app.core.model.words import Result
from xref_app.core.sentence import Sentence, marked
from xref_app.services.answers import Remark, RemarkKind, Standing
from xref_app.services.catalog import Catalog

HERE: Final = {
    Result.FINE: marked("past", "Put on this machine before, and fine: {seen}."),
    Result.WITH_PARTS: marked("past", "Put on this machine before, with parts: {seen}."),
    Result.DID_NOT_FIT: marked("past", "Did not fit on this machine before: {seen}."),
    Result.BOUND: marked("past", "Bound when turned by hand on this machine before: {seen}."),
    Result.EAR_BROKE: marked("past", "An ear broke on this machine before: {seen}."),
    Result.LEAKED: marked("past", "Leaked on this machine before: {seen}."),
    Result.FAILED: marked("past", "Failed in use on this machine before: {seen}."),
    Result.RETURNED: marked("past", "Came back from this machine before: {seen}."),
}
SAME_ENGINE: Final = {
    Result.FINE: marked("past", "Put on the same engine in {machine}, and fine: {seen}."),
    Result.WITH_PARTS: marked("past", "Put on the same engine in {machine}, with parts: {seen}."),
    Result.DID_NOT_FIT: marked("past", "Did not fit on the same engine in {machine}: {seen}."),
    Result.BOUND: marked("past", "Bound when turned by hand on the same engine in {machine}: {seen}."),
    Result.EAR_BROKE: marked("past", "An ear broke on the same engine in {machine}: {seen}."),
    Result.LEAKED: marked("past", "Leaked on the same engine in {machine}: {seen}."),
    Result.FAILED: marked("past", "Failed in use on the same engine in {machine}: {seen}."),
    Result.RETURNED: marked("past", "Came back from the same engine in {machine}: {seen}."),
}
IN_ALL = marked("past", "{said} In all {count} times.")
AGAINST_FITS = marked("past", "By the sizes on file it fits: measure again before you order.")
IN_DOUBT = marked("past", "In doubt since then, until somebody looks again: {fields}.")
SETTLES_NOTHING = marked("past", "That settles nothing: the verdict rests on what is known of the sizes.")
NOT_WRITTEN_DOWN = "no more is written down"

_SAYS_FITS: Final = (Verdict.FITS, Verdict.FITS_WITH_PARTS)


@dataclass(frozen=True, slots=True)
class PastFit:
    """One outcome as it concerns a job; ``machine`` is empty where it happened on the machine of the job itself.

    ``in_doubt`` are the fields that were blamed for it and that nobody has looked at again.
    """

    row: OutcomeRow
    machine: str = ""
    in_doubt: tuple[str, ...] = ()

    @property
    def result(self) -> Result:
        """Return what happened."""
        return Result(self.row.result)

    @property
    def went_wrong(self) -> bool:
        """Say whether the pump did not go on, did not last or did not stay."""
        return self.result.went_wrong

    @property
    def standing(self) -> Standing:
        """Return what it does to the pump's place."""
        if self.went_wrong:
            return Standing.WRONG_ON_ENGINE if self.machine else Standing.WRONG_HERE
        return Standing.FINE_ON_ENGINE if self.machine else Standing.FINE_HERE

    @property
    def line(self) -> Sentence:
        """Return it in one line: what happened, the note, who saw it and when."""
        seen = ", ".join(word for word in (self.row.note, self.row.seen_by, self.row.seen_on) if word)
        template = (SAME_ENGINE if self.machine else HERE)[self.result]
        return Sentence(template, {"seen": seen or NOT_WRITTEN_DOWN, "machine": self.machine})


PastFits = Mapping[str, tuple[PastFit, ...]]
"""By pump: what went wrong first, then what happened on this machine, each the newest first."""


def past_fits(catalog: Catalog, machine_ids: Sequence[str]) -> PastFits:
    """Return what happened with every pump on one of ``machine_ids``, builds that are alike, or on their engine."""
    engines = {catalog.machines[one].driver_id for one in machine_ids if one in catalog.machines}
    in_doubt = _fields_in_doubt(catalog)
    found: dict[str, list[PastFit]] = {}
    for row in catalog.outcomes:
        machine = catalog.machines.get(row.machine_id)
        fields = tuple(in_doubt.get(row.outcome_id, ()))
        if row.machine_id in machine_ids:
            found.setdefault(row.pump_id, []).append(PastFit(row, in_doubt=fields))
        elif machine is not None and machine.driver_id in engines:
            found.setdefault(row.pump_id, []).append(PastFit(row, machine.model or row.machine_id, fields))
    return {pump_id: _in_order(rows) for pump_id, rows in found.items()}


def _fields_in_doubt(catalog: Catalog) -> Mapping[str, dict[str, None]]:
    """Return by outcome the fields it still casts doubt on, each once."""
    found: dict[str, dict[str, None]] = {}
    for doubt in (one for doubts in catalog.doubts.values() for one in doubts):
        found.setdefault(doubt.blamed.outcome_id, {})[doubt.blamed.field] = None
    return found


def standing(past: Sequence[PastFit]) -> Standing:
    """Return a pump's standing: one failure outweighs any number of good ends, this machine outweighs another."""
    stands = {one.standing for one in past}
    weighty = (Standing.WRONG_HERE, Standing.WRONG_ON_ENGINE, Standing.FINE_HERE, Standing.FINE_ON_ENGINE)
    return next((one for one in weighty if one in stands), Standing.UNTRIED)


def remarks_on(past: Sequence[PastFit], verdict: Verdict) -> tuple[Remark, ...]:
    """Return what the list and the sheet say of the past beside ``verdict``.

    Each failure has a line of its own; of good ends the newest is told and all are counted.
    """
    told = [_failure(one, verdict) for one in past if one.went_wrong]
    for is_here in (True, False):
        good = [one for one in past if not one.went_wrong and (not one.machine) == is_here]
        if good:
            line, count = good[0].line, len(good)
            said = Sentence(IN_ALL, {"said": line, "count": count}) if count > 1 else line
            further = None if verdict in _SAYS_FITS else Sentence(SETTLES_NOTHING)
            told.append(Remark(RemarkKind.CONFIRMED, said, further))
    return tuple(told)


def _failure(past: PastFit, verdict: Verdict) -> Remark:
    if past.in_doubt:
        further = Sentence(IN_DOUBT, {"fields": FieldNames(past.in_doubt)})
        return Remark(RemarkKind.WENT_WRONG, past.line, further)
    against = not past.machine and past.result.is_misfit and verdict in _SAYS_FITS
    return Remark(RemarkKind.WENT_WRONG, past.line, Sentence(AGAINST_FITS) if against else None)


def _in_order(past: Sequence[PastFit]) -> tuple[PastFit, ...]:
    newest_first = sorted(past, key=lambda one: one.row.seen_on, reverse=True)
    return tuple(sorted(newest_first, key=lambda one: (not one.went_wrong, bool(one.machine))))
