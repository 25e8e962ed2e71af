"""A wider reading, or one taken away, never leads to a conclusion; whatever the evidence, right or contradictory."""

from __future__ import annotations

from dataclasses import fields, replace
from random import Random
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from tests.core.diagnose.seeded_faults import FAULTS, noted, sound_machine, with_fault
from xref_app.core.diagnose.diagnose import diagnose
from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.words import (
    Cause,
    FlowBack,
    Leak,
    Noise,
    Nozzle,
    Oil,
    Part,
    Relief,
    Screen,
    SuctionAir,
    Symptom,
    Verdict,
)
from xref_app.core.quantity.range import Range

MEASURED = tuple(item.name for item in fields(Evidence) if "Range" in str(item.type) or "Bucket" in str(item.type))
LOOKED_AT = tuple(
    item.name for item in fields(Evidence) if str(item.type).endswith("| None") and item.name not in MEASURED
)
# So narrow, and so near to what a pump of 15 L/min at 200 bar does, that conclusions are drawn often.
NEAR = {
    "gauge_bar": (60.0, 220.0),
    "shut_bar": (60.0, 300.0),
    "supply_c": (5.0, 70.0),
    "nozzle_number": (3.0, 6.0),
    "rated_lpm": (15.0, 15.0),
    "rated_bar": (200.0, 200.0),
    "rated_rpm": (3400.0, 3400.0),
    "shaft_rpm": (3300.0, 3450.0),
    "bypass_minutes": (0.0, 10.0),
}
GOOD_LOOKS = {
    "screen": Screen.CLEAN,
    "suction_air": SuctionAir.NONE,
    "nozzle": Nozzle.GOOD,
    "flow_back": FlowBack.NONE,
    "relief": Relief.SHUT,
    "leak": Leak.NONE,
    "oil": Oil.CLEAR,
    "noise": Noise.EVEN,
    "no_change_by": frozenset({Part.WAND_AND_HOSE}),
    "taken_while_bad": True,
}

OTHER_LOOKS: dict[str, tuple[object, ...]] = {
    "screen": (*Screen, None),
    "suction_air": (*SuctionAir, None),
    "nozzle": (*Nozzle, None),
    "flow_back": (*FlowBack, None),
    "relief": (*Relief, None),
    "leak": (*Leak, None),
    "oil": (*Oil, None),
    "noise": (*Noise, None),
    "taken_while_bad": (False, None),
}


def ranges(low: float, high: float) -> st.SearchStrategy[Range]:
    return st.builds(
        lambda middle, share: Range(middle * (1 - share), middle * (1 + share)),
        st.floats(low, high),
        st.floats(0, 0.05),
    )


@st.composite
def measured(draw: st.DrawFn) -> Evidence:
    """Return full measurements, that may contradict one another, with looks that may be good, odd or left out."""
    told: dict[str, Any] = {name: draw(ranges(*near)) for name, near in NEAR.items()}
    for name, lowest in (("bucket", 8.0), ("open_bucket", 8.0), ("supply_bucket", 14.0)):
        told[name] = Bucket(draw(ranges(lowest, 1.9 * lowest)), draw(ranges(58.0, 62.0)))
    told |= GOOD_LOOKS
    told["symptoms"] = draw(st.frozensets(st.sampled_from(Symptom), max_size=2))
    told["cured_by"] = draw(st.sampled_from((frozenset(), frozenset(), frozenset(), frozenset({Part.NOZZLE}))))
    for name in draw(st.frozensets(st.sampled_from(sorted(OTHER_LOOKS)), max_size=2)):
        told[name] = draw(st.sampled_from(OTHER_LOOKS[name]))
    return Evidence(**told)


@st.composite
def simulated(draw: st.DrawFn) -> Evidence:
    random = Random(draw(st.integers(0, 10**6)))
    cause: Cause = draw(st.sampled_from(sorted(FAULTS)))
    return noted(with_fault(sound_machine(random), cause, random), random, missing=0.05)


def without(evidence: Evidence, name: str) -> Evidence:
    left_out: dict[str, Any] = {name: None}
    return replace(evidence, **left_out)


def wider(draw: st.DrawFn, value: Range) -> Range:
    down, up = draw(st.floats(0, 0.4)), draw(st.floats(0, 0.4))
    return Range(value.low - down * abs(value.low), value.high + up * abs(value.high))


@st.composite
def widened(draw: st.DrawFn, evidence: Evidence) -> Evidence:
    names = [name for name in MEASURED if getattr(evidence, name) is not None]
    changes: dict[str, Any] = {}
    for name in draw(st.lists(st.sampled_from(names), min_size=1, max_size=4, unique=True)):
        value = getattr(evidence, name)
        changes[name] = (
            Bucket(wider(draw, value.volume_l), wider(draw, value.seconds))
            if isinstance(value, Bucket)
            else wider(draw, value)
        )
    return replace(evidence, **changes)


@given(st.data(), st.one_of(measured(), simulated()))
def test_a_wider_reading_never_leads_to_a_conclusion(data: st.DataObject, evidence: Evidence) -> None:
    before, after = diagnose(evidence).answer, diagnose(data.draw(widened(evidence))).answer
    assert after in {before, Verdict.CANNOT_TELL}


@given(st.one_of(measured(), simulated()), st.sampled_from(MEASURED))
def test_a_measurement_left_out_never_leads_to_a_conclusion(evidence: Evidence, name: str) -> None:
    before, after = diagnose(evidence).answer, diagnose(without(evidence, name)).answer
    assert after in {before, Verdict.CANNOT_TELL}


@given(st.one_of(measured(), simulated()), st.sampled_from(LOOKED_AT))
def test_a_look_left_out_never_names_the_pump(evidence: Evidence, name: str) -> None:
    before, after = diagnose(evidence).answer, diagnose(without(evidence, name)).answer
    assert after is before or after is not Verdict.PUMP


@given(measured())
def test_results_hold_what_every_exact_reading_gives(evidence: Evidence) -> None:
    exact: dict[str, Any] = {}
    for name in MEASURED:
        value = getattr(evidence, name)
        exact[name] = (
            Bucket(Range.exactly(value.volume_l.middle), Range.exactly(value.seconds.middle))
            if isinstance(value, Bucket)
            else Range.exactly(value.middle)
        )
    wide, narrow = diagnose(evidence).workings, diagnose(replace(evidence, **exact)).workings
    for item in fields(wide):
        one, other = getattr(wide, item.name), getattr(narrow, item.name)
        assert (one is None) is (other is None), item.name
        assert one is None or other.value.within(one.value), item.name
