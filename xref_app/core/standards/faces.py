"""Published motor faces: NEMA type C, IEC B5 and B14. What was only remembered is a hint and decides nothing."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import inch_mm
from xref_app.core.standards.limits import limits_mm
from xref_app.core.standards.table_files import decides, inch_limits_mm, table_rows

_NOT_A_NAME = re.compile(r"[^0-9A-Z]+")
# Frames 90S and 90L, 100L, 112M differ in the length of the housing only.
_HOUSING_LETTER = re.compile(r"(\d{2,3})[SML]?(B5|B14)")
_FIRST_HOLE_DEG = 45


@dataclass(frozen=True, slots=True)
class PublishedFace:
    """A motor's face and shaft as a standard publishes them; lengths in mm, None where the table prints none.

    The pilot is a boss of ``pilot_mm`` (limits) standing ``pilot_height_mm`` proud (for NEMA the least height).
    ``hole_kind`` is ``tapped`` (then ``thread``) or ``through`` (then ``hole_mm``). ``shaft_projection_mm`` runs from
    the mounting face. ``decides`` is False where the size of the face is from memory: such a face is a hint.
    ``confidence`` says it column by column.
    """

    name: str
    standard: str
    bolt_count: int
    bolt_circle_mm: float
    hole_kind: str
    thread: str | None
    hole_mm: float | None
    tapped_depth_mm: float | None
    pilot_mm: Range
    pilot_height_mm: float
    shaft_diameter_mm: float
    shaft_projection_mm: float
    key_width_mm: float | None
    keyseat_length_mm: float | None
    decides: bool
    source: str
    checked_against: str
    confidence: str

    @property
    def holes_xy_mm(self) -> tuple[tuple[float, float], ...]:
        """Return the hole centres from the shaft's axis, x right and y up, the first at 45 degrees.

        Source: the holes lie evenly, on the diagonals; that they lie on the diagonals is from memory.
        """
        radius = self.bolt_circle_mm / 2
        angles = (math.radians(_FIRST_HOLE_DEG + 360 * turn / self.bolt_count) for turn in range(self.bolt_count))
        return tuple((radius * math.cos(angle), radius * math.sin(angle)) for angle in angles)


@cache
def published_faces() -> tuple[PublishedFace, ...]:
    """Return the NEMA C faces (``56C``, ``145TC`` ..), then the IEC faces (``80 B14`` ..).

    Source: NEMA MG 1, clause 4.4.4; IEC 60072-1 (flange columns from memory).
    """
    nema = tuple(_nema_face(row) for row in table_rows("faces_nema"))
    return nema + tuple(_iec_face(row) for row in table_rows("faces_iec"))


def face_or_none(name: str) -> PublishedFace | None:
    """Return the face called ``name`` on a plate or sheet (``56C``, ``145TC``, ``80 B14``, ``90L-B5``), or None."""
    return _by_name().get(_folded(name))


@cache
def _by_name() -> Mapping[str, PublishedFace]:
    return {_folded(face.name): face for face in published_faces()}


def _folded(name: str) -> str:
    plain = _NOT_A_NAME.sub("", name.upper())
    iec = _HOUSING_LETTER.fullmatch(plain)
    return f"{iec[1]}{iec[2]}" if iec else plain


def _nema_face(row: Mapping[str, str]) -> PublishedFace:
    def mm_or_none(column: str) -> float | None:
        return inch_mm(row[column]) if row[column] else None

    return PublishedFace(
        name=row["frame"],
        standard="NEMA MG 1",
        bolt_count=int(row["bolt_count"]),
        bolt_circle_mm=inch_mm(row["bolt_circle_aj_in"]),
        hole_kind="tapped",
        thread=row["bolt_thread_bf"],
        hole_mm=None,
        tapped_depth_mm=mm_or_none("bolt_penetration_max_in"),
        pilot_mm=inch_limits_mm(Fraction(row["pilot_ak_in"]), row["pilot_tol_in"]),
        pilot_height_mm=inch_mm(row["pilot_depth_bb_in"]),
        shaft_diameter_mm=inch_mm(row["shaft_u_in"]),
        shaft_projection_mm=inch_mm(row["shaft_length_ah_in"]),
        key_width_mm=mm_or_none("key_width_in"),
        keyseat_length_mm=mm_or_none("keyseat_length_es_in"),
        decides=decides(row["confidence"]),
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )


def _iec_face(row: Mapping[str, str]) -> PublishedFace:
    return PublishedFace(
        name=f"{row['frame']} {row['mount']}",
        standard="IEC 60072-1",
        bolt_count=int(row["bolt_count"]),
        bolt_circle_mm=float(row["bolt_circle_m_mm"]),
        hole_kind=row["hole_kind"],
        thread=row["thread_s"] or None,
        hole_mm=float(row["hole_s_mm"]) if row["hole_s_mm"] else None,
        tapped_depth_mm=None,
        pilot_mm=limits_mm(row["pilot_zone"], float(row["pilot_n_mm"])),
        pilot_height_mm=float(row["pilot_height_t_mm"]),
        shaft_diameter_mm=float(row["shaft_d_mm"]),
        shaft_projection_mm=float(row["shaft_length_e_mm"]),
        key_width_mm=float(row["key_width_f_mm"]),
        keyseat_length_mm=None,
        decides=decides(row["confidence"]),
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
