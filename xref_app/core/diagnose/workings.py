"""What the measurements work out to, each result with its whole sum in words."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence


@dataclass(frozen=True, slots=True)
class Working:
    """One result, in the unit that its name in ``Workings`` tells; ``said`` is the whole sum in words."""

    value: Range
    said: Sentence
    source: str


@dataclass(frozen=True, slots=True)
class Workings:
    """Everything that the measurements at hand let us compute; None where one is missing.

    Attributes:
        delivered_lpm: From the fitted nozzle.
        open_lpm: With the nozzle off.
        supplied_lpm: At the end of the supply hose.
        due_lpm: What the plate promises at the speed read.
        held_share: Delivered over due.
        open_share: Delivered with the nozzle off, over due.
        plate_share: Delivered over the plate, whatever the speed; only where ``held_share`` is None.
        slip_lpm: Due less delivered; below zero where it delivers more than its plate says.
        slip_at_rated_share: The share of the flow that slips at the rated pressure, never less than was read.
        expected_bar: What the fitted nozzle makes of the delivered flow.
        at_nozzle_bar: The gauge less what hose, gun and wand take.
        effective_number: The nozzle number that flow and pressure go with.
        nozzle_share: ``effective_number`` over the fitted one.
        plate_nozzle_share: What the fitted nozzle makes of the plate's flow, over the plate's pressure.
        pressure_share: Gauge over rated pressure.
        shut_share: Pressure with the trigger shut over rated pressure.
        supply_share: Supplied over what the pump takes.
        speed_share: Speed over rated speed.
        fall_share: What is lost between the open end and the nozzle, over the former.
    """

    delivered_lpm: Working | None = None
    open_lpm: Working | None = None
    supplied_lpm: Working | None = None
    due_lpm: Working | None = None
    held_share: Working | None = None
    open_share: Working | None = None
    plate_share: Working | None = None
    slip_lpm: Working | None = None
    slip_at_rated_share: Working | None = None
    expected_bar: Working | None = None
    at_nozzle_bar: Working | None = None
    effective_number: Working | None = None
    nozzle_share: Working | None = None
    plate_nozzle_share: Working | None = None
    pressure_share: Working | None = None
    shut_share: Working | None = None
    supply_share: Working | None = None
    speed_share: Working | None = None
    fall_share: Working | None = None

    def sums(self) -> tuple[Working, ...]:
        """Return what there is, in the order in which it is worked out, no sum twice."""
        found = (getattr(self, name) for name in self.__dataclass_fields__)
        return tuple({str(one.said): one for one in found if one is not None}.values())
