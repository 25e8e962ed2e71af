"""Numbers inside sentences, worded the same everywhere."""

from xref_app.core.fit.finding import Quantity
from xref_app.core.quantity.range import Range


def mm(value: Range) -> Quantity:
    """Return ``value`` as millimetres to show."""
    return Quantity(value, "mm")


def span(value: Range, digits: int = 2) -> str:
    """Return the range in words: one number where its limits round alike, else 'low to high'."""
    low, high = f"{value.low:.{digits}f}", f"{value.high:.{digits}f}"
    return low if low == high else f"{low} to {high}"
