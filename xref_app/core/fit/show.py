"""Numbers and words inside sentences, worded the same everywhere."""

from math import ceil, floor

from xref_app.core.fit.finding import Quantity
from xref_app.core.model.words import Turn
from xref_app.core.quantity.range import Range

# A limit is moved by rounding only where it lies further beyond the last decimal than float sums go astray.
_SLIP = 1e-6

TURN_WORDS = {Turn.CW: "clockwise", Turn.CCW: "counter-clockwise", Turn.EITHER: "either way"}


def mm(value: Range) -> Quantity:
    """Return ``value`` as millimetres to show."""
    return Quantity(value, "mm")


def span(value: Range, digits: int = 2) -> str:
    """Return the range in words: one number where its limits round alike, else 'low to high'."""
    return _joined(f"{value.low:.{digits}f}", f"{value.high:.{digits}f}")


def rounded_up(value: float, digits: int = 2) -> str:
    """Return ``value`` never smaller than it is, for what must be made up for."""
    return f"{_up(value, digits):.{digits}f}"


def rounded_down(value: float, digits: int = 2) -> str:
    """Return ``value`` never larger than it is, for what falls short."""
    return f"{_down(value, digits):.{digits}f}"


def span_outside(value: Range, digits: int = 2) -> str:
    """Return a range of readings rounded away from its middle, so that nothing that may be is left out."""
    return _joined(f"{_down(value.low, digits):.{digits}f}", f"{_up(value.high, digits):.{digits}f}")


def span_inside(value: Range, digits: int = 2) -> str:
    """Return a range of what will do rounded towards its middle, so that whatever is read from it does."""
    low, high = _up(value.low, digits), _down(value.high, digits)
    return span(value, digits + 1) if low > high else _joined(f"{low:.{digits}f}", f"{high:.{digits}f}")


def _joined(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def _up(value: float, digits: int) -> float:
    return ceil(value * 10.0**digits - _SLIP) / 10.0**digits


def _down(value: float, digits: int) -> float:
    return floor(value * 10.0**digits + _SLIP) / 10.0**digits
