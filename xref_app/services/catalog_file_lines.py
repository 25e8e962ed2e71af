"""A supplier's file as lines to look through: what of the shop's own it touches, then what goes, changes and comes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING

from xref_app.core.model.catalog import Number, OutcomeRow, number_to_call
from xref_app.core.progress import Progress
from xref_app.core.sentence import Sentence, marked
from xref_app.services.catalog import Catalog
from xref_app.services.jobs import LastJobs
from xref_app.services.kept_job import KeptJob
from xref_app.services.row_words import all_words
from xref_app.store.row_changes import RowChange

if TYPE_CHECKING:  # named only: it loads what checks signatures
    from xref_app.services.catalog_update import CatalogUpdate

CALLED = marked("catalog file", "{maker} {number} ({id})")
PART = marked("catalog file", "Listed part {name} ({id})")
OUTCOME = marked("catalog file", "{pump} on {machine}: {result}")
JOB = marked("catalog file", "{reference}: {about}")
NO_REFERENCE = marked("catalog file", "{about}")
UNREADABLE_JOB = marked("catalog file", "A job that is set aside ({id})")
CHOSEN = marked("catalog file", "Pump chosen: {pump}")
TOUCHES = marked("catalog file", "Touched by the file: {names}")
SEEN = marked("catalog file", "Seen by {who}, {day}")
NOTE = marked("catalog file", "Note: {note}")
# House rule: more names are not read in one line.
_MOST_NAMES = 12


class LineKind(IntEnum):
    """What a line is about, in the order of the list: what concerns the shop's own work comes first."""

    JOB = 0
    OUTCOME = 1
    WITHDRAWN = 2
    CHANGED = 3
    ADDED = 4

    @property
    def is_ours(self) -> bool:
        """Say whether it is something the shop wrote down itself."""
        return self in (LineKind.JOB, LineKind.OUTCOME)


@dataclass(frozen=True, slots=True)
class FileLine:
    """One entry, job or outcome: what it is called, and what the file does to its rows.

    ``told`` is what is known of a job or an outcome; ``job`` the kept job itself where it can be reopened.
    """

    kind: LineKind
    called: Sentence
    changes: tuple[RowChange, ...] = ()
    told: tuple[Sentence, ...] = ()
    job: KeptJob | None = None

    def words(self) -> Iterator[Sentence]:
        """Yield all there is to say of it."""
        yield from self.told
        yield from all_words(self.changes)


def file_lines(update: CatalogUpdate, jobs: LastJobs, catalog: Catalog, progress: Progress) -> tuple[FileLine, ...]:
    """Return every line of a file that was looked at; ``catalog`` is the one of the moment.

    Raises:
        WorkCancelledError: nobody waits any more.
    """
    progress.step(0, 1)
    names = _Names(update, catalog)
    lines = [*_job_lines(update, jobs, names), *_outcome_lines(update.outcomes, names)]
    lines += _entry_lines(update, names, progress)
    return tuple(sorted(lines, key=lambda one: one.kind))


def counts(lines: Iterable[FileLine]) -> Counter[LineKind]:
    """Return how many lines there are of each kind."""
    return Counter(one.kind for one in lines)


class _Names:
    """What entries are called: by the catalog of the moment, new ones by the file."""

    def __init__(self, update: CatalogUpdate, catalog: Catalog) -> None:
        self._catalog = catalog
        rows = update.file.rows  # made anew each time
        self._makers = {one.entry_id: one.maker for one in rows.entries}
        self._numbers: dict[str, list[Number]] = {}
        for one in rows.numbers:
            self._numbers.setdefault(one.entry_id, []).append(one)
        self._models = {one.entry_id: one.model for one in rows.machines}
        self._names = {one.entry_id: one.name for one in rows.entries}
        catalog.read_ahead(update.touched)

    def of(self, entry_id: str) -> Sentence:
        """Return maker, number and id; without a number the model or the name."""
        here = self._catalog.entries.get(entry_id)
        maker = self._makers.get(entry_id, "") if here is None else here.maker
        name = self._names.get(entry_id, "") if here is None else here.name
        numbers = self._numbers.get(entry_id, ()) if here is None else self._catalog.numbers.get(entry_id, ())
        machine = self._catalog.machines.get(entry_id)
        model = machine.model if machine is not None else self._models.get(entry_id, "")
        number = number_to_call(model or name or entry_id, tuple(numbers))
        return Sentence(CALLED, {"maker": maker, "number": number, "id": entry_id})


