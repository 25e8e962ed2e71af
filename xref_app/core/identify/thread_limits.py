"""How far a caliper may read on a good thread: over the crests of a male one, across the crests of a female one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from xref_app.core.quantity.range import Range, hull
from xref_app.core.standards.threads import ThreadRow

TAPER: Final = 1 / 16
"""Growth in diameter per length of NPT and R. Source: ASME B1.20.1, ISO 7-1."""

TURN: Final = TAPER
"""Growth in diameter over one turn of a taper thread, in pitches."""

NPT_FULL_HEIGHT: Final = 0.8
"""Height of a full NPT thread, in pitches. Source: ASME B1.20.1 (h = 0.8 p)."""

NPT_LEAST_HEIGHT: Final = 0.67
"""Height of an NPT thread with its crests and roots cut flattest, in pitches. House rule."""

TIP_TURNS: Final = 2.0
"""The first crest that a caliper can lie on stands at most so many turns behind the tip. House rule."""

MADE_TURNS: Final = 1.0
"""A taper thread is cut at most so many turns deep or shallow. House rule, for R too, where the table has no more."""

R_LARGE_TURNS: Final = 6.0
"""Full crests of R end at most so many turns behind the gauge plane. House rule: ISO 7-1 sets the least only."""

DEEP_TURNS: Final = 3.0
"""Inside jaws reach at most so many turns deeper than hand tight. House rule."""

FLAT_CRESTS: Final = 0.1
"""Crests of R, Rp and Rc may be this much flatter, in pitches of diameter. House rule."""

OPEN_CRESTS: Final = 0.3
"""The hole of Rp and Rc may be this much larger, in pitches of diameter. House rule: ISO 228-1 allows G as much."""


@dataclass(frozen=True, slots=True)
class HouseWidths:
    """How far a thread of a published size may lie off its full form where its limits are not published.

    ``outside`` is how much smaller than basic a male thread may be; ``hole_full`` and ``hole_open`` how much smaller
    than the basic major diameter the hole of a female one is when cut full and when cut open. Each is a length in mm
    and a number of pitches, to be added.
    """

    outside: tuple[float, float]
    hole_full: tuple[float, float]
    hole_open: tuple[float, float]


HOSE_WIDTHS: Final = HouseWidths(outside=(0.0, 0.2), hole_full=(0.0, 1.3), hole_open=(0.0, 0.9))
"""Hose threads. House rule, wider than the limits we know from memory."""

METRIC_WIDTHS: Final = HouseWidths(outside=(0.1, 0.12), hole_full=(0.0, 1.0825), hole_open=(-0.1, 0.9325))
"""Metric threads: the hole begins at the basic profile (ISO 68-1). House rule, wider than 6g and 6H are."""


@dataclass(frozen=True, slots=True)
class EndLimits:
    """What a caliper may read over a male thread at its large end, its small end, and with the end unsaid, mm."""

    large_mm: Range
    small_mm: Range

    @property
    def unsaid_mm(self) -> Range:
        """Return every reading between the ends."""
        return hull((self.large_mm, self.small_mm))


def male_limits(row: ThreadRow) -> EndLimits | None:
    """Return the limits over the crests of the male thread, mm, or None where the table does not lead to any.

    A parallel thread reaches up to basic, which class 6h, class 3A or plating may do.
    """
    if row.family == "NPT":
        return _npt_male(row)
    if row.family == "R":
        return _r_male(row)
    parallel = _parallel_male(row)
    return None if parallel is None else EndLimits(parallel, parallel)


def female_limits(row: ThreadRow, form: str) -> Range | None:
    """Return the limits of the minor diameter of the female thread, mm; ``form`` is Rp or Rc for ISO 7-1, else ""."""
    if row.family == "NPT":
        return _npt_female(row)
    if row.family == "R":
        return _r_female(row, form)
    if _has_no_published_limits(row):
        widths = _house_widths(row)
        return Range(row.major_mm - _width(row, widths.hole_full), row.major_mm - _width(row, widths.hole_open))
    return row.internal_minor_mm


def has_house_limits(row: ThreadRow) -> bool:
    """Say whether the limits are a house rule's and not the table's."""
    return row.family == "R" or _has_no_published_limits(row)


def _has_no_published_limits(row: ThreadRow) -> bool:
    """Say whether a published size has its limits from memory: a house rule, wider than they, then stands for them."""
    return row.decides and not row.limits_decide


def _house_widths(row: ThreadRow) -> HouseWidths:
    return METRIC_WIDTHS if row.family == "metric" else HOSE_WIDTHS


def _width(row: ThreadRow, mm_and_pitches: tuple[float, float]) -> float:
    mm, pitches = mm_and_pitches
    return mm + pitches * row.pitch_mm


def _parallel_male(row: ThreadRow) -> Range | None:
    if _has_no_published_limits(row):
        return Range(row.major_mm - _width(row, _house_widths(row).outside), row.major_mm)
    if row.external_major_mm is None:
        return None
    return Range(row.external_major_mm.low, row.major_mm)


def _npt_male(row: ThreadRow) -> EndLimits | None:
    """Return the limits from the formulas of ASME B1.20.1: E0 = D - (0.05 D + 1.1) p, L2 = (0.80 D + 6.8) p."""
    tip, turn = row.tip_pitch_diameter_mm, TURN * row.pitch_mm
    if tip is None or row.effective_length_mm is None or row.hand_tight_mm is None:
        return None
    least, full = NPT_LEAST_HEIGHT * row.pitch_mm, NPT_FULL_HEIGHT * row.pitch_mm
    made = MADE_TURNS * turn
    large = Range(tip + row.hand_tight_mm * TAPER + least - made, tip + row.effective_length_mm * TAPER + full + made)
    return EndLimits(large, Range(tip + least - made, tip + full + made + TIP_TURNS * turn))


def _npt_female(row: ThreadRow) -> Range | None:
    if row.tip_pitch_diameter_mm is None or row.pitch_diameter_mm is None:
        return None
    turn = TURN * row.pitch_mm
    deep = row.tip_pitch_diameter_mm - NPT_FULL_HEIGHT * row.pitch_mm - (DEEP_TURNS + MADE_TURNS) * turn
    return Range(deep, row.pitch_diameter_mm - NPT_LEAST_HEIGHT * row.pitch_mm + MADE_TURNS * turn)


def _r_male(row: ThreadRow) -> EndLimits | None:
    if row.tip_major_mm is None:
        return None
    turn, flat = TURN * row.pitch_mm, FLAT_CRESTS * row.pitch_mm
    made = MADE_TURNS * turn
    large = Range(row.major_mm - made - flat, row.major_mm + R_LARGE_TURNS * turn + made)
    return EndLimits(large, Range(row.tip_major_mm - made - flat, row.tip_major_mm + made + TIP_TURNS * turn))


def _r_female(row: ThreadRow, form: str) -> Range | None:
    if row.minor_mm is None or row.hand_tight_mm is None:
        return None
    pitch = row.pitch_mm
    depth = row.hand_tight_mm * TAPER + DEEP_TURNS * TURN * pitch if form == "Rc" else 0.0
    return Range(row.minor_mm - FLAT_CRESTS * pitch - depth, row.minor_mm + OPEN_CRESTS * pitch)
