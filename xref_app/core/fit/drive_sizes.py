"""What a measured shaft or bore may be: the standard sizes that meet the readings, or the raw readings.

A caliper's doubt is wider than a running fit. Features made in standard sizes therefore stand for every standard
size whose limits meet the reading; the judge looks at each. A shaft with its key, and a bore with its keyway, are
taken as pairs of one table, so that the width of the key settles what the diameter leaves open.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Shaft
from xref_app.core.model.pump import Bore
from xref_app.core.quantity.range import Range
from xref_app.core.standards.key_widths import StandardWidth, widths_meeting_key, widths_meeting_keyway
from xref_app.core.standards.keys import KeyedPair, pairs_meeting_bore, pairs_meeting_shaft
from xref_app.core.standards.shaft_sizes import sizes_meeting_bore, sizes_meeting_shaft


@dataclass(frozen=True, slots=True)
class KeyWidth:
    """A key's or keyway's width: a standard one (exact, with its label), or the raw reading (label empty)."""

    width_mm: Range
    label: str = ""


@dataclass(frozen=True, slots=True)
class Size:
    """One thing the readings of a shaft or bore may stand for.

    ``diameter_mm`` is already narrowed to what standard and reading share; ``pair`` is set where diameter and key are
    one row of a table; ``width`` is None while the key or keyway has not been measured, or was read so coarsely that
    several widths of the pair's own table meet the reading.
    """

    label: str
    diameter_mm: Range
    nominal_mm: float
    width: KeyWidth | None
    pair: KeyedPair | None = None


def shaft_sizes(shaft: Shaft) -> tuple[Size, ...]:
    """Return everything the shaft's diameter and key width may stand for; empty while no diameter is known."""
    return _sizes(shaft.diameter_mm, shaft.key_width_mm, _SHAFT)


def bore_sizes(bore: Bore) -> tuple[Size, ...]:
    """Return everything the bore's diameter and keyway width may stand for; empty while no diameter is known."""
    return _sizes(bore.diameter_mm, bore.keyway_width_mm, _BORE)


@dataclass(frozen=True, slots=True)
class _Side:
    """Which limits count on one side of the fit."""

    pairs: Callable[[Range, Range | None], Sequence[KeyedPair]]
    pair_diameter: Callable[[KeyedPair], Range]
    alone: Callable[[Range], Sequence[Size]]
    widths: Callable[[Range], Sequence[StandardWidth]]


def _shafts_alone(reading: Range) -> Sequence[Size]:
    return [
        Size(size.label, _shared(size.shaft_mm, reading), size.diameter_mm, None)
        for size in sizes_meeting_shaft(reading)
    ]


def _bores_alone(reading: Range) -> Sequence[Size]:
    return [
        Size(size.label, _shared(size.bore_mm, reading), size.diameter_mm, None) for size in sizes_meeting_bore(reading)
    ]


_SHAFT = _Side(pairs_meeting_shaft, lambda pair: pair.shaft_mm, _shafts_alone, widths_meeting_key)
_BORE = _Side(pairs_meeting_bore, lambda pair: pair.bore_mm, _bores_alone, widths_meeting_keyway)


def _sizes(diameter: Dimension | None, width: Dimension | None, side: _Side) -> tuple[Size, ...]:
    if diameter is None:
        return ()
    reading = diameter.range
    pairs = side.pairs(reading, None if width is None else width.range)
    if pairs:
        return tuple(_paired(pair, reading, width, side) for pair in pairs)
    alone = side.alone(reading) or [Size("", reading, reading.middle, None)]
    return tuple(
        Size(size.label, size.diameter_mm, size.nominal_mm, one_width)
        for size, one_width in product(alone, _widths(width, side))
    )


def _paired(pair: KeyedPair, diameter: Range, width: Dimension | None, side: _Side) -> Size:
    key = KeyWidth(Range.exactly(pair.key_width_mm), _width_label(pair)) if _settles_width(width, pair, side) else None
    return Size(pair.label, _shared(side.pair_diameter(pair), diameter), pair.diameter_mm, key, pair)


def _settles_width(width: Dimension | None, pair: KeyedPair, side: _Side) -> bool:
    """Say whether a width was read finely enough to tell the widths of the pair's table apart: else it is not known."""
    return width is not None and sum(one.system == pair.system for one in side.widths(width.range)) == 1


def _widths(width: Dimension | None, side: _Side) -> Sequence[KeyWidth | None]:
    if width is None:
        return [None]
    standard = [KeyWidth(Range.exactly(one.width_mm), one.label) for one in side.widths(width.range)]
    return standard or [KeyWidth(width.range)]


def _width_label(pair: KeyedPair) -> str:
    return next(iter(one.label for one in widths_meeting_key(Range.exactly(pair.key_width_mm))), "")


def _shared(limits: Range, reading: Range) -> Range:
    shared = limits.overlap_or_none(reading)
    return limits if shared is None else shared
