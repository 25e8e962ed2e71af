"""Metric threads, and what every thread that was read consists of."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.thread_table import Family, ThreadRow, decimal, thread_rows

ADVICE = "M22x1.5, 3/8-18 NPT, G3/8 or 5/16-24 UNF"

# ISO 261, all pitches of its general plan up to 6 mm (from memory; a pitch off this list is a slip of the pen).
_PITCHES_TEXT = "0.2 0.25 0.3 0.35 0.4 0.45 0.5 0.6 0.7 0.75 0.8 1 1.25 1.5 1.75 2 2.5 3 3.5 4 4.5 5 5.5 6"
_PITCHES_MM = frozenset(Fraction(one) for one in _PITCHES_TEXT.split())
# House rule: no standard metric thread from M2 up is coarser than a fifth of its diameter (M2x0.4 is the extreme).
_COARSEST_SHARE = Fraction(1, 5)

_START = re.compile(r"m ?[0-9]", re.IGNORECASE)
_METRIC = re.compile(
    r"m ?(?P<size>[0-9]+(?:[.,][0-9]+)?)"
    r"(?:(?: ?[x*-] ?| )(?P<pitch>[0-9]*[.,]?[0-9]+)(?: ?mm)?)?"
    r"(?: ?- ?[3-9][efghEFGH](?:[3-9][efghEFGH])?)?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Thread:
    """One thread.

    ``nominal`` is the size in the words of its standard (``3/4``, ``M22``); ``diameter_mm`` the basic major diameter
    (at the gauge plane where the thread tapers), None where not known; ``tpi`` threads per inch, None for metric;
    ``designation`` the one canonical way to write it.
    """

    family: Family
    nominal: str
    diameter_mm: float | None
    pitch_mm: float
    tpi: float | None
    designation: str


def is_metric(plain: str) -> bool:
    """Say whether a tidy text begins like a metric designation."""
    return _START.match(plain) is not None


def metric_thread(plain: str, *, found: str) -> Thread:
    """Return the metric thread that ``plain`` names; a tolerance class such as -6g is left out.

    Args:
        plain: A text that ``tidy`` returned.
        found: The same text as typed, for the sentence of a refusal.

    Raises:
        MeasureError: no metric thread, no standard pitch, or a bare size that is made in several pitches.
    """
    match = _METRIC.fullmatch(plain)
    if match is None:
        raise MeasureError(found, "is not a metric thread", "M22x1.5")
    diameter = Fraction(match["size"].replace(",", "."))
    size = f"M{decimal(diameter)}"
    coarse = next((row for row in thread_rows() if row.size == size), None)
    if match["pitch"] is None:
        return _thread(size, diameter, _coarse_pitch(found, size, coarse))
    pitch = Fraction(match["pitch"].replace(",", "."))
    coarsest = diameter * _COARSEST_SHARE if coarse is None else coarse.pitch_mm
    if pitch not in _PITCHES_MM or pitch > coarsest:
        example = coarse.designation if coarse is not None and coarse.coarse_alone else f"{size}x1.5"
        raise MeasureError(found, f"has no pitch that {size} is made in", example)
    return _thread(size, diameter, pitch)


def _coarse_pitch(found: str, size: str, coarse: ThreadRow | None) -> Fraction:
    if coarse is None or not coarse.coarse_alone:
        raise MeasureError(found, "gives no pitch, and this size is made in more than one", f"{size}x1.5")
    return coarse.pitch_mm


def _thread(size: str, diameter: Fraction, pitch: Fraction) -> Thread:
    designation = f"{size}x{decimal(pitch)}"
    return Thread(Family.METRIC, size, float(diameter), float(pitch), None, designation)
