"""Flows as nozzle charts print them. The judge computes with the definition (``hydraulics``); this shows a chart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref_app.core.standards.exact import GALLON_IN_LITRES, PSI_IN_BAR, as_fraction, inch_mm
from xref_app.core.standards.table_files import decides, table_rows


@dataclass(frozen=True, slots=True)
class NozzleFlow:
    """One cell of a chart: what a nozzle passes at a pressure, in L/min and bar.

    ``hole_mm`` is the hole that one chart prints beside the number. It gives a flow coefficient anywhere between 0.75
    and 0.92, so no flow is to be computed from it.
    """

    nozzle_number: float
    pressure_bar: float
    flow_lpm: float
    hole_mm: float
    decides: bool
    note: str
    source: str
    checked_against: str
    confidence: str


@cache
def nozzle_flows() -> tuple[NozzleFlow, ...]:
    """Return the chart, by number and then by pressure, ascending.

    Source: trade nozzle charts, two of which print the same flows; one source for the holes.
    """
    return tuple(_flow(row) for row in table_rows("nozzle_flows"))


def _flow(row: Mapping[str, str]) -> NozzleFlow:
    return NozzleFlow(
        nozzle_number=float(row["nozzle_number"]),
        pressure_bar=float(as_fraction(row["pressure_psi"]) * PSI_IN_BAR),
        flow_lpm=float(as_fraction(row["flow_gpm"]) * GALLON_IN_LITRES),
        hole_mm=inch_mm(row["hole_in"]),
        decides=decides(row["confidence"]),
        note=row["note"],
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
