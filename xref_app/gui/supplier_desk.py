"""What the sheet of suppliers' files asks of the services; everything is called off the GUI thread."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from xref_app.core.progress import Progress
from xref_app.exchange.supplier_sheet import HowToRead, RawFile
from xref_app.services.supplier_beside import Beside
from xref_app.services.supplier_columns import ColumnMap, SheetKind
from xref_app.services.supplier_import import Taken
from xref_app.services.supplier_preview import Preview, SaidOfFile
from xref_app.services.supplier_rows import RowReading


class SupplierDesk(Protocol):
    """Suppliers' files. Each may raise ``XrefError``, one sentence; nothing is written but by ``take``."""

    def suppliers(self) -> tuple[str, ...]:
        """Return the suppliers whose lists were read before, last used first."""
        ...

    def read(self, path: Path, progress: Progress, how: HowToRead | None = None) -> RawFile:
        """Return the cells of a file."""
        ...

    def guess(self, file: RawFile, *, supplier: str = "", kind: SheetKind = SheetKind.PUMPS) -> SaidOfFile:
        """Return what the file seems to be."""
        ...

    def of_kind(
        self, file: RawFile, sheet: int, *, supplier: str, kind: SheetKind, before: ColumnMap | None = None
    ) -> SaidOfFile:
        """Return what one sheet seems to be where a person said what it lists; ``before``: was said of this sheet."""
        ...

    def of_supplier(self, file: RawFile, said: SaidOfFile, supplier: str) -> SaidOfFile:
        """Return ``said`` as a list of this supplier, with the columns said before where none was corrected here."""
        ...

    def preview(self, file: RawFile, said: SaidOfFile, progress: Progress) -> Preview:
        """Return what the file would bring."""
        ...

    def beside(self, row: RowReading) -> tuple[Beside, ...]:
        """Return what a row says otherwise than the entry it is about."""
        ...

    def take(self, preview: Preview, who: str) -> Taken:
        """Write the good and the accepted rows as one act."""
        ...

    def save_refused(self, preview: Preview, path: Path) -> int:
        """Write the rows that were not taken, with the reasons, and return how many there are."""
        ...
