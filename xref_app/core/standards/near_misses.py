"""Look-alikes: pairs of threads, shafts, keys and patterns that pass for each other and do not fit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from xref_app.core.standards.table_files import decides, table_rows
from xref_app.core.standards.threads import thread_row_or_none

_SPACES = re.compile(r"\s+")


@dataclass(frozen=True, slots=True)
class LookAlike:
    """One half of a pair; ``size_mm`` is what a caliper reads of it, pitch and angle are None where there are none.

    Of a thread the size is the major diameter (of NPT the pipe's outside diameter); ``taper`` is ``none`` or ``1:16``,
    for a pipe thread that has both it says which; empty for what is no thread.
    """

    name: str
    size_mm: float
    pitch_mm: float | None
    angle_deg: float | None
    taper: str


@dataclass(frozen=True, slots=True)
class NearMiss:
    """Two things that pass for each other, why they do, why they do not fit, and what to do about it.

    ``kind`` is thread, shaft, key, flange or coupling. ``decides`` is False where the pair rests on memory.
    """

    kind: str
    item: LookAlike
    other: LookAlike
    looks_alike_because: str
    why_it_fails: str
    rule: str
    decides: bool
    source: str
    checked_against: str
    confidence: str

    @property
    def size_difference_mm(self) -> float:
        """Return how much larger ``item`` is than ``other``, mm."""
        return self.item.size_mm - self.other.size_mm


@cache
def near_misses() -> tuple[NearMiss, ...]:
    """Return every pair once, in the table's order.

    Source: the standards named on each row, which give both halves; that they are mixed up is common practice.
    """
    return tuple(_near_miss(row) for row in table_rows("near_misses"))


def near_misses_of(item: str) -> tuple[NearMiss, ...]:
    """Return the pairs that ``item`` is half of, turned so that it comes first; empty where none is known.

    Args:
        item: A thread as a table or a person writes it (``1/2-14 NPT``, ``5/16-24``, ``M8``), a shaft (``3/4 in``,
            ``19 mm``), a key or pattern as a row names it. Case and spacing do not matter.
    """
    return _by_name().get(_folded(item), ())


@cache
def _by_name() -> Mapping[str, tuple[NearMiss, ...]]:
    found: dict[str, tuple[NearMiss, ...]] = {}
    for pair in near_misses():
        for turned in (pair, replace(pair, item=pair.other, other=pair.item)):
            name = _folded(turned.item.name)
            found[name] = (*found.get(name, ()), turned)
    return found


def _folded(name: str) -> str:
    thread = thread_row_or_none(name)
    return _SPACES.sub("", thread.designation if thread else name).replace("×", "x").casefold()


def _near_miss(row: Mapping[str, str]) -> NearMiss:
    return NearMiss(
        kind=row["kind"],
        item=_look_alike(row, "a"),
        other=_look_alike(row, "b"),
        looks_alike_because=row["looks_alike_because"],
        why_it_fails=row["why_it_fails"],
        rule=row["rule"],
        decides=decides(row["confidence"]),
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )


def _look_alike(row: Mapping[str, str], half: str) -> LookAlike:
    def number(column: str) -> float | None:
        return float(row[column]) if row[column] else None

    return LookAlike(
        name=row[f"item_{half}"],
        size_mm=float(row[f"size_{half}_mm"]),
        pitch_mm=number(f"pitch_{half}_mm"),
        angle_deg=number(f"angle_{half}_deg"),
        taper=row[f"taper_{half}"],
    )
