"""The question 'inch or mm?' for a length far off what its field usually holds."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from xref_app.core.quantity.amounts import Amount, parse_amount
from xref_app.core.quantity.lengths import LENGTH
from xref_app.core.quantity.units import INCH, MM, Unit
from xref_app.core.sentence import Sentence, marked

QUESTION = marked("quantities", "Inch or mm? {number:g} in is {as_inch_mm:.5g} mm, {number:g} mm is {as_mm_in:.4g} in.")


@dataclass(frozen=True, slots=True)
class InchOrMm:
    """Both readings of one number, of which only ``likely`` lies in the plausible range of the field.

    Nothing is stored before a person has chosen.
    """

    number: Fraction
    read_as: Unit
    likely: Unit

    @property
    def question(self) -> Sentence:
        """Return the question with both readings, each in the other unit."""
        as_inch_mm = float(INCH.to_canonical(self.number))
        as_mm_in = float(INCH.from_canonical(self.number))
        return Sentence(QUESTION, {"number": float(self.number), "as_inch_mm": as_inch_mm, "as_mm_in": as_mm_in})


def plausible_units(number: Fraction | float, *, minimum_mm: float, maximum_mm: float) -> tuple[Unit, ...]:
    """Return which of mm and inch put ``number`` inside the closed range from ``minimum_mm`` to ``maximum_mm``."""
    exact = Fraction(number)
    return tuple(unit for unit in (MM, INCH) if minimum_mm <= unit.to_canonical(exact) <= maximum_mm)


def inch_or_mm_or_none(
    text: str, *, default_unit: Unit | None, minimum_mm: float, maximum_mm: float
) -> InchOrMm | None:
    """Return the question to ask about ``text``, or None where its own unit is plausible or no other is.

    The unit is doubted even where it was written: a wrong unit beside a right number is the commoner slip.

    Raises:
        MeasureError: the text is no length, or could mean two.
    """
    amount = parse_amount(text, LENGTH, default_unit=default_unit)
    units = plausible_units(amount.number, minimum_mm=minimum_mm, maximum_mm=maximum_mm)
    if minimum_mm <= amount.exact <= maximum_mm or not units:
        return None
    return _question(amount, units)


def _question(amount: Amount, units: tuple[Unit, ...]) -> InchOrMm | None:
    others = [unit for unit in units if unit != amount.unit]
    return InchOrMm(amount.number, amount.unit, others[0]) if others else None
