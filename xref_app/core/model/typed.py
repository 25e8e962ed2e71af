"""A plain value of a field turned into what the model holds: a dimension, a fact, a pattern or seats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import is_dataclass
from enum import StrEnum
from functools import cache
from typing import get_args, get_type_hints

from xref_app.core.fields.fields import Field, Kind
from xref_app.core.model.known import Dimension, Fact, Hole, How, Known, Pattern, Seats
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump

# A value as JSON or a parsed text gives it.
Plain = float | str | bool | Sequence[float] | Sequence[Sequence[float]]

_ROOTS: dict[str, type] = {"machine": Machine, "pump": Pump}


def typed(field: Field, plain: Plain, *, how: How = How.MEASURED, doubt: float | None = None) -> Known:
    """Return ``plain`` as the model holds it.

    Args:
        field: Says what kind of value it is, in which unit, and the doubt of a bare number.
        plain: A number in the field's unit; a word; hole centres (x, y[, slot length, slot direction]); heights;
            sectors (from, to); yes or no. Already checked against the schema.
        how: How it is known.
        doubt: Half-width in the field's unit; None takes the field's default.
    """
    width = field.default_doubt if doubt is None else doubt
    match field.kind:
        case Kind.NUMBER:
            return Dimension(_number(plain), width, how)
        case Kind.HOLES:
            return Pattern(tuple(Hole(*row) for row in _rows(plain)), width, how)
        case Kind.HEIGHTS:
            return Seats(tuple(_numbers(plain)), width, how)
        case Kind.SECTORS:
            return Fact(tuple((row[0], row[1]) for row in _rows(plain)), how)
        case Kind.WORD:
            return Fact(word_type(field.case_field)(str(plain)), how)
        case Kind.THREAD | Kind.YES_NO:
            return Fact(plain, how)


@cache
def word_type(case_field: str) -> type[StrEnum]:
    """Return the closed list of words that the slot at ``case_field`` takes, read off the model's own annotation."""
    root, *names = case_field.split(".")
    here: object = _ROOTS[root]
    for name in names:
        here = get_type_hints(here)[name]
    (fact,) = (kind for kind in get_args(here) if kind is not type(None))
    (words,) = get_args(fact)
    return words  # type: ignore[no-any-return]  # get_args cannot tell; a test walks every word field


def is_group(hint: object) -> bool:
    """Say whether a slot of the model holds further slots rather than a value."""
    return isinstance(hint, type) and is_dataclass(hint)


def _number(plain: Plain) -> float:
    if isinstance(plain, bool) or not isinstance(plain, int | float):
        raise TypeError(f"a number was expected, not {plain!r}")
    return float(plain)


def _numbers(plain: Plain) -> list[float]:
    if isinstance(plain, str) or not isinstance(plain, Sequence):
        raise TypeError(f"a list of numbers was expected, not {plain!r}")
    return [float(one) for one in plain if isinstance(one, int | float)]


def _rows(plain: Plain) -> list[list[float]]:
    if isinstance(plain, str) or not isinstance(plain, Sequence):
        raise TypeError(f"a list of rows was expected, not {plain!r}")
    return [_numbers(row) for row in plain if isinstance(row, Sequence)]
