"""What a caliper and a thread gauge say about one thread; anything may be missing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import INCH_IN_MM

MALE: Final = "male"
FEMALE: Final = "female"
LARGE_END: Final = "large end"
SMALL_END: Final = "small end"

O_RING: Final = "o-ring"
"""Something for an O-ring: a chamfer in the mouth of the port, or an O-ring behind the male thread."""
FACE: Final = "face"
"""A flat face that a washer is pulled against."""
CONE: Final = "cone"
"""A cone or a flare, in the end or on it."""
NO_SEAT: Final = "none"
"""Neither: the thread itself must seal."""

FLANK_ANGLES_DEG: Final = (55.0, 60.0)
SEATS: Final = (O_RING, FACE, CONE, NO_SEAT)

GAUGE_SHARE: Final = 0.02
"""A leaf of a thread gauge that sits down is within this share of the pitch. House rule: over the ten threads that a
leaf spans, one wrong by more rides up by a fifth of a pitch. 11.5 and 12, 18 and 19, 27 and 28 threads per inch are
further apart; 20 threads per inch and 1.25 mm are not, and a set that lacks the one sits down with the other."""


class ThreadReadingError(XrefError):
    """A reading of a thread that nothing can be read from."""


@dataclass(frozen=True, slots=True)
class ThreadReadings:
    """The readings of one thread, each with its doubt already in its range.

    ``gender`` is ``male``, ``female`` or "" where nobody said. ``outside_mm`` is over the crests of a male thread, at
    ``outside_at`` (``large end``, ``small end`` or "" unsaid) and ``other_end_mm`` the same at the other end;
    ``inside_mm`` across the crests of a female thread (its minor diameter). ``taper`` says whether it gets thinner
    toward the tip. ``seal_mm`` is the plug or socket that an M22x1.5 coupling seals with, ``seat`` what there is to
    seal on (``o-ring``, ``face``, ``cone``, ``none``).

    Raises:
        ThreadReadingError: a word or an angle that is none of these, or a length that is not above zero.
    """

    gender: str = ""
    outside_mm: Range | None = None
    outside_at: str = ""
    other_end_mm: Range | None = None
    inside_mm: Range | None = None
    pitch_mm: Range | None = None
    taper: bool | None = None
    flank_angle_deg: float | None = None
    seal_mm: Range | None = None
    seat: str = ""

    @property
    def other_end(self) -> str:
        """Return the end that ``other_end_mm`` was read at, "" where nobody said."""
        return {LARGE_END: SMALL_END, SMALL_END: LARGE_END}.get(self.outside_at, "")

    def __post_init__(self) -> None:
        _one_of("gender of a thread", self.gender, ("", MALE, FEMALE))
        _one_of("end of a thread", self.outside_at, ("", LARGE_END, SMALL_END))
        _one_of("seat of a thread", self.seat, ("", *SEATS))
        if self.flank_angle_deg is not None and self.flank_angle_deg not in FLANK_ANGLES_DEG:
            raise ThreadReadingError(
                f"No thread of ours has a flank angle of {self.flank_angle_deg:g}°; say 55 or 60, or leave it out."
            )
        for name in ("outside_mm", "other_end_mm", "inside_mm", "pitch_mm", "seal_mm"):
            read: Range | None = getattr(self, name)
            if read is not None and read.low <= 0:
                raise ThreadReadingError(
                    f"The reading {name} reaches down to {read.low:g} mm, which nothing has; measure it again."
                )


def pitch_by_gauge_mm(pitch_mm: float) -> Range:
    """Return what a leaf of a metric thread gauge says that sits down in the thread, mm (doubt ``GAUGE_SHARE``)."""
    if pitch_mm <= 0:
        raise ThreadReadingError(f"A pitch of {pitch_mm:g} mm is not above zero; read the leaf of the gauge again.")
    return Range.around(pitch_mm, GAUGE_SHARE * pitch_mm)


def pitch_by_tpi_gauge(threads_per_inch: float) -> Range:
    """Return what a leaf of an inch thread gauge says that sits down in the thread, mm (doubt ``GAUGE_SHARE``)."""
    if threads_per_inch <= 0:
        raise ThreadReadingError(
            f"{threads_per_inch:g} threads per inch is not above zero; read the leaf of the gauge again."
        )
    return pitch_by_gauge_mm(float(INCH_IN_MM) / threads_per_inch)


def taper_by_ends(large_mm: Range, small_mm: Range, apart_mm: Range) -> bool | None:
    """Say whether a male thread is taper from its outside near both ends; None where the doubts leave it open.

    Pipe tapers grow by 1/16 of the length (ASME B1.20.1, ISO 7-1). House rule: more than half of that is a taper, less
    is none.
    """
    growth = large_mm - small_mm
    half = apart_mm * (1 / 32)
    if growth.low > half.high:
        return True
    return False if growth.high < half.low else None


def _one_of(what: str, found: str, allowed: tuple[str, ...]) -> None:
    if found not in allowed:
        words = ", ".join(f"“{word}”" for word in allowed if word)
        raise ThreadReadingError(f"“{found}” is no {what}; say one of {words}, or nothing.")
