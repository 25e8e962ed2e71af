"""Faces of small engines as far as they are remembered: hints, all of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref_app.core.standards.exact import inch_mm
from xref_app.core.standards.table_files import table_rows


@dataclass(frozen=True, slots=True)
class EngineFace:
    """The holes of one engine face; lengths in mm, ``pilot_mm`` None where none is remembered.

    ``equally_spaced`` is False where the sides between the holes differ, so that no single distance gives the circle.
    """

    name: str
    axis: str
    bolt_count: int
    equally_spaced: bool
    bolt_circle_mm: float
    pilot_mm: float | None
    bolt_thread: str
    note: str
    source: str
    confidence: str


@cache
def engine_faces() -> tuple[EngineFace, ...]:
    """Return the four remembered faces. No two sources agree on any of them, so none may decide a verdict.

    Source: SAE J609, whose text was not read: from memory, and one trade page for two of the circles.
    """
    return tuple(_face(row) for row in table_rows("faces_engine"))


def _face(row: Mapping[str, str]) -> EngineFace:
    return EngineFace(
        name=row["name"],
        axis=row["axis"],
        bolt_count=int(row["bolt_count"]),
        equally_spaced=row["spacing"] == "equal",
        bolt_circle_mm=inch_mm(row["bolt_circle_in"]),
        pilot_mm=inch_mm(row["pilot_in"]) if row["pilot_in"] else None,
        bolt_thread=row["bolt_thread"],
        note=row["note"],
        source=row["source"],
        confidence=row["confidence"],
    )
