"""Printers: which there are, and pages sent to one. Called in a worker thread: a printer that is off may take long."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

from xref_app.gui.paper_painter import DPI, paint_pages
from xref_app.sheets.sheet_page import SheetPage


def printer_names() -> tuple[str, ...]:
    """Return the printers of this machine, the usual one first; n ≥ 0."""
    names = QPrinterInfo.availablePrinterNames()
    usual = QPrinterInfo.defaultPrinterName()
    return tuple(sorted(names, key=lambda one: (one != usual, one.casefold())))


def print_on(name: str, pages: Sequence[SheetPage], title: str) -> str:
    """Send n ≥ 1 pages at true size to a printer, and return its name.

    Raises:
        PaperFailedError: it did not take them.
    """
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPrinterName(name)
    print_pages(printer, pages, title, name)
    return name


def print_pages(printer: QPrinter, pages: Sequence[SheetPage], title: str, where: str) -> None:
    """Paint pages on a printer from the very corner of the paper: its own margins move nothing.

    Raises:
        PaperFailedError: it did not take them; ``where`` names it.
    """
    printer.setResolution(DPI)
    printer.setDocName(title)
    paint_pages(printer, pages, where)
