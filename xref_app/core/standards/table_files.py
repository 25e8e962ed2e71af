"""The CSV files beside this module: values as printed, a source and a confidence on every row."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from importlib.resources import files

from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import INCH_IN_MM

FROM_MEMORY = "from memory"


@cache
def table_rows(name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of the file ``name`` (without ``.csv``) in file order, by column name."""
    text = (files(__package__) / "tables" / f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def decides(confidence: str) -> bool:
    """Say whether a verdict may rest on a row of that confidence: a row from memory is a hint and decides nothing.

    A row that is from memory in some columns only names them (``from memory for limits``); its loader knows them.
    """
    return not confidence.startswith(FROM_MEMORY)


def spread_of(tolerance: str) -> tuple[Fraction, Fraction]:
    """Return the lower and the upper deviation of a printed tolerance such as ``+0.000/-0.002`` or ``+0.1/0``."""
    first, second = (Fraction(part) for part in tolerance.split("/"))
    return min(first, second), max(first, second)


def inch_limits_mm(size_in: Fraction, tolerance_in: str) -> Range:
    """Return the limits of ``size_in`` with a printed inch tolerance, mm."""
    lower, upper = spread_of(tolerance_in)
    return Range(float((size_in + lower) * INCH_IN_MM), float((size_in + upper) * INCH_IN_MM))


def metric_limits_mm(size_mm: Fraction, tolerance_mm: str) -> Range:
    """Return the limits of ``size_mm`` with a printed metric tolerance, mm."""
    lower, upper = spread_of(tolerance_mm)
    return Range(float(size_mm + lower), float(size_mm + upper))
