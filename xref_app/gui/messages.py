"""Sentences and numbers as the person reads them: words translated first, values filled in afterwards."""

from __future__ import annotations

import math
import re

from PySide6.QtCore import QCoreApplication, QLocale

from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fields.fields import field_for
from xref_app.core.fit.finding import Outcome, Quantity, Shown, Verdict
from xref_app.core.sentence import Sentence, marked
from xref_app.gui.length_first import LengthFirst

INCH_MM = 25.4
# A range wider than this share of its middle is told by its limits, "0 to 0.10": "0.05 ± 0.05" hides the zero.
_WIDE = 0.04
_EXACT = 1e-9

# A length or a range of lengths in both units: numbers, perhaps with a fraction, and the other unit in brackets.
_NUMBER = r"(?:\d+ )?[\d.,/−-]+"
_LENGTH = f"{_NUMBER}(?: to {_NUMBER})?"
_PAIR = f"({_LENGTH} {{head}}) \\(({_LENGTH} {{tail}})\\)"

_UNIT_WORDS = {
    "lpm": "L/min",
    "l/min": "L/min",
    "kw": "kW",
    "nm": "N·m",
    "c": "°C",
    "deg": "°",
    "mpa": "MPa",
}
_DECIMALS = {"mm": 2, "in": 3, "bar": 1, "L/min": 1, "rpm": 0, "kW": 2, "N·m": 1, "°C": 0, "°": 0, "MPa": 0}

AT_LEAST = marked("messages", "at least {value}")
AT_MOST = marked("messages", "at most {value}")
FROM_TO = marked("messages", "{low} to {high}")


def say(sentence: Sentence) -> str:
    """Return ``sentence`` in the person's language, filled in; the template is translated, never the result.

    Sentences among its values are said likewise.
    """
    template = str(QCoreApplication.translate("findings", sentence.template))
    values = {name: say(one) if isinstance(one, Sentence) else one for name, one in sentence.values.items()}
    return template.format(**values)


def number_text(value: float, decimals: int) -> str:
    """Return ``value`` as the locale writes it, trailing zeros dropped, with a true minus sign."""
    locale = QLocale()
    text = locale.toString(abs(value), "f", decimals)
    point = locale.decimalPoint()
    if point in text:
        text = text.rstrip("0").removesuffix(point)
    is_negative = value < 0 and any(digit not in f"0{point}" for digit in text)
    return f"−{text}" if is_negative else text


def quantity_text(shown: Shown, first: LengthFirst = LengthFirst.MM) -> str:
    """Return what stands under needed, offered or gap: words as they are, a range with its unit; empty for None."""
    if shown is None:
        return ""
    if isinstance(shown, str):
        return shown
    if shown.unit == "mm" and first is LengthFirst.INCH:
        return _range_text(shown, scale=1 / INCH_MM, unit="in")
    return _range_text(shown, scale=1.0, unit=shown.unit)


def _range_text(quantity: Quantity, *, scale: float, unit: str) -> str:
    low, high = quantity.range.low * scale, quantity.range.high * scale
    word = _UNIT_WORDS.get(unit, unit)
    decimals = _DECIMALS.get(word, 2)
    tail = word if word in ("", "°") else f" {word}"
    if math.isinf(low) or math.isinf(high):
        template, value = (AT_MOST, high) if math.isinf(low) else (AT_LEAST, low)
        return QCoreApplication.translate("messages", template).format(value=number_text(value, decimals)) + tail
    middle, doubt = (low + high) / 2, (high - low) / 2
    if doubt <= _EXACT:
        return number_text(middle, decimals) + tail
    if doubt <= _WIDE * abs(middle):
        return f"{number_text(middle, decimals)} ± {number_text(doubt, decimals)}{tail}"
    ends = {"low": number_text(low, decimals), "high": number_text(high, decimals)}
    return QCoreApplication.translate("messages", FROM_TO).format(**ends) + tail


def both_units_text(shown: str, first: LengthFirst) -> str:
    """Return ``shown`` with every length written ``19.05 mm (3/4 in)`` or the other way about in the wanted order."""
    head, tail = ("in", "mm") if first is LengthFirst.MM else ("mm", "in")
    return re.sub(_PAIR.format(head=head, tail=tail), r"\2 (\1)", shown)


def field_title(field_id: str) -> str:
    """Return the title of a field of the schema; a field the schema does not know is spelled out from its id."""
    try:
        return field_for(field_id).title
    except UnknownFieldError:
        return field_id.replace("_", " ")


def check_title(check: str) -> str:
    """Return the name of a check as a heading."""
    word = str(QCoreApplication.translate("checks", check))
    return word[:1].upper() + word[1:]


def verdict_word(verdict: Verdict) -> str:
    """Return the word of a verdict."""
    return str(QCoreApplication.translate("verdicts", verdict.value))


def outcome_word(outcome: Outcome) -> str:
    """Return the word of a finding."""
    return str(QCoreApplication.translate("verdicts", outcome.word))
