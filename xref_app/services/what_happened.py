"""What happened after a pump was put on: written down with the sizes that are blamed for what went wrong."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Side, field_for
from xref_app.core.fit.finding import Judgement, Verdict
from xref_app.core.model.catalog import BlamedSize, OutcomeRow
from xref_app.core.model.words import Result
from xref_app.services.answers import Candidate, Job
from xref_app.services.catalog import Catalog
from xref_app.services.shelf import named_act
from xref_app.store.edits import Numbers, RowEdit, save_edits
from xref_app.store.engine import Store
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM
from xref_app.store.row_changes import today

# As data_schema says of an outcome.
LONGEST_NOTE: Final = 400

SAYS_FITS: Final = frozenset({Verdict.FITS, Verdict.FITS_WITH_PARTS})

# The checks whose sizes are looked at first after each result. Common practice, no published source.
SUSPECTS: Final[Mapping[Result, frozenset[str]]] = {
    Result.DID_NOT_FIT: frozenset({"axis", "drive", "bore", "key", "reach", "pattern", "pilot", "seat", "room"}),
    Result.BOUND: frozenset({"bore", "key", "reach", "pilot", "pattern"}),
    Result.EAR_BROKE: frozenset({"seat", "pattern", "bolts"}),
    Result.LEAKED: frozenset({"inlet", "outlet"}),
    Result.FAILED: frozenset({"key load", "speed", "pressure", "power", "supply", "turn"}),
}


class OutcomeError(XrefError):
    """What was entered cannot be written down; one sentence says why."""


@dataclass(frozen=True, slots=True)
class BlameableSize:
    """A size that the verdict rested on: its field, what it is called, whose it is, and the checks it counted in."""

    field: str
    title: str
    is_of_pump: bool
    checks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Happened:
    """What happened in one job, as entered: ``blamed`` are fields of ``BlameableSize``."""

    result: Result
    blamed: frozenset[str] = frozenset()
    note: str = ""


@dataclass(frozen=True, slots=True)
class WrittenDown:
    """What was written down: the outcome, the name of the act, and the sizes that are in doubt from now on."""

    outcome_id: str
    name: str
    in_doubt: tuple[str, ...]


def blameable(judgement: Judgement) -> tuple[BlameableSize, ...]:
    """Return the sizes that findings used, in the order of the checks; machine's and pump's alike."""
    checks: dict[str, list[str]] = {}
    for finding in judgement.findings:
        for field, _how in finding.used:
            checks.setdefault(field, []).append(finding.check)
    return tuple(
        BlameableSize(field, field_for(field).title, field_for(field).side is Side.PUMP, tuple(dict.fromkeys(used)))
        for field, used in checks.items()
    )


def suspects(sizes: Sequence[BlameableSize], result: Result) -> tuple[BlameableSize, ...]:
    """Return those of ``sizes`` that are looked at first after ``result``."""
    checks = SUSPECTS.get(result, frozenset())
    return tuple(one for one in sizes if not checks.isdisjoint(one.checks))


class WhatHappened:
    """Writes outcomes into one store; every method may be called in any thread."""

    def __init__(self, store: Store, restock: Callable[[], Catalog]) -> None:
        """Make it; ``restock`` reads anew what happened and returns the catalog that knows it."""
        self._store = store
        self._restock = restock

    def write_down(self, job: Job, candidate: Candidate, happened: Happened, who: str) -> WrittenDown:
        """Write down what happened when ``candidate`` was put on the machine of ``job``.

        Where the verdict had said that it fits, what was read of the blamed sizes counts no more until somebody looks
        again. All of it is one act, which can be undone.

        Raises:
            OutcomeError: something is missing; nothing was changed.
            StoreError: one of its kinds; nothing was changed.
        """
        catalog = self._restock()
        said_to_fit = candidate.judgement.verdict in SAYS_FITS
        machine_id, note = _machine_of(job), " ".join(happened.note.split())
        _refuse(happened, note, said_to_fit=said_to_fit, could_blame=bool(blameable(candidate.judgement)))
        act = named_act(f"what happened with {candidate.number} on {_model(catalog, machine_id)}", who)
        blamed = tuple(sorted(happened.blamed)) if happened.result.went_wrong else ()

        def build(numbers: Numbers) -> list[RowEdit]:
            outcome_id = numbers.outcome_id()
            row = OutcomeRow(outcome_id, machine_id, candidate.entry_id, happened.result.value, note, act.who, today())
            # What a package brings later is older than any doubt: only the shop itself looks again.
            up_to = max(numbers.last_observation_id(), OWN_OBSERVATIONS_FROM - 1) if said_to_fit else 0
            sizes = [
                BlamedSize(numbers.blamed_id(), outcome_id, entry_id, field, up_to)
                for field in blamed
                for entry_id in _owners(catalog, (machine_id, *job.sisters), candidate.entry_id, field)
            ]
            return [RowEdit("outcomes", None, row), *(RowEdit("blamed_sizes", None, one) for one in sizes)]

        saved = save_edits(
            self._store, build, name=act.name, who=act.who, why=happened.result.value, save_id=act.save_id
        )
        self._restock()
        outcome = next(one.after for one in saved.edits if isinstance(one.after, OutcomeRow))
        return WrittenDown(outcome.outcome_id, act.name, blamed if said_to_fit else ())

    def clear_doubts(self, blamed_ids: Collection[str], who: str, why: str) -> str:
        """Take the blame off sizes that were right after all, with the reason; return the act's name.

        Raises:
            OutcomeError: no reason is given, or none of them is blamed any more; nothing was changed.
            StoreError: one of its kinds; nothing was changed.
        """
        reason = " ".join(why.split())
        if not reason:
            raise OutcomeError("Say why the sizes are right after all: what else was the matter?")
        rows = [one for one in self._restock().blamed if one.blamed_id in blamed_ids]
        if not rows:
            raise OutcomeError("These sizes are not in doubt any more; look at the list again.")
        act = named_act(f"no doubt about {_titles(rows)}", who)
        edits = [RowEdit("blamed_sizes", row, None) for row in rows]
        save_edits(self._store, lambda _numbers: edits, name=act.name, who=act.who, why=reason, save_id=act.save_id)
        self._restock()
        return act.name


def _machine_of(job: Job) -> str:
    if job.machine_id is None:
        raise OutcomeError("Say which machine it is first: what happened is written down for a machine and a pump.")
    return job.machine_id


def _refuse(happened: Happened, note: str, *, said_to_fit: bool, could_blame: bool) -> None:
    if len(note) > LONGEST_NOTE:
        raise OutcomeError(f"The note is longer than {LONGEST_NOTE} characters; shorten it.")
    if said_to_fit and could_blame and happened.result.is_misfit and not happened.blamed:
        raise OutcomeError(
            "It was said to fit, so a size on file must be wrong: tick those that may be. With none ticked nothing "
            "would warn the next time."
        )


def _model(catalog: Catalog, machine_id: str) -> str:
    row = catalog.machines.get(machine_id)
    return machine_id if row is None else row.model or machine_id


def _owners(catalog: Catalog, machine_ids: Sequence[str], pump_id: str, field: str) -> tuple[str, ...]:
    """Return whose readings of ``field`` counted: the pump's, or the engine's and those of every build meant.

    Where the old pump told it, none of them has any: then it is the builds whose size is in doubt.
    """
    if field_for(field).side is Side.PUMP:
        return (pump_id,)
    rows = [catalog.machines[one] for one in machine_ids if one in catalog.machines]
    entries = dict.fromkeys([*(row.driver_id for row in rows), *machine_ids])
    telling = {field, field.replace("_seat_heights_mm", "_seat_kind")}
    return tuple(one for one in entries if not telling.isdisjoint(catalog.known(one))) or tuple(machine_ids)


def _titles(rows: Sequence[BlamedSize]) -> str:
    titles = tuple(dict.fromkeys(field_for(one.field).title.lower() for one in rows))
    return titles[0] if len(titles) == 1 else f"{titles[0]} and {len(titles) - 1} more"
