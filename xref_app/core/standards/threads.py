"""Published threads: pipe, hose, metric and Unified, with the diameters that tell them apart."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.range import Range
from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.exact import INCH_IN_MM, as_fraction
from xref_app.core.standards.table_files import FROM_MEMORY, table_rows

_BOLT_SYSTEMS = {"metric": "metric", "unified": "inch", "unified port": "inch"}
# `5/16-18 UNC` is also written `5/16-18`: diameter and threads per inch say it all.
_FAMILY = re.compile(r" (UNC|UNF|UN)$")
_SPACES = re.compile(r"\s+")


@dataclass(frozen=True, slots=True)
class ThreadRow:
    """One published thread; diameters in mm, None where the table prints none.

    ``family`` is NPT, NPSM, G, R, hose, metric, unified or unified port; ``taper`` and ``form`` say how it seals;
    ``variant`` tells the row's habit (``coarse``, ``port``). For NPT the basic diameters are those at the hand-tight
    plane and ``pipe_od_mm`` is what a caliper reads over the crests. ``hand_tight_mm`` is the hand-tight length of NPT
    or the gauge length of R. ``tip_pitch_diameter_mm`` and ``effective_length_mm`` (E0 and L2 of NPT) and
    ``tip_major_mm`` (of R) say how far the taper runs. ``female_forms`` are the names of the inside threads where they
    have their own (Rp, Rc); ``port_dash`` the O-ring port cut in this thread; ``seals_mm`` the seals it comes with.
    ``decides`` is False where the row as a whole is from memory, ``limits_decide`` also where only its limits are: such
    values are hints.
    """

    family: str
    designation: str
    variant: str
    nominal: str
    pitch_mm: float
    tpi: float | None
    angle_deg: float
    taper: str
    form: str
    major_mm: float
    pitch_diameter_mm: float | None
    minor_mm: float | None
    pipe_od_mm: float | None
    external_major_mm: Range | None
    internal_minor_mm: Range | None
    hand_tight_mm: float | None
    tip_pitch_diameter_mm: float | None
    effective_length_mm: float | None
    tip_major_mm: float | None
    female_forms: tuple[str, ...]
    port_dash: str
    seals_mm: tuple[float, ...]
    decides: bool
    limits_decide: bool
    note: str
    source: str
    confidence: str


@cache
def thread_rows() -> tuple[ThreadRow, ...]:
    """Return every published thread in the table's order.

    Source: the standard named on each row (ASME B1.20.1, ISO 228-1, ISO 7-1, ASME B1.20.7, ISO 965-1, ASME B1.1).
    """
    return tuple(_thread(row) for row in table_rows("threads"))


def thread_row_or_none(designation: str) -> ThreadRow | None:
    """Return the thread written ``designation`` (``M22x1.5``, ``3/8-18 NPT``, ``5/16-24``, ``M8``), or None.

    Case and spacing do not matter. A Unified thread may be written without its series, and a metric coarse thread
    without its pitch (ISO 261).
    """
    return _by_name().get(_folded(designation))


def thread_row(designation: str) -> ThreadRow:
    """Return the thread written ``designation``.

    Raises:
        NotInStandardError: no row has that designation.
    """
    row = thread_row_or_none(designation)
    if row is None:
        raise NotInStandardError(
            f"The thread “{designation}”", "our table of threads", "write it like M22x1.5, 3/8-18 NPT or 5/16-24 UNF"
        )
    return row


def bolt_major_mm(designation: str) -> Range | None:
    """Return how thick a bolt of that thread can be over its crests, mm; None for a thread no bolt is made in.

    The upper limit is the basic diameter, which plating may reach; the lower the table's least (6g, 2A).
    """
    row = _bolt_row_or_none(designation)
    if row is None or row.external_major_mm is None:
        return None
    return Range(row.external_major_mm.low, row.major_mm)


def bolt_pitch_mm(designation: str) -> float | None:
    """Return the pitch of a bolt's thread, mm; None for a thread no bolt is made in."""
    row = _bolt_row_or_none(designation)
    return None if row is None else row.pitch_mm


def bolt_nominal_mm(designation: str) -> float | None:
    """Return the basic diameter of a bolt, mm; None for a thread no bolt is made in."""
    row = _bolt_row_or_none(designation)
    return None if row is None else row.major_mm


def bolt_system(designation: str) -> str | None:
    """Return ``inch`` or ``metric``; None for a thread no bolt is made in."""
    row = _bolt_row_or_none(designation)
    return None if row is None else _BOLT_SYSTEMS[row.family]


def _bolt_row_or_none(designation: str) -> ThreadRow | None:
    """Return the row of a thread that bolts are made in, its limits printed; what is remembered is none."""
    row = thread_row_or_none(designation)
    if row is None or not row.decides or row.external_major_mm is None or row.family not in _BOLT_SYSTEMS:
        return None
    return row


@cache
def _by_name() -> Mapping[str, ThreadRow]:
    found: dict[str, ThreadRow] = {}
    for row in thread_rows():
        for name in _names(row):
            found[_folded(name)] = row
    return found


def _names(row: ThreadRow) -> tuple[str, ...]:
    if row.family.startswith("unified"):
        return row.designation, _FAMILY.sub("", row.designation)
    if row.variant == "coarse":
        return row.designation, row.nominal if row.nominal.startswith("M") else f"M{row.nominal}"
    return (row.designation,)


def _folded(designation: str) -> str:
    return _SPACES.sub("", designation).replace("×", "x").casefold()


def _thread(row: Mapping[str, str]) -> ThreadRow:
    scale = INCH_IN_MM if row["unit"] == "in" else Fraction(1)
    tpi = as_fraction(row["tpi"]) if row["tpi"] else None

    def mm(column: str) -> float | None:
        return float(as_fraction(row[column]) * scale) if row[column] else None

    def limits(low_column: str, high_column: str) -> Range | None:
        low, high = mm(low_column), mm(high_column)
        return None if low is None or high is None else Range(low, high)

    return ThreadRow(
        family=row["system"],
        designation=row["designation"],
        variant=row["variant"],
        nominal=row["nominal"],
        pitch_mm=float(INCH_IN_MM / tpi) if tpi else float(row["pitch_mm"]),
        tpi=float(tpi) if tpi else None,
        angle_deg=float(row["angle_deg"]),
        taper=row["taper"],
        form=row["form"],
        major_mm=float(as_fraction(row["major_basic"]) * scale),
        pitch_diameter_mm=mm("pitch_basic"),
        minor_mm=mm("minor_basic"),
        pipe_od_mm=mm("pipe_od"),
        external_major_mm=limits("external_major_min", "external_major_max"),
        internal_minor_mm=limits("internal_minor_min", "internal_minor_max"),
        hand_tight_mm=mm("hand_tight_length"),
        tip_pitch_diameter_mm=mm("tip_pitch"),
        effective_length_mm=mm("effective_length"),
        tip_major_mm=mm("small_end_major"),
        female_forms=tuple(row["female_forms"].split()),
        port_dash=row["port_dash"],
        seals_mm=tuple(float(seal) for seal in row["seals"].split()),
        decides=not row["confidence"].startswith(FROM_MEMORY),
        limits_decide=not row["confidence"].startswith(FROM_MEMORY)
        and f"{FROM_MEMORY} for limits" not in row["confidence"],
        note=row["note"],
        source=row["source"],
        confidence=row["confidence"],
    )
