"""What the sheets "Catalog file" and "Export" ask of the services; all but ``refusal`` is called off the GUI thread."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from xref_app.core.progress import Progress
from xref_app.services.catalog_files import InUse, LookedAt, Refused, TakenFile
from xref_app.services.export_catalog import Exported
from xref_app.services.export_rows import ExportWish


class CatalogFileDesk(Protocol):
    """Catalog files in and out. Each may raise ``XrefError``, one sentence."""

    def refusal(self) -> str:
        """Return in one sentence why this catalog takes no files at all; empty where it does."""
        ...

    def look(self, path: Path, progress: Progress) -> LookedAt | Refused:
        """Return what the file would do, or why it is refused; nothing is changed."""
        ...

    def take(self, looked: LookedAt, who: str, progress: Progress, *, older_too: bool = False) -> TakenFile:
        """Take the file that was looked at, all of it in one act."""
        ...

    def fingerprint_of(self, keys: Path) -> str:
        """Return the fingerprint of the keys in a file, in groups of four."""
        ...

    def trust(self, keys: Path, name: str, fingerprint: str) -> str:
        """Take the keys for those of a supplier and return the supplier's name."""
        ...

    def in_use(self) -> tuple[InUse, ...]:
        """Return the newest file taken of each supplier."""
        ...

    def export_folder(self, folder: Path, wish: ExportWish, progress: Progress) -> Exported:
        """Write what is wished for as a folder of CSV files."""
        ...

    def export_workbook(self, file: Path, wish: ExportWish, progress: Progress) -> Exported:
        """Write what is wished for as a workbook."""
        ...
