"""A person reads a supplier's file: it is opened, its columns are said once, and good rows are taken in one act."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from xref_app.core.progress import Progress
from xref_app.exchange.supplier_reading import read_supplier_file
from xref_app.exchange.supplier_refused_file import write_refused
from xref_app.exchange.supplier_sheet import HowToRead, RawFile, RawSheet
from xref_app.search.filed import collector_at_rest
from xref_app.services.catalog import Catalog
from xref_app.services.daily_copies import copy_before
from xref_app.services.kept_copies import Kind
from xref_app.services.supplier_beside import Beside, beside
from xref_app.services.supplier_columns import ColumnMap, SheetKind
from xref_app.services.supplier_heading_row import guess_map
from xref_app.services.supplier_heading_said import with_mark_that_may_be, with_whole_of
from xref_app.services.supplier_import import Taken, read_supplier, take
from xref_app.services.supplier_memory import SupplierMemory
from xref_app.services.supplier_preview import Preview, SaidOfFile, previewed
from xref_app.services.supplier_rows import RowReading, RowState
from xref_app.services.supplier_said import with_columns
from xref_app.store.connect import file_of
from xref_app.store.engine import Store

_BESIDE: Final = ".suppliers.json"


class SupplierDesk:
    """Reads suppliers' files for one store; every method may be called in any thread. Nothing is written but by take.

    Args:
        store: Where the take writes.
        catalog: Gives the catalog of the moment.
        changed: Told the entries that a take touched; the catalog of the moment has them afterwards.
    """

    def __init__(
        self, store: Store, catalog: Callable[[], Catalog], changed: Callable[[Collection[str]], object]
    ) -> None:
        self._store, self._catalog, self._changed = store, catalog, changed
        place = file_of(store)
        self._memory = SupplierMemory(None if place is None else place.with_name(place.name + _BESIDE))

    def suppliers(self) -> tuple[str, ...]:
        """Return the suppliers whose lists were read before, last used first."""
        return self._memory.suppliers()

    def read(self, path: Path, progress: Progress, how: HowToRead | None = None) -> RawFile:
        """Return the cells of a file, read by a child with little memory and time.

        Raises:
            SupplierFileError: it cannot be read; one sentence says why.
            WorkCancelledError: nobody waits any more.
        """
        return read_supplier_file(path, progress, how)

    def guess(self, file: RawFile, *, supplier: str = "", kind: SheetKind = SheetKind.PUMPS) -> SaidOfFile:
        """Return what the file seems to be: its sheet that is most like a list, and its columns.

        What was said of a list of this supplier with the same headings comes before any guess.
        """
        return self.guess_sheet(file, likeliest_sheet(file, kind), supplier=supplier, kind=kind)

    def guess_sheet(self, file: RawFile, sheet: int, *, supplier: str = "", kind: SheetKind) -> SaidOfFile:
        """Return what one sheet seems to be, where a person picked it or said what it lists."""
        rows = file.sheets[sheet].rows
        guessed = guess_map(rows, kind)
        kept = self._memory.remembered(supplier, rows, guessed) if supplier.strip() else None
        columns = with_mark_that_may_be(rows, kept) if kept is not None else guessed
        return SaidOfFile(columns, supplier, sheet=sheet)

    def of_kind(
        self, file: RawFile, sheet: int, *, supplier: str, kind: SheetKind, before: ColumnMap | None = None
    ) -> SaidOfFile:
        """Return what one sheet seems to be where a person said what it lists; no columns of another kind come up.

        ``before`` is what was said of this sheet: the rows of its headings and its decimal mark stay.
        """
        guessed = self.guess_sheet(file, sheet, supplier=supplier, kind=kind)
        if guessed.columns.kind is not kind:
            guessed = replace(self.guess_sheet(file, sheet, kind=kind), supplier=supplier)
        if before is None:
            return guessed
        return replace(guessed, columns=with_whole_of(file.sheets[sheet].rows, guessed.columns, before))

    def of_supplier(self, file: RawFile, said: SaidOfFile, supplier: str) -> SaidOfFile:
        """Return ``said`` as a list of this supplier: columns said before come up where nobody corrected any here."""
        kind = said.columns.kind
        proposed = self.guess_sheet(file, said.sheet, supplier=said.supplier, kind=kind)
        mark = said.columns.decimals
        if replace(said.columns, decimals=proposed.columns.decimals) != proposed.columns:
            return replace(said, supplier=supplier, accepted=frozenset())
        columns = self.guess_sheet(file, said.sheet, supplier=supplier, kind=kind).columns
        if mark is not proposed.columns.decimals:
            columns = replace(columns, decimals=mark)
        return replace(with_columns(said, columns), supplier=supplier)

    def beside(self, row: RowReading) -> tuple[Beside, ...]:
        """Return what a row says otherwise than the entry it is about, each size beside what is entered."""
        return beside(self._catalog(), row)

    def preview(self, file: RawFile, said: SaidOfFile, progress: Progress) -> Preview:
        """Return what the file would bring; nothing is written.

        Raises:
            WorkCancelledError: nobody waits any more.
        """
        catalog = self._catalog()
        # Many small objects and no garbage: a search for some would keep everybody waiting, the window too.
        with collector_at_rest():
            return previewed(file, said, catalog, self._store, progress)

    def take(self, preview: Preview, who: str) -> Taken:
        """Write the good and the accepted rows as one act, after a copy, and remember the columns for this supplier.

        Raises:
            SupplierInputError: something was not said, or the catalog changed meanwhile; nothing was written.
            StoreError: one of its kinds; nothing was changed.
        """
        supplier = read_supplier(preview.said.supplier)
        said = replace(preview.said, supplier=supplier)
        if preview.to_take:
            copy_before(self._store, Kind.IMPORT)
        taken = take(self._store, replace(preview, said=said), who)
        self._memory.remember(supplier, said.columns)
        if taken.touched:
            self._changed(taken.touched)
        return taken

    def save_refused(self, preview: Preview, path: Path) -> int:
        """Write the rows that were not taken, with the reasons, and return how many there are.

        Raises:
            NotWrittenError: it could not be written.
        """
        taken = {one.place for one in preview.to_take}
        left = [one for one in (*preview.of(RowState.REFUSED), *preview.of(RowState.LOOK)) if one.place not in taken]
        headings = ["Row", "State", "Why", *(one.heading for one in preview.said.columns.columns)]
        write_refused(path, [headings, *(_line(preview.sheet, one) for one in left)])
        return len(left)


def likeliest_sheet(file: RawFile, kind: SheetKind) -> int:
    """Return the place of the sheet that is most like a list: most columns understood, then most rows."""
    guesses = [guess_map(one.rows, kind) for one in file.sheets]
    return max(range(len(file.sheets)), key=lambda place: _likeness(file.sheets[place], guesses[place]))


def reasons_of(row: RowReading) -> Iterator[str]:
    """Yield everything that is the matter with a row, as sentences."""
    yield from (str(one) for one in row.reasons)
    yield from (str(one.reason) for one in row.cells)


def _line(sheet: RawSheet, row: RowReading) -> Sequence[str]:
    return [str(row.place + 1), row.state.value, " ".join(reasons_of(row)), *sheet.rows[row.place]]


def _likeness(sheet: RawSheet, columns: ColumnMap) -> tuple[int, int]:
    """Return how much a sheet is like a list: columns understood, then rows below the headings."""
    understood = sum(bool(one.target) for one in columns.columns)
    return understood, sum(1 for row in sheet.rows[columns.rows_from :] if len(row) > 1)
