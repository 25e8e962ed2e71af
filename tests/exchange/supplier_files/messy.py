"""What a messy list is, and a row that must come out of it."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

# Short names for the rows that are expected.
FIELDS: Final = {
    "bore": "bore_diameter_mm",
    "p": "rating_pressure_bar",
    "flow": "rating_flow_lpm",
    "rpm": "rating_speed_rpm",
    "max_rpm": "rating_max_speed_rpm",
    "in": "inlet_thread",
    "out": "outlet_thread",
    "holes": "flange_holes_xy_mm",
    "hot": "rating_max_inlet_c",
    "hole": "flange_hole_mm",
    "shaft": "shaft_diameter_mm",
    "kw": "power_kw",
    "unloader": "has_unloader",
    "supply": "rating_max_supply_bar",
}


@dataclass(frozen=True)
class Messy:
    """One file: its name, its bytes, what it lists, and the rows that must come out."""

    name: str
    data: bytes
    rows: tuple[str, ...]
    kind: str = "pumps"


def text(name: str, written: str, *rows: str, encoding: str = "utf-8", kind: str = "pumps", bom: bytes = b"") -> Messy:
    """Return a text file."""
    return Messy(f"{name}.csv", bom + written.encode(encoding), rows, kind)


def book(name: str, fill: Callable[[Workbook, Worksheet], object], *rows: str) -> Messy:
    """Return a workbook that ``fill`` writes into; its first sheet is there already."""
    made = Workbook()
    sheet = made.active
    assert isinstance(sheet, Worksheet)
    fill(made, sheet)
    data = io.BytesIO()
    made.save(data)
    return Messy(f"{name}.xlsx", data.getvalue(), rows)


def lines(sheet: Worksheet, rows: Sequence[Sequence[object]]) -> None:
    """Write rows below what is there."""
    for row in rows:
        sheet.append(list(row))
