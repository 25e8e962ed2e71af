"""How deep a bolt may go into the face of a motor, by the face's bolt circle and thread."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from xref_app.core.standards.exact import inch_mm
from xref_app.core.standards.table_files import decides, table_rows


@dataclass(frozen=True, slots=True)
class BoltPenetration:
    """One frame's C face, mm: its bolt circle, its thread (``3/8-16``) and the most a bolt may go in."""

    frame: str
    bolt_circle_mm: float
    thread: str
    most_mm: float


@cache
def bolt_penetrations() -> tuple[BoltPenetration, ...]:
    """Return every NEMA C face whose row gives an allowance.

    Source: NEMA MG 1, clause 4.4.4 (Type C face), bolt penetration allowance.
    """
    return tuple(
        BoltPenetration(
            frame=row["frame"],
            bolt_circle_mm=inch_mm(row["bolt_circle_aj_in"]),
            thread=row["bolt_thread_bf"],
            most_mm=inch_mm(row["bolt_penetration_max_in"]),
        )
        for row in table_rows("faces_nema")
        if row["bolt_penetration_max_in"] and decides(row["confidence"])
    )
