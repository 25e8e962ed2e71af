"""Hole positions, seat heights and free sectors: short rows of numbers with a ; between them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.numerals import split_numeral
from xref_app.core.quantity.show import plain_number
from xref_app.core.quantity.units import DEGREE, INCH, MM, Unit, unit_or_none
from xref_app.core.quantity.written import tidy

HOLES = "46 0; 0 46; -46 0; 0 -46"
HEIGHTS = "0; 0; 0; -2"
SECTORS = "0 90; 180 360"
# House rule: a face with more bolts than fit in this many characters is none of a pump's.
LONGEST_TEXT = 400
_FULL_TURN_DEG = 360
_ROUND, _SLOT = 2, 4

# A hole is (x mm, y mm) or (x mm, y mm, slot mm, slot degrees).
Row = tuple[float, ...]


def read_holes(text: str, *, default_unit: Unit = MM) -> tuple[Row, ...]:
    """Return the holes that ``text`` lists, n ≥ 1, each ``x y`` or ``x y slot_mm slot_deg``.

    Args:
        text: Like ``46 0; 0 46; -46 0; 0 -46``; one unit at the end (``in``) stands for all lengths.
        default_unit: mm or inch, where the text names none.

    Raises:
        MeasureError: a hole has another number of figures, or a figure cannot be read.
    """
    rows, unit = _rows(text, default_unit, instead=HOLES)
    if any(len(row) not in {_ROUND, _SLOT} for row in rows):
        raise MeasureError(text, "does not give x and y of every hole", HOLES)
    if any(len(row) == _SLOT and row[2] < 0 for row in rows):
        raise MeasureError(text, "has a slot shorter than nothing", HOLES)
    return tuple(_floats([*map(unit.to_canonical, row[:3]), *row[3:]]) for row in rows)


def read_heights(text: str, *, default_unit: Unit = MM) -> tuple[float, ...]:
    """Return the seat heights that ``text`` lists, mm, n ≥ 1, like ``0; 0; 0; -2``.

    Raises:
        MeasureError: a seat has more than one figure, or a figure cannot be read.
    """
    rows, unit = _rows(text, default_unit, instead=HEIGHTS)
    if any(len(row) != 1 for row in rows):
        raise MeasureError(text, "does not give one height for every seat", HEIGHTS)
    return tuple(float(unit.to_canonical(row[0])) for row in rows)


def read_sectors(text: str) -> tuple[tuple[float, float], ...]:
    """Return the sectors that ``text`` lists, each (from, to) in degrees from 0 to 360, like ``0 90; 180 360``.

    A sector whose end is below its start passes through 0.

    Raises:
        MeasureError: a sector lacks an end, ends where it starts, or lies outside one turn.
    """
    rows, _ = _rows(text, DEGREE, instead=SECTORS)
    if any(len(row) != _ROUND or row[0] == row[1] for row in rows):
        raise MeasureError(text, "does not give a start and an end of every sector", SECTORS)
    if any(not 0 <= end <= _FULL_TURN_DEG for row in rows for end in row):
        raise MeasureError(text, "leaves the turn from 0 to 360 degrees", SECTORS)
    return tuple((float(row[0]), float(row[1])) for row in rows)


def rows_text(rows: Iterable[Sequence[float]]) -> str:
    """Return rows of numbers as the one text that reads back as the same."""
    return "; ".join(" ".join(plain_number(one) for one in row) for row in rows)


def _floats(numbers: Iterable[Fraction]) -> Row:
    return tuple(float(one) for one in numbers)


def _rows(text: str, default_unit: Unit, *, instead: str) -> tuple[list[list[Fraction]], Unit]:
    plain = tidy(text, instead=instead, longest=LONGEST_TEXT)
    plain, unit = _unit_apart(plain, default_unit)
    pieces = plain.removesuffix(";").split(";")
    return [[_number(one, text, instead) for one in piece.split()] for piece in pieces], unit


def _unit_apart(plain: str, default_unit: Unit) -> tuple[str, Unit]:
    """Return the text without the unit at its end, and that unit."""
    for cut in range(len(plain)):
        unit = unit_or_none(plain[cut:])
        if unit is not None and unit.kind is default_unit.kind and unit in {MM, INCH, DEGREE}:
            return plain[:cut].rstrip(), unit
    return plain, default_unit


def _number(written: str, text: str, instead: str) -> Fraction:
    unsigned = written[1:] if written[0] in "+-" else written
    parts = split_numeral(unsigned, found=text, instead=instead)
    if parts is None or parts[1] or parts[0].bottom > 1:
        raise MeasureError(text, f"holds “{written}”, which is not a decimal number", instead)
    if parts[0].grouping_mark == ",":
        raise MeasureError(text, f"holds “{written}”, which can mean thousands", instead)
    return -parts[0].value if written.startswith("-") else parts[0].value
