"""A supplier's list of an invented supplier, written for a test, and a desk to read it with."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.services.bench_store import sample_desk
from xref_app.core.progress import NO_PROGRESS
from xref_app.services.live_desk import LiveDesk
from xref_app.services.supplier_preview import Preview, SaidOfFile

HEADINGS = "No.;Maker;Bore mm;psi;l/min;Replaces\n"
SUPPLIER = "Invented Supply"
LIST = (
    HEADINGS
    + "ZQ-1;Invented;19,05;2.700;10,5;ZQ-0\n"
    + 'ZQ-2;Invented;19,05";2.700;10,5;\n'
    + "ZQ-3;Invented;25,4;27000;10,5;\n"
    + "ZQ-4;Invented;25,4;3.000;tbd;ZQ-1\n"
)


def said_of(desk: LiveDesk, path: Path, text: str = LIST, **more: object) -> tuple[Preview, SaidOfFile]:
    """Return the preview of ``text``, written to ``path``, and what is said of it: the guess and ``more``."""
    path.write_text(text, encoding="utf-8")
    file = desk.suppliers.read(path, NO_PROGRESS)
    said = replace(desk.suppliers.guess(file), **{"supplier": SUPPLIER, **more})  # type: ignore[arg-type] # by name
    return desk.suppliers.preview(file, said, NO_PROGRESS), said


def desk_in(folder: Path, most_in_memory: int) -> LiveDesk:
    """Return a desk over the sample catalog, in memory or entry by entry."""
    return sample_desk(folder, most_in_memory=most_in_memory)
