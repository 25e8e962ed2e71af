"""Standard shafts with their keys and hubs with their keyways, taken as pairs: ASME B17.1 and ISO 773."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import as_fraction, as_printed, inch_mm
from xref_app.core.standards.limits import limits_mm
from xref_app.core.standards.table_files import inch_limits_mm, metric_limits_mm, spread_of, table_rows

INCH_TABLE = "ASME B17.1"
METRIC_TABLE = "ISO 773"
# C of B17.1: the room over the key that the hub's keyway floor is cut deeper by.
CLEARANCE_OVER_KEY_IN = Fraction(5, 1000)

_SMALLEST_IN, _LARGEST_IN, _STEP_IN = Fraction(3, 8), Fraction(2), Fraction(1, 16)
_METRIC_SIZES_MM = range(8, 51)


@dataclass(frozen=True, slots=True)
class KeyedPair:
    """One standard shaft with its key, and the bore with the keyway made for it. All sizes in mm.

    ``shaft_mm`` is h9 and ``bore_mm`` H9 of ISO 286 (house rule for both systems: the key standards give no shaft
    limits). ``key_width`` and ``key_height`` are the limits of the key. ``keyway_width`` are the limits of the hub's
    keyway: class 1 of B17.1; of ISO 773 everything from the normal fit (JS9) to the free one (D10), the tight fit (P9)
    left out. ``keyseat_floor_mm``, ``key_top_mm`` and ``keyway_floor_mm`` all run from the far side of the shaft or
    bore: to the floor of the shaft's keyseat, to the top of the key lying in it, to the floor of the hub's keyway.
    ``known_key_top_mm`` is ``key_top_mm`` without what is from memory: how much lower than its nominal height a metric
    key may be is not known there, so only the keyseat's floor bounds it from below. Verdicts use that one.
    """

    table: str
    label: str
    system: str
    diameter_mm: float
    key_width_mm: float
    key_height_mm: float
    shaft_mm: Range
    bore_mm: Range
    key_width: Range
    key_height: Range
    keyway_width: Range
    keyseat_floor_mm: Range
    key_top_mm: Range
    known_key_top_mm: Range
    keyway_floor_mm: Range
    source: str
    confidence: str


@cache
def keyed_pairs() -> tuple[KeyedPair, ...]:
    """Return every standard pair: 3/8 to 2 in by 1/16, square keys; then 8 to 50 mm by 1 mm, deep form.

    Source: ASME B17.1 (two reprints agree on sizes and depths; one source for the class 1 tolerances); ISO 773 and
    DIN 6885-1 (two tables agree on sizes and depths; one source for depth tolerances and keyway zones; the zone of the
    key's height, h9 square and h11 rectangular, is from memory and sets only ``key_height.low`` and
    ``key_top_mm.low``). That sixteenths and whole millimetres are the sizes a shaft is made in is a house rule.
    """
    steps = int((_LARGEST_IN - _SMALLEST_IN) / _STEP_IN)
    inch = tuple(_inch_pair(_SMALLEST_IN + step * _STEP_IN) for step in range(steps + 1))
    return inch + tuple(_metric_pair(size_mm) for size_mm in _METRIC_SIZES_MM)


def pairs_meeting_shaft(
    diameter_mm: Range, key_width_mm: Range | None = None, key_top_mm: Range | None = None
) -> tuple[KeyedPair, ...]:
    """Return the pairs whose shaft, key width and height over the key can all be what was read.

    Args:
        diameter_mm: The shaft as read, mm.
        key_width_mm: The key as read, mm; None where it was not.
        key_top_mm: From the far side of the shaft to the top of the key, as read, mm; None where it was not.
    """
    return tuple(
        pair
        for pair in keyed_pairs()
        if pair.shaft_mm.meets(diameter_mm)
        and (key_width_mm is None or pair.key_width.meets(key_width_mm))
        and (key_top_mm is None or pair.known_key_top_mm.meets(key_top_mm))
    )


def pairs_meeting_bore(
    diameter_mm: Range, keyway_width_mm: Range | None = None, keyway_floor_mm: Range | None = None
) -> tuple[KeyedPair, ...]:
    """Return the pairs whose bore, keyway width and keyway floor can all be what was read.

    Args:
        diameter_mm: The bore as read, mm.
        keyway_width_mm: The keyway as read, mm; None where it was not.
        keyway_floor_mm: From the far side of the bore to the floor of the keyway, as read, mm; None where it was not.
    """
    return tuple(
        pair
        for pair in keyed_pairs()
        if pair.bore_mm.meets(diameter_mm)
        and (keyway_width_mm is None or pair.keyway_width.meets(keyway_width_mm))
        and (keyway_floor_mm is None or pair.keyway_floor_mm.meets(keyway_floor_mm))
    )


def chord_height_in(*, shaft_in: Fraction, key_width_in: Fraction) -> Fraction:
    """Return y of B17.1, inches: how far the shaft's surface drops from its crown to the edge of the keyseat."""
    root = math.sqrt(shaft_in**2 - key_width_in**2)
    return (shaft_in - Fraction(root)) / 2


