"""The command about suppliers' lists: supplier-file looks at one, and takes its good rows where that is asked."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from xref_app.cli.faults import UsageError
from xref_app.core.progress import NO_PROGRESS
from xref_app.core.quantity.units import unit_or_none
from xref_app.exchange.supplier_sheet import HowToRead, RawFile
from xref_app.services.live_desk import LiveDesk
from xref_app.services.open_catalog import open_own, open_sample
from xref_app.services.supplier_cells import CellReading
from xref_app.services.supplier_columns import Column, ColumnMap, SheetKind, targets_of
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_desk import SupplierDesk
from xref_app.services.supplier_heading_said import read_heading_rows, with_heading_rows
from xref_app.services.supplier_import import SupplierInputError, read_supplier
from xref_app.services.supplier_preview import Preview, SaidOfFile
from xref_app.services.supplier_rows import RowReading, RowState
from xref_app.services.supplier_said import with_columns, with_decimals

KINDS: Final[Mapping[str, SheetKind]] = {
    "pumps": SheetKind.PUMPS,
    "engines": SheetKind.ENGINES,
    "motors": SheetKind.MOTORS,
}
SEPARATORS: Final[Mapping[str, str]] = {"semicolon": ";", "comma": ",", "tab": "\t", "stroke": "|"}
DECIMALS: Final[Mapping[str, Decimals]] = {
    "comma": Decimals.COMMA,
    "point": Decimals.POINT,
    "seems": Decimals.UNTOLD,
}
# House rule: so many rows are listed; the others are counted.
_MOST_ROWS: Final = 200


def supplier_file(options: Namespace) -> object:
    """Look at a supplier's list; return what it would bring, what was taken, and what was written."""
    if options.take and not (options.who or "").strip():
        raise UsageError("supplier-file --take: nobody says who takes it – give --who NAME.")
    supplier = read_supplier(options.supplier)
    desk: LiveDesk = open_sample() if options.sample else open_own()
    try:
        return _answer(desk.suppliers, supplier, options)
    finally:
        desk.close()


def _answer(desk: SupplierDesk, supplier: str, options: Namespace) -> object:
    how = HowToRead(options.encoding or "", SEPARATORS.get(options.separator or "", ""))
    file = desk.read(options.file, NO_PROGRESS, how)
    said = _said(desk, file, supplier, options)
    preview = desk.preview(file, said, NO_PROGRESS)
    told = _told(preview)
    if options.refused:
        count = desk.save_refused(preview, options.refused)
        told["refused_file"] = {"written": str(options.refused), "rows": count}
    if options.take:
        taken = desk.take(preview, options.who)
        told["taken"] = {
            "act": taken.name or None,
            "rows": taken.rows,
            "new_entries": taken.new_entries,
            "entries": list(taken.touched),
        }
    return told


def _said(desk: SupplierDesk, file: RawFile, supplier: str, options: Namespace) -> SaidOfFile:
    """Return what is said of the list: what was said of it before, then what the command line says."""
    said = desk.guess(file, supplier=supplier, kind=KINDS[options.kind or "pumps"])
    sheet = said.sheet if options.sheet is None else _sheet(file, options.sheet)
    if options.kind:
        said = desk.of_kind(file, sheet, supplier=supplier, kind=KINDS[options.kind])
    elif sheet != said.sheet:
        said = desk.guess_sheet(file, sheet, supplier=supplier, kind=said.columns.kind)
    said = _said_of_whole(file, replace(said, how=options.how), options)
    for text in options.column or ():
        said = with_columns(said, _corrected(said.columns, text))
    return said


def _said_of_whole(file: RawFile, said: SaidOfFile, options: Namespace) -> SaidOfFile:
    rows = file.sheets[said.sheet].rows
    if options.headings is not None:
        try:
            said = with_heading_rows(rows, said, read_heading_rows(options.headings, len(rows)))
        except SupplierInputError as error:
            raise UsageError(f"--headings: {error}") from error
    return with_decimals(said, DECIMALS[options.decimal]) if options.decimal else said


