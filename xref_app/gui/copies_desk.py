"""What the sheet of the copies asks of the services; everything is called off the GUI thread."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from xref_app.core.progress import Progress
from xref_app.services.copies_told import CopyLine
from xref_app.services.daily_copies import CopyTold
from xref_app.services.help_bundle import BundlePart
from xref_app.services.kept_copies import KeptCopy
from xref_app.services.mending import Mending
from xref_app.services.restore import Restored, Way, WouldChange
from xref_app.services.store_copies import CopiesTold, CopyReport, LastRestore


class CopiesDesk(Protocol):
    """The copies of the catalog. Each may raise ``XrefError``, one sentence."""

    def told(self, progress: Progress) -> CopiesTold:
        """Return the copies there are, the newest first."""
        ...

    def line_of(self, copy: Path, progress: Progress) -> CopyLine:
        """Return what a copy that lies elsewhere holds."""
        ...

    def daily(self, progress: Progress) -> CopyTold:
        """Make today's copy if there is none yet."""
        ...

    def copy_now(self, progress: Progress) -> KeptCopy | None:
        """Make a copy beside the others; None where none are kept."""
        ...

    def copy_to(self, file: Path, progress: Progress) -> CopyReport:
        """Make a copy under a name of the person's own."""
        ...

    def would_change(self, copy: Path, way: Way, progress: Progress) -> WouldChange:
        """Return what putting a copy back would do; nothing is changed."""
        ...

    def put_back(self, copy: Path, way: Way, who: str, progress: Progress) -> Restored:
        """Put a copy back as one act."""
        ...

    def working_from(self) -> LastRestore | None:
        """Return the whole copy that was put back lately."""
        ...

    def offered_mending(self) -> Mending | None:
        """Return what the newest good copy has for damaged and lost rows."""
        ...

    def mend(self, mending: Mending, who: str) -> Mending:
        """Put those rows back as one act."""
        ...

    def bundle(self, *, with_names: bool) -> tuple[BundlePart, ...]:
        """Return what a help bundle would hold."""
        ...

    def write_bundle(self, file: Path, parts: tuple[BundlePart, ...]) -> Path:
        """Write a help bundle."""
        ...
