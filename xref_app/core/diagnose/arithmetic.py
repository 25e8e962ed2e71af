"""The arithmetic: what the pump delivers, what its nozzle makes of it, and what is lost where."""

from __future__ import annotations

from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.house_rules import GUN_LOSS_SHARE, HOSE_LOSS_SHARE
from xref_app.core.diagnose.words import GaugePlace
from xref_app.core.diagnose.workings import Working, Workings
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import show_range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.hydraulics import nozzle_number_for, nozzle_pressure_bar

NOZZLE_SOURCE = "nozzle number: US gpm at 4000 psi, square-root law (trade nozzle charts)"
PLATE_SOURCE = "positive displacement: flow follows speed (textbook)"
BUCKET_SOURCE = "flow is volume over time"
SLIP_SOURCE = "slip grows with pressure (textbook, laminar leakage)"

DELIVERED = marked("diagnose", "Delivered: {volume} L in {seconds} s, times 60 s/min, is {flow}.")
OPEN_END = marked("diagnose", "With the nozzle off: {volume} L in {seconds} s, times 60 s/min, is {flow}.")
SUPPLIED = marked("diagnose", "Supplied: {volume} L in {seconds} s, times 60 s/min, is {flow}.")
DUE = marked("diagnose", "Due at this speed: {rated} times {speed} over {rated_speed} is {flow}.")
HELD = marked("diagnose", "Delivered over due: {delivered} over {due} is {percent} %.")
OPEN_HELD = marked("diagnose", "Delivered with the nozzle off over due: {delivered} over {due} is {percent} %.")
PLATE = marked("diagnose", "Delivered over the plate: {delivered} over {rated} is {percent} %; the speed is not known.")
SLIP = marked("diagnose", "Pump slip: {due} due less {delivered} delivered is {flow}, or {percent} % of what is due.")
SLIP_AT_RATED = marked(
    "diagnose", "Slip at the rated pressure, at most: {percent} % times {rated} over {gauge} is {result} %."
)
SLIP_AT_RATED_FAST = marked(
    "diagnose",
    "Slip at the rated pressure, at most: {percent} % times {rated} over {gauge}, and times the {fast} % of its rated "
    "speed it runs at, is {result} %.",
)
EXPECTED = marked(
    "diagnose", "Expected at the nozzle: 275.79 bar times ({flow} over {number} times 3.785 lpm) squared is {pressure}."
)
AT_NOZZLE = marked(
    "diagnose", "At the nozzle: {gauge} read {place}, less up to {loss:.0f} % on the way, is {pressure}."
)
EFFECTIVE = marked(
    "diagnose", "Nozzle as it acts: {flow} over 3.785 lpm, times the root of 275.79 bar over {pressure}, is {number}."
)
MARGIN = marked("diagnose", "Supply margin: {supplied} supplied over {taken} taken is {times} times.")
SPEED = marked("diagnose", "Speed: {speed} over {rated_speed} rated is {percent} %.")
FALL = marked("diagnose", "Lost under pressure: {open} less {delivered}, over {open}, is {percent} %.")
HOUSE_SOURCE = "House rule."
SUPPLY_SOURCE = "1.2 times what it takes: common practice, no published source"
UNKNOWN_PLACE = marked("diagnose", "at a place not told")
OVER_FITTED = marked("diagnose", "Nozzle as it acts over the fitted one: {acts} over {number} is {percent} %.")
FOR_THE_PLATE = marked(
    "diagnose", "Nozzle {number} makes {pressure} of the plate's {flow}; over {rated} rated that is {percent} %."
)
SHUT = marked("diagnose", "Trigger shut: {pressure} over {rated} rated is {percent} %.")
SPRAYING = marked("diagnose", "Spraying: {pressure} over {rated} rated is {percent} %.")


def worked_out(evidence: Evidence) -> Workings:
    """Return everything that the measurements let us compute; the inputs are ranges and so are the results."""
    delivered = _poured(DELIVERED, evidence.bucket)
    opened = _poured(OPEN_END, evidence.open_bucket)
    supplied = _poured(SUPPLIED, evidence.supply_bucket)
    due, speed = _due(evidence), _speed(evidence)
    slip = _slip(delivered, due)
    at_nozzle = _at_nozzle(evidence)
    effective = _effective(delivered, at_nozzle)
    return Workings(
        delivered_lpm=delivered,
        open_lpm=opened,
        supplied_lpm=supplied,
        due_lpm=due,
        held_share=_over_due(HELD, delivered, due),
        open_share=_over_due(OPEN_HELD, opened, due),
        plate_share=_of_plate(delivered, due, evidence),
        slip_lpm=slip,
        slip_at_rated_share=_slip_at_rated(delivered, due, evidence),
        expected_bar=_expected(delivered, evidence),
        at_nozzle_bar=at_nozzle,
        effective_number=effective,
        nozzle_share=_over_fitted(effective, evidence),
        plate_nozzle_share=_for_the_plate(evidence),
        pressure_share=_over_rated(SPRAYING, evidence.gauge_bar, evidence),
        shut_share=_over_rated(SHUT, evidence.shut_bar, evidence),
        supply_share=_supply(supplied, due, evidence),
        speed_share=speed,
        fall_share=_fall(opened, delivered),
    )


