"""What the shop has seen, tried and measured so far, every item optional."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

from xref_app.core.diagnose.words import (
    FlowBack,
    GaugePlace,
    Leak,
    Noise,
    Nozzle,
    Oil,
    Part,
    Relief,
    Screen,
    SuctionAir,
    Symptom,
    Try,
)
from xref_app.core.errors import XrefError
from xref_app.core.quantity.range import Range


class EvidenceError(XrefError):
    """Evidence that cannot be used as it stands; the text says what was found, why not, and what to do."""


@dataclass(frozen=True, slots=True)
class Bucket:
    """A bucket filled against the clock.

    Attributes:
        volume_l: What was caught, L.
        seconds: How long it took, s.
    """

    volume_l: Range
    seconds: Range

    def __post_init__(self) -> None:
        if not (math.isfinite(self.volume_l.high) and self.volume_l.low >= 0):
            raise EvidenceError("A bucket holds 0 litres or more; read its mark again.")
        if not (math.isfinite(self.seconds.high) and self.seconds.low > 0):
            raise EvidenceError("A bucket takes more than 0 seconds to fill; time it again.")

    @property
    def flow_lpm(self) -> Range:
        """Return the flow, L/min: 60 · volume / time."""
        return self.volume_l * 60 / self.seconds


@dataclass(frozen=True, slots=True)
class Evidence:
    """All that is known; None means that nobody looked, and then it counts as anything it could be.

    Attributes:
        symptoms: What the machine does.
        taken_while_bad: Whether the measurements were taken while it did that.
        gauge_bar: Pressure with the trigger open and the fitted nozzle, bar.
        gauge_place: Where that gauge stood.
        shut_bar: Pressure with the trigger shut, bar.
        bucket: From the fitted nozzle, trigger open.
        open_bucket: The same with the nozzle taken off.
        supply_bucket: From the end of the supply hose, off the pump, tap full open.
        supply_c: Temperature of the water supplied, °C.
        nozzle_number: Number of the fitted nozzle: US gpm at 4000 psi.
        nozzle: How it looks and sprays.
        rated_lpm: Flow on the pump's plate, L/min.
        rated_bar: Pressure on the pump's plate, bar.
        rated_rpm: Speed that the plate gives them at, rpm.
        shaft_rpm: Speed of the pump's shaft while it sprays, rpm; the engine's on a direct drive.
        screen: The inlet screen.
        suction_air: Air in the water drawn.
        flow_back: Whether the unloader lets water back with the trigger open.
        relief: The thermal relief valve.
        leak: Where water comes out.
        oil: The pump's oil.
        noise: What it sounds like.
        low_pressure_nozzle: Whether the nozzle for the chemical injector is in.
        bypass_minutes: Longest time it was left running with the trigger shut, min.
        stood_in_frost: Whether it stood with water in it in frost.
        cured_by: What was changed or put right, after which the machine ran right.
        no_change_by: What was changed or put right, after which it ran as before.
        cannot_say: What was looked at or tried without anything to be said of it; it is not asked for again.
    """

    symptoms: frozenset[Symptom] = frozenset()
    taken_while_bad: bool | None = None
    gauge_bar: Range | None = None
    gauge_place: GaugePlace | None = None
    shut_bar: Range | None = None
    bucket: Bucket | None = None
    open_bucket: Bucket | None = None
    supply_bucket: Bucket | None = None
    supply_c: Range | None = None
    nozzle_number: Range | None = None
    nozzle: Nozzle | None = None
    rated_lpm: Range | None = None
    rated_bar: Range | None = None
    rated_rpm: Range | None = None
    shaft_rpm: Range | None = None
    screen: Screen | None = None
    suction_air: SuctionAir | None = None
    flow_back: FlowBack | None = None
    relief: Relief | None = None
    leak: Leak | None = None
    oil: Oil | None = None
    noise: Noise | None = None
    low_pressure_nozzle: bool | None = None
    bypass_minutes: Range | None = None
    stood_in_frost: bool | None = None
    cured_by: frozenset[Part] = frozenset()
    no_change_by: frozenset[Part] = frozenset()
    cannot_say: frozenset[Try] = frozenset()

    def __post_init__(self) -> None:
        for item in fields(self):
            value = getattr(self, item.name)
            if isinstance(value, Range):
                _refuse_unless_possible(item.name, value)
        both = self.cured_by & self.no_change_by
        if both:
            raise EvidenceError(f"“{min(both)}” cannot have cured it and changed nothing; keep one of the two.")


# What may be nothing at all; everything else on this list of figures is above zero.
_MAY_BE_ZERO = frozenset({"gauge_bar", "shut_bar", "bypass_minutes", "shaft_rpm"})
_MAY_BE_BELOW_ZERO = frozenset({"supply_c"})


def _refuse_unless_possible(name: str, reading: Range) -> None:
    if not (math.isfinite(reading.low) and math.isfinite(reading.high)):
        raise EvidenceError(f"{_spoken(name)} is not a finite number; measure it again.")
    if name in _MAY_BE_BELOW_ZERO:
        return
    if reading.low < 0 or (reading.low == 0 and name not in _MAY_BE_ZERO):
        least = "0 or more" if name in _MAY_BE_ZERO else "above 0"
        raise EvidenceError(f"{_spoken(name)} as read can be {reading.low:g}, and must be {least}; measure it again.")


def _spoken(name: str) -> str:
    return f"The item {name.replace('_', ' ')}"