def _sheet(file: RawFile, wanted: str) -> int:
    names = [one.name for one in file.sheets]
    if wanted not in names:
        listed = ", ".join(f"“{one}”" for one in names if one) or "no names: it is no workbook"
        raise UsageError(f"--sheet: there is no sheet “{wanted}” – there are {listed}.")
    return names.index(wanted)


def _corrected(columns: ColumnMap, text: str) -> ColumnMap:
    """Return the columns with one said as ``Heading=field`` or ``Heading=field:unit``; no field leaves it out."""
    heading, mark, what = text.rpartition("=")
    target, _, unit = what.partition(":")
    if not mark:
        raise UsageError(f"--column “{text}” says nothing – write it like “Shaft=bore_diameter_mm:in”.")
    column = _headed(columns, heading)
    known = unit_or_none(unit) if unit else None
    if unit and known is None:
        raise UsageError(f"--column “{text}”: “{unit}” is no unit – leave it out, or write one like mm, in, psi.")
    try:
        return columns.with_column(
            column.place, target=_target(columns.kind, target), unit=known.symbol if known else ""
        )
    except ValueError as error:
        fields = ", ".join(one for one in targets_of(columns.kind))
        raise UsageError(f"--column “{text}”: {error} – the fields are {fields}.") from error


def _headed(columns: ColumnMap, heading: str) -> Column:
    folded = " ".join(heading.casefold().split())
    found = [one for one in columns.columns if one.heading.casefold() == folded]
    if len(found) == 1:
        return found[0]
    listed = ", ".join(f"“{one.heading}”" for one in columns.columns if one.heading)
    how_many = "no column is" if not found else f"{len(found)} columns are"
    raise UsageError(f"--column: {how_many} headed “{heading}” – the headings are {listed}.")


def _target(kind: SheetKind, text: str) -> str:
    """Return the field that is meant, by its name or by its title."""
    by_title = {title.casefold(): name for name, title in targets_of(kind).items()}
    return by_title.get(text.strip().casefold(), text.strip())


def _told(preview: Preview) -> dict[str, object]:
    said, file = preview.said, preview.file
    open_rows = [*preview.of(RowState.LOOK), *preview.of(RowState.REFUSED)]
    return {
        "file": file.name,
        "supplier": preview.source.supplier,
        "kind": said.columns.kind.value,
        "how": said.how,
        "read": {
            "encoding": file.encoding or None,
            "separator": file.separator or None,
            "sheet": preview.sheet.name or None,
            "title_rows": [one + 1 for one in preview.title_rows],
            "heading_rows": [one + 1 for one in range(said.columns.headings_from, said.columns.rows_from)],
            "headings_said": said.columns.is_said,
            "decimals_said": said.columns.decimals.value or None,
            "passed_over": [one + 1 for one in preview.passed_over[:_MOST_ROWS]],
        },
        "columns": [_column(preview, one) for one in said.columns.columns],
        "counts": {state.value: count for state, count in preview.counts.items()},
        "to_take": len(preview.to_take),
        "open_rows": [_row(one) for one in open_rows[:_MOST_ROWS]],
        "open_rows_not_listed": max(0, len(open_rows) - _MOST_ROWS),
        "refused_file": None,
        "taken": None,
    }


def _column(preview: Preview, column: Column) -> object:
    decimals = preview.decimals.get(column.place)
    return {
        "column": column.place + 1,
        "heading": column.heading,
        "field": column.target or None,
        "title": targets_of(preview.said.columns.kind).get(column.target),
        "unit": column.unit or None,
        "decimals": decimals.value or None if decimals is not None else None,
    }


def _row(row: RowReading) -> object:
    return {
        "row": row.place + 1,
        "state": row.state.value,
        "number": row.number or None,
        "entry": row.entry_id or None,
        "reasons": [str(one) for one in row.reasons],
        "cells": [_cell(one) for one in row.cells],
    }


def _cell(cell: CellReading) -> object:
    return {
        "column": cell.place + 1,
        "text": cell.text,
        "state": cell.state.value,
        "reason": str(cell.reason) or None,
        "choices": list(cell.choices),
    }
