"""Lengths where a rounded one would mislead: gaps, and the sizes of what is to be bought."""

from __future__ import annotations

import math
import re

from PySide6.QtCore import QCoreApplication, QLocale

from xref_app.core.fit.finding import Quantity, Shown
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import FROM_TO, INCH_MM, number_text, quantity_text, say

# Places shown of a gap: a hundredth of a mm and a thousandth of an inch, a caliper's last digits.
_PLACES = {LengthFirst.MM: 2, LengthFirst.INCH: 3}
# A limit is moved by rounding only where it lies further beyond the last place than float sums go astray.
_SLIP = 1e-6
# A length in a template: a number to be filled in, then its unit.
_SIZE = re.compile(r"\{(\w+)(?::[^}]*)?\} mm\b")


def gap_text(shown: Shown, first: LengthFirst = LengthFirst.MM) -> str:
    """Return a gap: a length from its worst to its best, rounded outwards, every place shown; the rest as it is."""
    if not isinstance(shown, Quantity) or shown.unit != "mm" or not _is_finite(shown):
        return quantity_text(shown, first)
    scale, unit = (1 / INCH_MM, "in") if first is LengthFirst.INCH else (1.0, "mm")
    places = _PLACES[first]
    low, high = _steps(shown.range, scale * 10.0**places)
    ends = {"low": _whole_text(low, places), "high": _whole_text(high, places)}
    template = "{low}" if low == high else QCoreApplication.translate("messages", FROM_TO)
    return f"{template.format(**ends)} {unit}"


def _is_finite(quantity: Quantity) -> bool:
    return math.isfinite(quantity.range.low) and math.isfinite(quantity.range.high)


def _steps(gap: Range, steps_per_mm: float) -> tuple[int, int]:
    """Return both limits in steps of the last place shown: outwards, or the nearest where there is no doubt."""
    if gap.doubt <= SAME_MM:
        return (round(gap.middle * steps_per_mm),) * 2
    return math.floor(gap.low * steps_per_mm + _SLIP), math.ceil(gap.high * steps_per_mm - _SLIP)


def _whole_text(steps: int, places: int) -> str:
    text = QLocale().toString(abs(steps) / 10.0**places, "f", places)
    return f"−{text}" if steps < 0 else text


def say_sizes(sentence: Sentence, first: LengthFirst) -> str:
    """Return ``sentence`` with the numbers of mm in it told in inches first where that is wanted.

    The template is looked at, never the filled-in words: what stands there as text, the name of a seal say, stays.
    """
    if first is LengthFirst.MM:
        return say(sentence)
    values = dict(sentence.values)
    template = str(QCoreApplication.translate("findings", sentence.template))
    for name in _SIZE.findall(template):
        value = values[name]
        if isinstance(value, int | float):
            inch, mm = number_text(value / INCH_MM, 3), number_text(value, 2)
            template = re.sub(rf"\{{{name}(?::[^}}]*)?\}} mm\b", f"{{{name}}}", template)
            values[name] = f"{inch} in ({mm} mm)"
    return template.format(**values)
