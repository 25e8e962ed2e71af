"""Several readings of one size brought to one value with an honest doubt."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.errors import XrefError
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

TOO_FAR_APART = marked(
    "readings",
    "The readings differ by {spread:.3g}, and the instrument explains {explained:.3g} at most: clean the spot and the"
    " jaws, measure again, and look whether it is worn out of round.",
)


class ReadingError(XrefError):
    """Readings that cannot be used as they stand; the text says what was found, why not, and what to do."""


@dataclass(frozen=True, slots=True)
class Gathered:
    """Several readings of one size, all figures in the unit of the readings.

    Attributes:
        value: Half way between the smallest and the largest reading.
        spread: Largest less smallest reading.
        doubt: Half-width around ``value`` that holds everything any of the readings allows.
        notes: What to be told: that the readings differ by more than the instrument explains.
    """

    value: float
    spread: float
    doubt: float
    notes: tuple[Sentence, ...] = ()

    @property
    def range(self) -> Range:
        """Return the value with its doubt."""
        return Range.around(self.value, self.doubt)


def gathered(values: Sequence[float], *, doubt: float) -> Gathered:
    """Return one value with spread and doubt for several readings of one size.

    The value is the midrange and the doubt half the spread plus the instrument's own doubt (house rule). That range is
    the hull of what each reading allows, so no reading is argued away, and the midrange is the one value about which
    the hull needs the least doubt; a median would need more, and a mean leans to where somebody measured most often.
    More readings never make the doubt smaller than the instrument's: they repeat its error as often as they repeat.

    Args:
        values: n ≥ 1 readings of the same size in one unit.
        doubt: Half-width of one reading, in the same unit, not negative.

    Raises:
        ReadingError: there is no reading, or a figure is not a number, or the doubt is negative.
    """
    _refuse_unusable(values, doubt)
    low, high = min(values), max(values)
    spread = high - low
    explained = 2 * doubt
    notes = (Sentence(TOO_FAR_APART, {"spread": spread, "explained": explained}),)
    return Gathered(
        value=(low + high) / 2,
        spread=spread,
        doubt=spread / 2 + doubt,
        notes=notes if spread > explained + SAME_MM else (),
    )


def _refuse_unusable(values: Sequence[float], doubt: float) -> None:
    if not values:
        raise ReadingError("There is no reading to gather; measure the size at least once.")
    odd = [value for value in (*values, doubt) if not math.isfinite(value)]
    if odd:
        raise ReadingError(f"A reading of {odd[0]} is not a number; measure again.")
    if doubt < 0:
        raise ReadingError(f"A doubt of {doubt:g} is below zero; give the half-width, 0 or more.")


def refuse_unless_positive(name: str, reading: Range) -> None:
    """Refuse a length that is not a finite number above zero everywhere.

    Args:
        name: What was read, as a sentence begins with it: ``The diameter``.
        reading: What the reading allows, mm.

    Raises:
        ReadingError: some of it is zero, below, or endless.
    """
    if not (math.isfinite(reading.high) and reading.low > 0):
        raise ReadingError(
            f"{name} as read can be {reading.low:g} to {reading.high:g} mm, which is not a size; measure it again."
        )