def _poured(words: str, bucket: Bucket | None) -> Working | None:
    if bucket is None:
        return None
    values = {"volume": _span(bucket.volume_l), "seconds": _span(bucket.seconds), "flow": _lpm(bucket.flow_lpm)}
    return Working(bucket.flow_lpm, Sentence(words, values), BUCKET_SOURCE)


def _due(evidence: Evidence) -> Working | None:
    rated, rated_rpm, shaft = evidence.rated_lpm, evidence.rated_rpm, evidence.shaft_rpm
    if rated is None or rated_rpm is None or shaft is None or shaft.low <= 0:
        return None
    due = rated * shaft / rated_rpm
    values = {"rated": _lpm(rated), "speed": _rpm(shaft), "rated_speed": _rpm(rated_rpm), "flow": _lpm(due)}
    return Working(due, Sentence(DUE, values), PLATE_SOURCE)


def _speed(evidence: Evidence) -> Working | None:
    shaft, rated_rpm = evidence.shaft_rpm, evidence.rated_rpm
    if shaft is None or rated_rpm is None:
        return None
    share = shaft / rated_rpm
    values = {"speed": _rpm(shaft), "rated_speed": _rpm(rated_rpm), "percent": percent(share)}
    return Working(share, Sentence(SPEED, values), PLATE_SOURCE)


def _over_due(words: str, delivered: Working | None, due: Working | None) -> Working | None:
    if delivered is None or due is None:
        return None
    share = delivered.value / due.value
    values = {"delivered": _lpm(delivered.value), "due": _lpm(due.value), "percent": percent(share)}
    return Working(share, Sentence(words, values), PLATE_SOURCE)


def _of_plate(delivered: Working | None, due: Working | None, evidence: Evidence) -> Working | None:
    if delivered is None or due is not None or evidence.rated_lpm is None:
        return None
    share = delivered.value / evidence.rated_lpm
    values = {"delivered": _lpm(delivered.value), "rated": _lpm(evidence.rated_lpm), "percent": percent(share)}
    return Working(share, Sentence(PLATE, values), PLATE_SOURCE)


def _slip(delivered: Working | None, due: Working | None) -> Working | None:
    if delivered is None or due is None:
        return None
    lost, share = due.value - delivered.value, -(delivered.value / due.value) + 1
    values = {"due": _lpm(due.value), "delivered": _lpm(delivered.value), "flow": _lpm(lost), "percent": percent(share)}
    return Working(lost, Sentence(SLIP, values), SLIP_SOURCE)


def _slip_at_rated(delivered: Working | None, due: Working | None, evidence: Evidence) -> Working | None:
    gauge, rated = evidence.gauge_bar, evidence.rated_bar
    if delivered is None or due is None or gauge is None or rated is None or gauge.low <= 0:
        return None
    read = -(delivered.value / due.value) + 1
    # Leakage does not grow with speed: of a pump that runs too fast it is a larger share of its plate's flow.
    faster = Range.exactly(1.0) if evidence.rated_lpm is None else due.value / evidence.rated_lpm
    is_fast, faster = faster.low > 1.0, Range(max(faster.low, 1.0), max(faster.high, 1.0))
    times = rated / gauge
    lost = Range(max(read.low, 0.0), max(read.high, 0.0)) * Range(max(times.low, 1.0), max(times.high, 1.0))
    lost = lost * faster
    values = {"percent": percent(read), "rated": _bar(rated), "gauge": _bar(gauge), "result": percent(lost)}
    words = (
        Sentence(SLIP_AT_RATED_FAST, values | {"fast": percent(faster)}) if is_fast else Sentence(SLIP_AT_RATED, values)
    )
    return Working(lost, words, SLIP_SOURCE)


