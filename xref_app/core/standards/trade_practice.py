"""What the trade does and what safety asks for, with the figures commonly named: to be shown, not to judge by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref_app.core.standards.table_files import decides, table_rows


@dataclass(frozen=True, slots=True)
class Practice:
    """One fact of the trade: ``low`` to ``high`` in ``unit`` as commonly named, None where it has no figure.

    ``topic`` is one word (shaft, speed, ports, heat, supply, storage, assembly, maintenance, mount, spacer, power,
    compat, safety). ``decides`` is False where the fact is from memory.
    """

    topic: str
    item: str
    low: float | None
    high: float | None
    unit: str
    fact: str
    decides: bool
    source: str
    checked_against: str
    confidence: str


@cache
def practices() -> tuple[Practice, ...]:
    """Return every fact in the table's order.

    Source: common practice, no published source, except where the row names one (safety).
    """
    return tuple(_practice(row) for row in table_rows("trade_practice"))


def practices_about(topic: str) -> tuple[Practice, ...]:
    """Return the facts of one topic; empty where there is none."""
    return tuple(one for one in practices() if one.topic == topic)


def _practice(row: Mapping[str, str]) -> Practice:
    return Practice(
        topic=row["topic"],
        item=row["item"],
        low=float(row["value_low"]) if row["value_low"] else None,
        high=float(row["value_high"]) if row["value_high"] else None,
        unit=row["unit"],
        fact=row["fact"],
        decides=decides(row["confidence"]),
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
