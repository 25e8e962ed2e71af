"""What was told of a job at one moment, in short: so much is kept that it can be said later what has changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.fit.finding import Judgement, Verdict
from xref_app.services.answers import Candidate, FactRow, FactState, Job


@dataclass(frozen=True, slots=True)
class ToldSize:
    """One size that was known: its title, the value as shown, and how it was known, as in FactRow."""

    field: str
    title: str
    shown: str
    known_by: str


@dataclass(frozen=True, slots=True)
class ToldNeed:
    """So many pieces, and in words of what."""

    pieces: int
    words: str


@dataclass(frozen=True, slots=True)
class Told:
    """What was told of the machine and of the pump chosen; without one there is no verdict, check or need.

    ``catalog_number`` is the serial of the last change of the catalog by then, None where it was not read. ``checks``
    are name and outcome word (Outcome.word), in the order of the list of checks.
    """

    catalog_number: int | None = None
    verdict: Verdict | None = None
    checks: tuple[tuple[str, str], ...] = ()
    needs: tuple[ToldNeed, ...] = ()
    sizes: tuple[ToldSize, ...] = ()


def told_of_job(job: Job, chosen: Candidate | None) -> Told:
    """Return what is told of ``job`` and of the pump ``chosen`` in its list, whatever the catalog's number."""
    sizes = tuple(map(_size, _known(job.facts)))
    if chosen is None:
        return Told(sizes=sizes)
    judgement = chosen.judgement
    checks = tuple((one.check, one.outcome.word) for one in judgement.findings)
    return Told(None, judgement.verdict, checks, _needs(judgement), sizes)


def _known(rows: Sequence[FactRow]) -> list[FactRow]:
    return [row for row in rows if row.state is not FactState.UNKNOWN]


def _size(row: FactRow) -> ToldSize:
    return ToldSize(row.field, row.title, row.shown, row.known_by)


def _needs(judgement: Judgement) -> tuple[ToldNeed, ...]:
    return tuple(ToldNeed(need.quantity, str(need.what)) for need in judgement.needs)
