"""The pitches that belong to each size of each thread series."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from importlib.resources import files

_INCH_MM = Fraction("25.4")


class Family(StrEnum):
    """A thread series, spelled as in a designation."""

    NPT = "NPT"
    NPTF = "NPTF"
    NPSM = "NPSM"
    NPSH = "NPSH"
    NH = "NH"
    NHR = "NHR"
    G = "G"
    R = "R"
    RP = "Rp"
    RC = "Rc"
    METRIC = "M"
    UNC = "UNC"
    UNF = "UNF"
    UN = "UN"

    @property
    def leads(self) -> bool:
        """Say whether the series stands before the size (G3/8) and without a number of threads."""
        return self in {Family.G, Family.R, Family.RP, Family.RC}

    @property
    def is_unified(self) -> bool:
        """Say whether it is a series of unified fastener threads."""
        return self in {Family.UNC, Family.UNF, Family.UN}


@dataclass(frozen=True, slots=True)
class ThreadRow:
    """One size of one series.

    ``size`` is as printed (``1-1/4``, ``#10``, ``M8``); ``tpi`` is threads per inch, None for metric; ``pitch_mm``
    and ``major_mm`` are exact, the latter None where not known. ``coarse_alone`` says whether the bare size means
    this coarse pitch (ISO 965-1). House rule: not from M14 up except M16, since water couplings of those sizes are
    cut 1.5 or 2 mm and people call them by the bare size.
    """

    family: Family
    size: str
    tpi: Fraction | None
    pitch_mm: Fraction
    major_mm: Fraction | None
    coarse_alone: bool
    source: str
    confidence: str

    @property
    def designation(self) -> str:
        """Return the one canonical way to write it."""
        if self.tpi is None:
            return f"{self.size}x{decimal(self.pitch_mm)}"
        if self.family.leads:
            return f"{self.family}{self.size}"
        return f"{self.size}-{decimal(self.tpi)} {self.family}"


def decimal(value: Fraction) -> str:
    """Return a short decimal number without trailing zeros."""
    return f"{float(value):g}"


@cache
def thread_rows() -> tuple[ThreadRow, ...]:
    """Return every row of the packaged table, grouped by series, smallest size first in each."""
    table = files("xref_app.core.quantity") / "tables" / "thread_pitches.csv"
    lines = table.read_text(encoding="utf-8").splitlines()
    return tuple(_row(cells) for cells in csv.DictReader(lines))


def _row(cells: dict[str, str]) -> ThreadRow:
    tpi = Fraction(cells["tpi"]) if cells["tpi"] else None
    return ThreadRow(
        family=Family(cells["family"]),
        size=cells["size"],
        tpi=tpi,
        pitch_mm=Fraction(cells["pitch_mm"]) if tpi is None else _INCH_MM / tpi,
        major_mm=Fraction(cells["major_mm"]) if cells["major_mm"] else None,
        coarse_alone=cells["coarse_alone"] == "yes",
        source=cells["source"],
        confidence=cells["confidence"],
    )
