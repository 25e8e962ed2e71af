"""What the window asks of the services; all but ``title`` is called off the GUI thread."""

from __future__ import annotations

from typing import Protocol

from xref_app.core.progress import Progress
from xref_app.services.answers import Candidates, Found, Job
from xref_app.sheets.shapes import Drawing


class Desk(Protocol):
    """The counter's questions, answered from the store.

    All but ``title`` run in a worker thread, may raise ``XrefError`` (one sentence for the person) and must raise
    ``WorkCancelledError`` when ``progress.step`` does.
    """

    def title(self) -> str:
        """Return the name of the catalog in use for the status line; empty while there is none."""
        ...

    def find(self, text: str, progress: Progress) -> Found:
        """Return the entries that ``text`` (a number, a model, with ``?`` and ``*``) could mean, best first."""
        ...

    def open_job(
        self,
        pump_id: str | None,
        machine_id: str | None,
        progress: Progress,
        *,
        guessed_number: bool = False,
        among: tuple[str, ...] = (),
    ) -> Job:
        """Return what is known of the pump coming off and of the machine it sits on.

        ``guessed_number`` says that either was found through characters nobody could read; ``among`` are the builds
        of the machine's model that are left by what was typed with it, empty where all are.
        """
        ...

    def pick_build(self, job: Job, machine_id: str, progress: Progress, *, sisters: tuple[str, ...] = ()) -> Job:
        """Return ``job`` once the person has said which of its ``choices`` is here.

        ``sisters`` are further builds of that choice: any of them may be meant.
        """
        ...

    def judge_all(self, job: Job, progress: Progress) -> Candidates:
        """Return every pump that could be asked about, judged against ``job`` and ranked."""
        ...

    def face(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return the two faces of ``job`` and of the candidate, one over the other, to scale."""
        ...

    def plate(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        """Return the adapter plate to make for a candidate; None where it needs none."""
        ...

    def spacer(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        """Return the spacers to make for a candidate; None where it needs none made."""
        ...

    def gauge(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return the candidate's own face at true size, to hold against the engine."""
        ...

    def side(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return engine and candidate from the side, to scale, with the lengths that decide written on it."""
        ...
