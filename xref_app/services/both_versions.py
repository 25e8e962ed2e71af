"""A size that comes in two versions: who said which, and what the verdict would be under each."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

from xref_app.core.fields.fields import Field, Kind, field_for
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Dimension, Fact, How, Known, Pattern, Seats
from xref_app.core.model.observed import known_of, values_by_field
from xref_app.core.progress import Progress
from xref_app.core.sentence import Sentence, marked
from xref_app.services.answers import Candidates, Job
from xref_app.services.catalog import Catalog
from xref_app.services.facts import shown_value
from xref_app.services.judge_candidates import judgement_of
from xref_app.services.machine_side import job_values
from xref_app.services.overlaid import Overlaid
from xref_app.services.size_search import bench_ids

NOTHING_KNOWN = marked("versions", "Nobody has said how large this is: measure {title}.")
ONE_VERSION = marked("versions", "All readings that count agree on {title}.")
NO_JOB = marked("versions", "Two readings contradict on {title}; open a job to see what each would mean for it.")
NO_CANDIDATE = marked("versions", "Readings contradict on {title}; choose a pump to see its verdict under each.")
NO_MATTER = marked("versions", "The readings contradict on {title}; under each of them this pump is: {verdict}.")
OTHER_GROUNDS = marked(
    "versions",
    "Under each reading of {title} this pump is: {verdict}, but with other parts or for other reasons: "
    "measure it again.",
)
MATTERS = marked("versions", "The verdict hangs on which reading of {title} is right: measure it again.")

_FITS = frozenset({Verdict.FITS, Verdict.FITS_WITH_PARTS})

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Version:
    """One of the values that contradict each other, and what would hold if it alone were right.

    ``observation_ids`` is empty where a water port's own row says it; ``verdict`` is the chosen candidate's, None
    without one; ``fits`` (as is or with parts), ``open`` and ``fails`` count all pumps of the catalog.
    """

    observation_ids: tuple[int, ...]
    shown: str
    known_by: str
    verdict: Verdict | None
    fits: int
    open: int
    fails: int


@dataclass(frozen=True, slots=True)
class Versions:
    """Every version of one field of one entry.

    ``agree`` says that the chosen candidate's verdict is the same under all of them, on the same grounds: it is then
    the desk's verdict too. A pump that fits under each, but with other parts, is not known yet.
    """

    entry_id: str
    field: str
    title: str
    rows: tuple[Version, ...]
    agree: bool
    note: Sentence


def both_versions(  # noqa: PLR0913, PLR0917 - six things that only the window knows
    catalog: Catalog, job: Job | None, entry_id: str, field: str, candidate_id: str | None, progress: Progress
) -> Versions:
    """Return the versions of ``field`` of ``entry_id``, each judged as if the others had never been written down.

    Nothing is averaged and the newest does not win: whoever settles it decides by measuring again.

    Raises:
        UnknownFieldError: there is no such field.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    known = field_for(field)
    versions = catalog.known(*bench_ids(catalog, entry_id)).get(field, ())
    rows: list[Version] = []
    for done, version in enumerate(versions):
        told = _Told(catalog, known, bench_ids(catalog, entry_id), version)
        if job is None:
            rows.append(_row(told, {}, None))
            continue
        alone = told.alone()
        judged = _judged(alone, job, _Share(progress, done, len(versions)))
        shown = (one.judgement.verdict for one in judged.rows if one.entry_id == candidate_id)
        rows.append(_row(told, judged.counted, next(shown, None) or _verdict(alone, job, candidate_id)))
    verdicts = {row.verdict for row in rows}
    if len(rows) > 1 and len(verdicts) == 1 and job is not None:
        verdicts.add(_verdict(catalog, job, candidate_id))
    agree = len(rows) == 1 or (len(verdicts) == 1 and None not in verdicts)
    note = _note(known, rows, is_job=job is not None, agree=agree)
    return Versions(entry_id, field, known.title, tuple(rows), agree, note)


def _verdict(catalog: Catalog, job: Job, candidate_id: str | None) -> Verdict | None:
    """Return what the desk says of the candidate with what is in ``catalog``."""
    if candidate_id is None or candidate_id not in catalog.entries:
        return None
    values = job_values(catalog, job.pump_id, job.machine_id, sisters=job.sisters)
    return judgement_of(catalog, values, candidate_id, guessed_number=job.guessed_number).verdict


