"""What is said of a supplier's list, as a change put on what was said before, off the GUI thread."""

from __future__ import annotations

from dataclasses import replace

from xref_app.exchange.supplier_sheet import RawFile
from xref_app.gui.supplier_columns import TakenAs
from xref_app.gui.supplier_desk import SupplierDesk
from xref_app.gui.supplier_work import Change
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_preview import SaidOfFile
from xref_app.services.supplier_said import with_columns


def kind_change(desk: SupplierDesk, kind: SheetKind) -> Change:
    """Return the change to a list of another kind; the rows of its headings and its decimal mark stay as was said."""

    def change(file: RawFile, said: SaidOfFile) -> SaidOfFile:
        found = desk.of_kind(file, said.sheet, supplier=said.supplier, kind=kind, before=said.columns)
        return with_columns(said, found.columns)

    return change


def sheet_change(desk: SupplierDesk, sheet: int) -> Change:
    """Return the change to another sheet of the workbook."""

    def change(file: RawFile, said: SaidOfFile) -> SaidOfFile:
        if sheet == said.sheet:
            return said
        found = desk.of_kind(file, sheet, supplier=said.supplier, kind=said.columns.kind)
        return replace(found, how=said.how)

    return change


def column_change(place: int, what: TakenAs) -> Change:
    """Return the change by which a column is taken as something else; none where there is no such column any more."""

    def change(_file: RawFile, said: SaidOfFile) -> SaidOfFile:
        if not any(one.place == place for one in said.columns.columns):
            return said
        return with_columns(said, said.columns.with_column(place, target=what.target, unit=what.unit))

    return change
