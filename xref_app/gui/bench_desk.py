"""What the bench sheets ask of the services; all but ``begin`` and ``has_entry`` are called off the GUI thread."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from xref_app.core.progress import Progress
from xref_app.services.answers import Job
from xref_app.services.bench import BenchView, SavedUnit
from xref_app.services.both_versions import Versions
from xref_app.services.pump_told import Tellings
from xref_app.services.undoing import UndoNames
from xref_app.services.unit_draft import UnitDraft, UnitKind


class BenchDesk(Protocol):
    """Measuring, keeping, saving and taking back. Each may raise ``XrefError``, one sentence for the person."""

    def begin(self, kind: UnitKind, *, entry_id: str = "", pump_id: str = "") -> UnitDraft:
        """Return a blank draft: of a new unit, or of more readings of ``entry_id``."""
        ...

    def unfinished(self) -> tuple[UnitDraft, ...]:
        """Return the drafts that were not saved, newest first."""
        ...

    def keep(self, draft: UnitDraft, who: str) -> BenchView:
        """Keep the draft on the disk, then return it held against the catalog."""
        ...

    def drop(self, draft: UnitDraft) -> None:
        """Forget the draft."""
        ...

    def add_photo(self, draft: UnitDraft, path: Path) -> UnitDraft:
        """Return the draft with a photo read from ``path``."""
        ...

    def save(
        self, draft: UnitDraft, who: str, *, guessed_entry: bool = False, although_double: bool = False
    ) -> SavedUnit:
        """Save the draft as one change; finding and judging know it on return."""
        ...

    def undo(self, who: str) -> str:
        """Take the last saved change back and return its name; empty where there is none."""
        ...

    def redo(self, who: str) -> str:
        """Do the change again that was taken back last and return its name; empty where there is none."""
        ...

    def has_entry(self, entry_id: str) -> bool:
        """Say whether an entry is in the catalog now; asked on the GUI thread."""
        ...

    def undo_names(self) -> UndoNames:
        """Return what undo and redo would do now, by name."""
        ...

    def versions(
        self, job: Job | None, entry_id: str, field: str, candidate_id: str | None, progress: Progress
    ) -> Versions:
        """Return the contradicting versions of one field, each judged."""
        ...

    def told_of_pump(self, job: Job, progress: Progress) -> Tellings:
        """Return what the job tells of the ratings of the pump coming off and of its nozzle, by question."""
        ...

    def settle(self, versions: Versions, kept: int, who: str, why: str) -> None:
        """Withdraw every version but number ``kept``, with the reason."""
        ...
