"""The counter's questions, answered from one catalog: what the window calls, off its own thread."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from xref_app.core.progress import Progress
from xref_app.core.sentence import Sentence, marked
from xref_app.services.answers import Candidates, Found, Job
from xref_app.services.builds import builds_of
from xref_app.services.catalog import Catalog
from xref_app.services.facts import fact_rows
from xref_app.services.find_pump import MOST_HITS, Finder
from xref_app.services.judge_candidates import Question, question
from xref_app.services.machine_side import JobValues, job_values
from xref_app.services.sample_name import is_sample
from xref_app.services.side_view import face_of, gauge_of, plate_of, side_of, spacer_of
from xref_app.sheets.shapes import Drawing

ONLY_OLD_PUMP = marked("job", "Only the old pump is known: what it tells of its machine counts as claimed.")
MADE_UP = marked("drawing", "SAMPLE, made-up data, not for work. {about}")
PUMP_FOR = marked("drawing", "Pump {pump} for {job}")


@dataclass(frozen=True)
class CatalogDesk:
    """Answers from one catalog; every answer is a plain value, so any thread may ask."""

    catalog: Catalog
    name: str

    @cached_property
    def _finder(self) -> Finder:
        return Finder.over(self.catalog)

    @classmethod
    def over(cls, finder: Finder, name: str) -> CatalogDesk:
        """Return a desk over the catalog of ``finder``."""
        desk = cls(finder.catalog, name)
        desk.__dict__["_finder"] = finder
        return desk

    def after(self, catalog: Catalog, changed: Iterable[str] = ()) -> CatalogDesk:
        """Return a desk over ``catalog``, in which only the ``changed`` entries are not as they were."""
        desk = CatalogDesk(catalog, self.name)
        made = self.__dict__.get("_finder")
        if isinstance(made, Finder):
            # One changed entry costs no new index: the one already made is told of it.
            desk.__dict__["_finder"] = made.after(catalog, changed)
        return desk

    def title(self) -> str:
        """Return what the status line calls the catalog."""
        return self.name

    def find(self, text: str, progress: Progress, *, limit: int = MOST_HITS) -> Found:
        """Return the entries that ``text`` could mean, best first."""
        progress.step(0, 1)
        return self._finder.find(text, limit=limit)

    def open_job(
        self,
        pump_id: str | None,
        machine_id: str | None,
        progress: Progress,
        *,
        guessed_number: bool = False,
        among: tuple[str, ...] = (),
    ) -> Job:
        """Return the job about a pump coming off, a machine, or both; builds still possible are never preselected."""
        progress.step(0, 1)
        builds = builds_of(self.catalog, pump_id, machine_id, among=among)
        settled = builds.settled[0] if builds.settled else None
        sisters = builds.settled[1:]
        pump_id = pump_id or (self.catalog.machines[settled].pump_id or None if settled else None)
        values = job_values(self.catalog, pump_id, settled, sisters=sisters)
        sources = self._sources(settled, *sisters)
        only_old_pump = Sentence(ONLY_OLD_PUMP) if pump_id and not settled else None
        return Job(
            pump_id=pump_id,
            machine_id=settled,
            title=self._job_title(pump_id, settled or machine_id),
            facts=fact_rows(self.catalog, values.machine, sources) if settled or pump_id else (),
            choices=builds.choices,
            guessed_number=guessed_number,
            note=builds.question or only_old_pump,
            sisters=sisters,
        )

    def pick_build(self, job: Job, machine_id: str, progress: Progress, *, sisters: tuple[str, ...] = ()) -> Job:
        """Return ``job`` once the person has said which build is on the bench, or which of several that are alike."""
        progress.step(0, 1)
        pump_id = job.pump_id or self.catalog.machines[machine_id].pump_id or None
        values = job_values(self.catalog, pump_id, machine_id, sisters=sisters)
        return Job(
            pump_id=pump_id,
            machine_id=machine_id,
            title=self._job_title(pump_id, machine_id),
            facts=fact_rows(self.catalog, values.machine, self._sources(machine_id, *sisters)),
            guessed_number=job.guessed_number,
            reference=job.reference,
            sisters=sisters,
        )

    def judge_all(self, job: Job, progress: Progress) -> Candidates:
        """Return every pump of the catalog judged against ``job``, best first."""
        from xref_app.services.judge_all import judge_all  # noqa: PLC0415 - numpy only when somebody asks

        catalog = self.catalog.for_job(job.reference)
        return judge_all(catalog, self._values(job), guessed_number=job.guessed_number, progress=progress)

    def face(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return both faces, one over the other, at the turn the verdict rests on."""
        progress.step(0, 1)
        asked = self._question(job, candidate_id)
        return replace(face_of(asked.cases, asked.contradicted), about=self._about(job, candidate_id))

    def side(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return engine and pump from the side, with the parts the verdict rests on."""
        progress.step(0, 1)
        asked = self._question(job, candidate_id)
        return replace(side_of(asked.cases, asked.contradicted), about=self._about(job, candidate_id))

    def plate(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        """Return the adapter plate to make for this pump; None where it needs none."""
        progress.step(0, 1)
        drawing = plate_of(self._question(job, candidate_id).cases)
        return None if drawing is None else replace(drawing, about=self._about(job, candidate_id))

    def spacer(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        """Return the spacers to make for this pump; None where it needs none made."""
        progress.step(0, 1)
        drawing = spacer_of(self._question(job, candidate_id).cases)
        return None if drawing is None else replace(drawing, about=self._about(job, candidate_id))

    def gauge(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return this pump's face to hold against the engine, at the turn the verdict rests on."""
        progress.step(0, 1)
        asked = self._question(job, candidate_id)
        return replace(gauge_of(asked.cases, asked.contradicted), about=self._about(job, candidate_id))

    def _about(self, job: Job, candidate_id: str) -> Sentence:
        """Say on paper which pump this is, and what for."""
        pump = f"{self._named(candidate_id)} {self.catalog.number_of(candidate_id)}".strip()
        about = Sentence(PUMP_FOR, {"pump": pump, "job": job.title})
        return Sentence(MADE_UP, {"about": about}) if is_sample(self.name) else about

    def _question(self, job: Job, candidate_id: str) -> Question:
        catalog = self.catalog.for_job(job.reference)
        return question(catalog, self._values(job), candidate_id, guessed_number=job.guessed_number)

    def _values(self, job: Job) -> JobValues:
        return job_values(self.catalog, job.pump_id, job.machine_id, sisters=job.sisters)

    def _sources(self, machine_id: str | None, *sisters: str) -> tuple[str, ...]:
        row = self.catalog.machines.get(machine_id or "")
        return () if row is None else (row.entry_id, *sisters, row.driver_id)

    def _named(self, entry_id: str) -> str:
        entry = self.catalog.entries.get(entry_id)
        return "" if entry is None else f"{entry.maker} {entry.name}".strip()

    def _job_title(self, pump_id: str | None, machine_id: str | None) -> str:
        row = self.catalog.machines.get(machine_id or "")
        parts = [f"{self._named(row.entry_id)}" if row else "", self.catalog.number_of(pump_id) if pump_id else ""]
        return " · ".join(part for part in parts if part)