def _expected(delivered: Working | None, evidence: Evidence) -> Working | None:
    number = evidence.nozzle_number
    if delivered is None or number is None:
        return None
    flow = delivered.value
    pressure = _nozzle_makes(flow, number)
    values = {"flow": _lpm(flow), "number": _span(number), "pressure": _bar(pressure)}
    return Working(pressure, Sentence(EXPECTED, values), NOZZLE_SOURCE)


def _for_the_plate(evidence: Evidence) -> Working | None:
    flow, number, rated = evidence.rated_lpm, evidence.nozzle_number, evidence.rated_bar
    if flow is None or number is None or rated is None:
        return None
    pressure = _nozzle_makes(flow, number)
    share = pressure / rated
    values = {"number": _span(number), "flow": _lpm(flow), "pressure": _bar(pressure), "rated": _bar(rated)}
    return Working(share, Sentence(FOR_THE_PLATE, values | {"percent": percent(share)}), NOZZLE_SOURCE)


def _nozzle_makes(flow: Range, number: Range) -> Range:
    return Range(
        nozzle_pressure_bar(nozzle_number=number.high, flow_lpm=flow.low),
        nozzle_pressure_bar(nozzle_number=number.low, flow_lpm=flow.high),
    )


def _at_nozzle(evidence: Evidence) -> Working | None:
    gauge = evidence.gauge_bar
    if gauge is None:
        return None
    loss = GUN_LOSS_SHARE if evidence.gauge_place is GaugePlace.GUN else HOSE_LOSS_SHARE
    pressure = Range(gauge.low * (1 - loss), gauge.high)
    place = evidence.gauge_place or UNKNOWN_PLACE
    values = {"gauge": _bar(gauge), "place": str(place), "loss": loss * 100, "pressure": _bar(pressure)}
    return Working(pressure, Sentence(AT_NOZZLE, values), HOUSE_SOURCE)


def _effective(delivered: Working | None, at_nozzle: Working | None) -> Working | None:
    if delivered is None or at_nozzle is None or at_nozzle.value.low <= 0:
        return None
    flow, pressure = delivered.value, at_nozzle.value
    number = Range(
        nozzle_number_for(flow_lpm=flow.low, pressure_bar=pressure.high),
        nozzle_number_for(flow_lpm=flow.high, pressure_bar=pressure.low),
    )
    values = {"flow": _lpm(flow), "pressure": _bar(pressure), "number": _span(number)}
    return Working(number, Sentence(EFFECTIVE, values), NOZZLE_SOURCE)


def _over_fitted(effective: Working | None, evidence: Evidence) -> Working | None:
    number = evidence.nozzle_number
    if effective is None or number is None:
        return None
    share = effective.value / number
    values = {"acts": _span(effective.value), "number": _span(number), "percent": percent(share)}
    return Working(share, Sentence(OVER_FITTED, values), NOZZLE_SOURCE)


def _over_rated(words: str, pressure: Range | None, evidence: Evidence) -> Working | None:
    if pressure is None or evidence.rated_bar is None:
        return None
    share = pressure / evidence.rated_bar
    values = {"pressure": _bar(pressure), "rated": _bar(evidence.rated_bar), "percent": percent(share)}
    return Working(share, Sentence(words, values), PLATE_SOURCE)


def _supply(supplied: Working | None, due: Working | None, evidence: Evidence) -> Working | None:
    taken = due.value if due is not None else evidence.rated_lpm
    if supplied is None or taken is None:
        return None
    share = supplied.value / taken
    values = {"supplied": _lpm(supplied.value), "taken": _lpm(taken), "times": _span(share)}
    return Working(share, Sentence(MARGIN, values), SUPPLY_SOURCE)


def _fall(opened: Working | None, delivered: Working | None) -> Working | None:
    if opened is None or delivered is None or opened.value.low <= 0:
        return None
    share = -(delivered.value / opened.value) + 1
    values = {"open": _lpm(opened.value), "delivered": _lpm(delivered.value), "percent": percent(share)}
    return Working(share, Sentence(FALL, values), SLIP_SOURCE)


def percent(share: Range) -> str:
    """Return a share in hundredths, rounded to one decimal, as it stands in a sentence."""
    return _span(share * 100, 1)


def _span(value: Range, digits: int = 2) -> str:
    low, high = (f"{limit:.{digits}f}" for limit in (value.low, value.high))
    return low if low == high else f"{low} to {high}"


def _lpm(flow: Range) -> str:
    return show_range(flow, "lpm")


def _bar(pressure: Range) -> str:
    return show_range(pressure, "bar")


def _rpm(speed: Range) -> str:
    return show_range(speed, "rpm")
