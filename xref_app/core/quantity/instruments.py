"""What a shop measures with, and how far each may be off."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from xref_app.core.quantity.readings import ReadingError

SOURCE = "house rule"


class Instrument(StrEnum):
    """One kind of instrument, used in one way."""

    CALIPER_OUTSIDE = "caliper, outside jaws"
    CALIPER_INSIDE = "caliper, inside jaws"
    CALIPER_DEPTH = "caliper, depth rod"
    MICROMETER = "micrometer"
    STEEL_RULE = "steel rule"
    STRAIGHTEDGE_AND_FEELER = "straightedge and feeler"
    THREAD_GAUGE = "thread gauge"
    ANGLE_GAUGE = "angle gauge"
    PRESSURE_GAUGE = "pressure gauge"
    BUCKET_AND_WATCH = "bucket and watch"
    TACHOMETER = "tachometer"
    THERMOMETER = "thermometer"


@dataclass(frozen=True, slots=True)
class Doubt:
    """How far a reading may be off: ``least`` in ``unit``, or ``share`` of the reading where that is more."""

    unit: str
    least: float
    share: float = 0.0


# House rules, all of them. Calipers, depth and feeler as in the design; a leaf of a thread gauge that seems to fit may
# be the next one where pitches lie 0.02 mm apart (M8 and 20 per inch), so it leaves both. Cheap dial gauges of pressure
# are made to a share of their full scale, which nobody types in: 3 % of the reading and 5 bar stand for it.
DOUBTS: Mapping[Instrument, Doubt] = {
    Instrument.CALIPER_OUTSIDE: Doubt("mm", 0.05),
    Instrument.CALIPER_INSIDE: Doubt("mm", 0.10),
    Instrument.CALIPER_DEPTH: Doubt("mm", 0.10),
    Instrument.MICROMETER: Doubt("mm", 0.01),
    Instrument.STEEL_RULE: Doubt("mm", 0.5),
    Instrument.STRAIGHTEDGE_AND_FEELER: Doubt("mm", 0.05),
    Instrument.THREAD_GAUGE: Doubt("mm", 0.02),
    Instrument.ANGLE_GAUGE: Doubt("deg", 2.0),
    Instrument.PRESSURE_GAUGE: Doubt("bar", 5.0, share=0.03),
    Instrument.BUCKET_AND_WATCH: Doubt("lpm", 0.3, share=0.05),
    Instrument.TACHOMETER: Doubt("rpm", 10.0, share=0.005),
    Instrument.THERMOMETER: Doubt("c", 2.0),
}


def doubt_of(instrument: Instrument, *, reading: float = 0.0, shop: Mapping[Instrument, float] | None = None) -> float:
    """Return the doubt (half-width) of one reading, in the unit of ``DOUBTS[instrument]``.

    Args:
        instrument: What it was read with, and how.
        reading: The reading, for those instruments whose doubt grows with it.
        shop: The shop's own doubts, which go before ours whatever the reading.

    Raises:
        ReadingError: the shop's doubt is no number or below zero.
    """
    own = (shop or {}).get(instrument)
    if own is None:
        doubt = DOUBTS[instrument]
        return max(doubt.least, doubt.share * abs(reading))
    if not (math.isfinite(own) and own >= 0):
        raise ReadingError(f"The shop's doubt of {own:g} for {instrument} is no half-width; give 0 or more.")
    return own