def shaft_floor_in(*, shaft_in: Fraction, key_width_in: Fraction, key_height_in: Fraction) -> Fraction:
    """Return S of B17.1, inches: from the far side of the shaft to the floor of the keyseat, S = D - H/2 - y."""
    return shaft_in - key_height_in / 2 - chord_height_in(shaft_in=shaft_in, key_width_in=key_width_in)


def hub_floor_in(*, shaft_in: Fraction, key_width_in: Fraction, key_height_in: Fraction) -> Fraction:
    """Return T of B17.1, inches: far side of the bore to the floor of the keyway, T = D + H/2 - y + C."""
    chord_in = chord_height_in(shaft_in=shaft_in, key_width_in=key_width_in)
    return shaft_in + key_height_in / 2 - chord_in + CLEARANCE_OVER_KEY_IN


def _covering(rows: tuple[Mapping[str, str], ...], size: Fraction, *, over: str, to_incl: str) -> Mapping[str, str]:
    return next(row for row in rows if as_fraction(row[over]) < size <= as_fraction(row[to_incl]))


def _inch_pair(shaft_in: Fraction) -> KeyedPair:
    key = _covering(table_rows("keys_inch_ranges"), shaft_in, over="shaft_over_in", to_incl="shaft_to_incl_in")
    width_in, height_in = as_fraction(key["key_width_in"]), as_fraction(key["key_height_in"])
    fit = _covering(
        table_rows("keys_inch_tolerances"), width_in, over="key_width_over_in", to_incl="key_width_to_incl_in"
    )
    height = inch_limits_mm(height_in, fit["key_height_tol_in"])
    sizes = {"shaft_in": shaft_in, "key_width_in": width_in, "key_height_in": height_in}
    floor = inch_limits_mm(shaft_floor_in(**sizes), fit["shaft_floor_tol_in"])
    diameter_mm = inch_mm(shaft_in)
    return KeyedPair(
        table=INCH_TABLE,
        label=f"{as_printed(shaft_in)} in",
        system="inch",
        diameter_mm=diameter_mm,
        key_width_mm=inch_mm(width_in),
        key_height_mm=inch_mm(height_in),
        shaft_mm=limits_mm("h9", diameter_mm),
        bore_mm=limits_mm("H9", diameter_mm),
        key_width=inch_limits_mm(width_in, fit["key_width_tol_in"]),
        key_height=height,
        keyway_width=inch_limits_mm(width_in, fit["keyway_width_tol_in"]),
        keyseat_floor_mm=floor,
        key_top_mm=floor + height,
        known_key_top_mm=floor + height,
        keyway_floor_mm=inch_limits_mm(hub_floor_in(**sizes), fit["hub_floor_tol_in"]),
        source=key["source"],
        confidence=f"{key['confidence']} for sizes and depths; {fit['confidence']} for tolerances",
    )


def _metric_pair(shaft_mm: int) -> KeyedPair:
    key = _covering(table_rows("keys_metric"), Fraction(shaft_mm), over="shaft_over_mm", to_incl="shaft_to_incl_mm")
    width_mm, height_mm = float(key["key_width_mm"]), float(key["key_height_mm"])
    # Published heights are the highest; only how far below them a key may lie is from memory.
    height = Range(min(limits_mm(key["key_height_zone"], height_mm).low, height_mm), height_mm)
    # A keyseat cut deeper leaves less shaft: its tolerance counts downwards from d - t1.
    shallow, deep = spread_of(key["shaft_depth_tol_mm"])
    floor_mm = shaft_mm - as_fraction(key["shaft_depth_t1_mm"])
    floor = Range(float(floor_mm - deep), float(floor_mm - shallow))
    free, normal = limits_mm(key["free_hub_zone"], width_mm), limits_mm(key["normal_hub_zone"], width_mm)
    return KeyedPair(
        table=METRIC_TABLE,
        label=f"{shaft_mm} mm",
        system="metric",
        diameter_mm=float(shaft_mm),
        key_width_mm=width_mm,
        key_height_mm=height_mm,
        shaft_mm=limits_mm("h9", shaft_mm),
        bore_mm=limits_mm("H9", shaft_mm),
        key_width=limits_mm(key["key_width_zone"], width_mm),
        key_height=height,
        keyway_width=Range(normal.low, free.high),
        keyseat_floor_mm=floor,
        key_top_mm=floor + height,
        known_key_top_mm=Range(floor.low, floor.high + height_mm),
        keyway_floor_mm=metric_limits_mm(shaft_mm + as_fraction(key["hub_depth_t2_mm"]), key["hub_depth_tol_mm"]),
        source=key["source"],
        confidence=key["confidence"],
    )