def _entry_lines(update: CatalogUpdate, names: _Names, progress: Progress) -> Iterator[FileLine]:
    grouped: dict[tuple[str, str], list[RowChange]] = {}
    for change in update.plan.changes:
        grouped.setdefault(_owner(change), []).append(change)
    added, withdrawn = set(update.added), set(update.withdrawn)
    for done, ((table, key), changes) in enumerate(grouped.items()):
        progress.step(done, len(grouped))
        if table == "entries":
            kind = LineKind.ADDED if key in added else LineKind.WITHDRAWN if key in withdrawn else LineKind.CHANGED
            # Of what goes nothing more is told: all of it goes.
            yield FileLine(kind, names.of(key), () if kind is LineKind.WITHDRAWN else tuple(changes))
        else:
            kind = LineKind.ADDED if changes[0].before is None else LineKind.CHANGED
            yield FileLine(kind, _called_otherwise(table, key, changes[0], names), tuple(changes))


def _owner(change: RowChange) -> tuple[str, str]:
    """Return the entry a row belongs to; a listed part and an outcome belong to themselves."""
    entry_id = change.after.get("entry_id")
    return ("entries", str(entry_id)) if entry_id else (change.table.name, str(change.key[0]))


def _called_otherwise(table: str, key: str, change: RowChange, names: _Names) -> Sentence:
    row = change.after
    if table == "outcomes":
        told = {name: names.of(str(row[f"{name}_id"])) for name in ("pump", "machine")}
        return Sentence(OUTCOME, {**told, "result": row["result"]})
    return Sentence(PART, {"name": row.get("name") or key, "id": key})


def _outcome_lines(rows: Iterable[OutcomeRow], names: _Names) -> Iterator[FileLine]:
    for row in rows:
        called = {"pump": names.of(row.pump_id), "machine": names.of(row.machine_id), "result": row.result}
        told = [Sentence(SEEN, {"who": row.seen_by, "day": row.seen_on})] if row.seen_by else []
        told += [Sentence(NOTE, {"note": row.note})] if row.note else []
        yield FileLine(LineKind.OUTCOME, Sentence(OUTCOME, called), told=tuple(told))


def _job_lines(update: CatalogUpdate, jobs: LastJobs, names: _Names) -> Iterator[FileLine]:
    known: Mapping[str, KeptJob] = {one.job_id: one for one in jobs.jobs}
    touched = set(update.touched)
    for job_id in update.jobs:
        job = known.get(job_id)
        if job is None:
            yield FileLine(LineKind.JOB, Sentence(UNREADABLE_JOB, {"id": job_id}))
        else:
            yield FileLine(LineKind.JOB, _job_called(job), told=tuple(_job_told(job, touched, names.of)), job=job)


def _job_called(job: KeptJob) -> Sentence:
    about = job.title or ", ".join(one.label for one in job.facts)
    template = JOB if job.reference else NO_REFERENCE
    return Sentence(template, {"reference": job.reference, "about": about})


def _job_told(job: KeptJob, touched: set[str], called: Callable[[str], Sentence]) -> Iterator[Sentence]:
    if job.chosen_number:
        yield Sentence(CHOSEN, {"pump": job.chosen_number})
    ids = dict.fromkeys([*(one.entry_id for one in job.facts), job.chosen_id])
    named = [one for one in ids if one in touched][:_MOST_NAMES]
    if named:
        yield Sentence(TOUCHES, {"names": ", ".join(str(called(one)) for one in named)})
