"""A reading that may be a range: ``3-4 L``, ``3 to 4 L``, ``3.5 ± 0.1 L``, or one number with the doubt it is given."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from xref_app.core.quantity.amounts import Amount
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.quantities import parse_quantity
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.units import UNITS, Kind, Unit
from xref_app.core.quantity.written import LONGEST_TEXT

_GIVE_OR_TAKE = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_UP_TO = re.compile(r"\s*(?:\bto\b|\.\.+|…|[-–—−])\s*")


def parse_span(text: str, kind: Kind, *, doubt: Callable[[float], float], default_unit: Unit | None = None) -> Range:
    """Return all that ``text`` says the value can be, in the canonical unit of ``kind``.

    A unit that stands at one end only is the unit of both. What can be one mixed number is one: ``1-1/4 gal``.

    Args:
        text: As typed.
        kind: What is measured.
        doubt: Half-width of a bare number by its value, both canonical.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no such reading, or runs from more to less.
    """
    middle, *widths = _GIVE_OR_TAKE.split(text.strip(), maxsplit=1) if len(text) <= LONGEST_TEXT else [text]
    if widths:
        value, width = _in_one_unit(middle, widths[0], kind, default_unit)
        # A width has no zero of its own: 2 degrees Fahrenheit of doubt are 1.1 of Celsius.
        doubt_there = float(width.exact + width.unit.zero * width.unit.factor)
        if doubt_there < 0:
            raise MeasureError(text, "has a doubt below zero", middle.strip())
        return Range.around(value.value, doubt_there)
    try:
        one = parse_quantity(text, kind, default_unit=default_unit).value
    except MeasureError as refusal:
        return _from_to(text, kind, default_unit, refusal)
    return Range.around(one, doubt(one))


def _from_to(text: str, kind: Kind, default_unit: Unit | None, refusal: MeasureError) -> Range:
    for low_text, high_text in _splits(text):
        low, high = _in_one_unit(low_text, high_text, kind, default_unit)
        if low.exact > high.exact:
            raise MeasureError(text, "runs from more to less", f"{high_text.strip()} to {low_text.strip()}")
        return Range(low.value, high.value)
    raise refusal


def _splits(text: str) -> Iterator[tuple[str, str]]:
    """Yield the places where the text falls into two readings, each of which begins with a figure."""
    if len(text) > LONGEST_TEXT:
        return
    for match in _UP_TO.finditer(text):
        ends = text[: match.start()], text[match.end() :]
        if all(re.match(r"\s*-?[.,]?[0-9]", end) for end in ends):
            yield ends


def _in_one_unit(first: str, second: str, kind: Kind, default_unit: Unit | None) -> tuple[Amount, Amount]:
    any_unit = next(unit for unit in UNITS if unit.kind is kind)
    read = [parse_quantity(text, kind, default_unit=default_unit or any_unit) for text in (first, second)]
    given = next((one.unit for one in reversed(read) if one.unit_given), default_unit)
    one, other = (parse_quantity(text, kind, default_unit=given) for text in (first, second))
    return one, other