def conflicts(catalog: Catalog, entry_ids: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return every field with several versions as (entry, field), in the order of the entries.

    A machine stands for its engine too, unless the engine is among ``entry_ids`` and contradicts itself.
    """
    found: list[tuple[str, str]] = []
    for entry_id in entry_ids:
        told_apart = {
            field
            for other in bench_ids(catalog, entry_id)
            if other != entry_id and other in entry_ids
            for field in _contradicted(catalog, (other,))
        }
        fields = _contradicted(catalog, bench_ids(catalog, entry_id))
        found += [(entry_id, field) for field in fields if field not in told_apart]
    return tuple(dict.fromkeys(found))


def _contradicted(catalog: Catalog, entry_ids: Collection[str]) -> list[str]:
    return [field for field, versions in catalog.known(*entry_ids).items() if len(versions) > 1]


@dataclass(frozen=True, slots=True)
class _Told:
    """The rows that tell one version of a field, and the catalog that remains when only they are left."""

    catalog: Catalog
    field: Field
    entry_ids: tuple[str, ...]
    version: Known

    def observations(self) -> list[Observation]:
        rows = [one for entry in self.entry_ids for one in self.catalog.observations.get(entry, ())]
        return [one for one in rows if self._is_of_rank(one) and self._says_it(one)]

    def ports(self) -> list[PortRow]:
        rows = [one for entry in self.entry_ids for one in self.catalog.ports.get(entry, ())]
        return [one for one in rows if (said := _of_port(self.field, one)) is not None and _same(said, self.version)]

    def alone(self) -> Catalog:
        """Return the catalog without what else is said of the field by readings of this rank."""
        observations = {one: self.catalog.observations.get(one, ()) for one in self.entry_ids}
        ports = {one: self.catalog.ports.get(one, ()) for one in self.entry_ids}
        stay = {entry: tuple(one for one in rows if self._may_stay(one)) for entry, rows in observations.items()}
        alone = {entry: tuple(self._port_alone(one) for one in rows) for entry, rows in ports.items()}
        return replace(
            self.catalog,
            observations=Overlaid(self.catalog.observations, stay),
            ports=Overlaid(self.catalog.ports, alone),
        )

    def _is_of_rank(self, one: Observation) -> bool:
        blank = one.value is None if self.field.kind is Kind.NUMBER else one.text == ""
        return one.field == self.field.field_id and not blank and How[one.how.upper()] is self.version.how

    def _says_it(self, one: Observation) -> bool:
        return _same(known_of(self.field, one), self.version)

    def _may_stay(self, one: Observation) -> bool:
        return not self._is_of_rank(one) or self._says_it(one)

    def _port_alone(self, port: PortRow) -> PortRow:
        said = _of_port(self.field, port)
        if said is None or said.how is not self.version.how or _same(said, self.version):
            return port
        return _blanked(self.field, port)


def _of_port(field: Field, port: PortRow) -> Known | None:
    """Return what a water port's own row says of ``field``."""
    return next(iter(values_by_field((), (port,)).get(field.field_id, ())), None)


def _blanked(field: Field, port: PortRow) -> PortRow:
    match field.field_id.removeprefix(f"{port.port}_"):
        case "thread":
            return replace(port, thread="")
        case "gender":
            return replace(port, gender="")
        case "seal_mm":
            return replace(port, seal_mm=None)
        case _:
            return replace(port, direction_deg=None)


def _same(one: Known, other: Known) -> bool:
    """Say whether two readings of one rank are one version: by what they say, as the catalog tells versions apart."""
    return one.how is other.how and _said(one) == _said(other)


def _said(known: Known) -> object:
    match known:
        case Dimension():
            return (known.value, known.doubt)
        case Pattern():
            return known.holes
        case Seats():
            return known.heights_mm
        case Fact():
            return known.value


def _judged(catalog: Catalog, job: Job, progress: Progress) -> Candidates:
    from xref_app.services.judge_all import judge_all  # noqa: PLC0415 - numpy only when somebody asks

    values = job_values(catalog, job.pump_id, job.machine_id, sisters=job.sisters)
    return judge_all(catalog, values, guessed_number=job.guessed_number, progress=progress)


_STEPS: Final = 1000


@dataclass(frozen=True, slots=True)
class _Share:
    """The progress of one of several equal pieces of work."""

    whole: Progress
    before: int
    pieces: int

    def step(self, done: int, total: int) -> None:
        # The pieces need not be of one size, but the whole must not change on the way.
        self.whole.step(self.before * _STEPS + done * _STEPS // total, self.pieces * _STEPS)


def _row(told: _Told, counted: Mapping[Verdict, int], verdict: Verdict | None) -> Version:
    observations, ports = told.observations(), told.ports()
    known_by = [*(_known_by(one, one.source) for one in observations), *(_known_by(one, "") for one in ports)]
    return Version(
        observation_ids=tuple(one.observation_id for one in observations),
        shown=shown_value(told.field, told.version),
        known_by=" / ".join(dict.fromkeys(known_by)),
        verdict=verdict,
        fits=sum(counted.get(verdict, 0) for verdict in _FITS),
        open=counted.get(Verdict.NOT_KNOWN_YET, 0),
        fails=counted.get(Verdict.DOES_NOT_FIT, 0),
    )


def _known_by(row: Observation | PortRow, source: str) -> str:
    return ", ".join(text for text in (row.how, row.seen_by, row.seen_on, source) if text)


def _note(field: Field, rows: Sequence[Version], *, is_job: bool, agree: bool) -> Sentence:
    title = field.title[:1].lower() + field.title[1:]
    verdicts = [row.verdict for row in rows]
    if len(rows) < 2:
        return Sentence(ONE_VERSION if rows else NOTHING_KNOWN, {"title": title})
    if not is_job:
        return Sentence(NO_JOB, {"title": title})
    if None in verdicts:
        return Sentence(NO_CANDIDATE, {"title": title})
    if len(set(verdicts)) == 1:
        return Sentence(NO_MATTER if agree else OTHER_GROUNDS, {"title": title, "verdict": verdicts[0]})
    return Sentence(MATTERS, {"title": title})
