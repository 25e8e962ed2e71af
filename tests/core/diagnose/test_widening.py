"""A wider reading, or one taken away, never leads to a conclusion; whatever the evidence, right or contradictory."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from itertools import product
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.core.diagnose.seeded_faults import FAULTS, sound_machine, with_fault
from tests.core.diagnose.shop_notes import noted
from tests.core.diagnose.test_proof import SOUND, WEAK
from xref_app.core.diagnose.arithmetic import worked_out
from xref_app.core.diagnose.diagnose import diagnose
from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.proof import verdict
from xref_app.core.diagnose.signs import Facts
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
# Where a reading may lie, in its unit, and still be near a limit at which a conclusion turns.
NEAR_A_LIMIT = {
    "gauge_bar": (40.0, 220.0),
    "shut_bar": (150.0, 300.0),
    "supply_c": (40.0, 60.0),
    "nozzle_number": (3.0, 6.0),
    "rated_lpm": (11.0, 18.0),
    "rated_bar": (150.0, 250.0),
    "rated_rpm": (2800.0, 4000.0),
    "shaft_rpm": (2700.0, 4200.0),
    "bypass_minutes": (0.0, 10.0),
    "bucket": (9.0, 15.0),
    "open_bucket": (9.0, 15.0),
    "supply_bucket": (15.0, 22.0),
}
WEAK_AND_GAUGED = replace(WEAK, gauge_bar=Range(100, 104))
# Shares by which a reading is made wider downwards and upwards.
WIDER_BY = ((0.05, 0.0), (0.0, 0.05), (0.4, 0.0), (0.0, 0.4), (0.3, 0.3))
BUCKETS = frozenset({"bucket", "open_bucket", "supply_bucket"})
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


@st.composite
def readings(draw: st.DrawFn, name: str) -> Range | Bucket:
    middle = draw(st.floats(*NEAR_A_LIMIT[name]))
    read = Range.around(middle, middle * draw(st.floats(0, 0.1)))
    return Bucket(read, Range.exactly(60)) if name in BUCKETS else read


@st.composite
def near_a_conclusion(draw: st.DrawFn) -> Evidence:
    """Return evidence of a weak or a sound pump with up to two readings and one look changed; it may contradict."""
    changes: dict[str, Any] = {}
    for name in draw(st.frozensets(st.sampled_from(sorted(NEAR_A_LIMIT)), max_size=2)):
        changes[name] = draw(readings(name))
    for name in draw(st.frozensets(st.sampled_from(sorted(OTHER_LOOKS)), max_size=1)):
        changes[name] = draw(st.sampled_from(OTHER_LOOKS[name]))
    changes["cured_by"] = draw(st.sampled_from((frozenset(), frozenset(), frozenset({Part.NOZZLE}))))
    changes["symptoms"] = frozenset({draw(st.sampled_from((Symptom.LOW_PRESSURE, Symptom.DROPS_LATER)))})
    return replace(draw(st.sampled_from((WEAK, WEAK_AND_GAUGED, SOUND))), **changes)


@st.composite
def simulated(draw: st.DrawFn) -> Evidence:
    random = Random(draw(st.integers(0, 10**6)))
    cause: Cause = draw(st.sampled_from(sorted(FAULTS)))
    return noted(with_fault(sound_machine(random), cause, random), random, missing=0.05)


def without(evidence: Evidence, name: str) -> Evidence:
    left_out: dict[str, Any] = {name: None}
    return replace(evidence, **left_out)


def wider(value: Range, *, down: float, up: float) -> Range:
    return Range(value.low - down * abs(value.low), value.high + up * abs(value.high))


def wider_reading(value: Range | Bucket, *, down: float, up: float) -> Range | Bucket:
    if isinstance(value, Bucket):
        return Bucket(wider(value.volume_l, down=down, up=up), value.seconds)
    return wider(value, down=down, up=up)


def widened(evidence: Evidence, name: str, down: float, up: float) -> Evidence:
    changes: dict[str, Any] = {name: wider_reading(getattr(evidence, name), down=down, up=up)}
    return replace(evidence, **changes)


def every_widening(evidence: Evidence) -> Iterator[tuple[str, Evidence]]:
    """Yield the evidence with each reading wider by little or much, on either side and on both."""
    for name in MEASURED:
        if getattr(evidence, name) is not None:
            for down, up in WIDER_BY:
                yield f"{name} -{down} +{up}", widened(evidence, name, down, up)


def answer(evidence: Evidence) -> Verdict:
    return verdict(Facts(evidence, worked_out(evidence)))


ANY = st.one_of(near_a_conclusion(), near_a_conclusion(), simulated())


@pytest.mark.parametrize("name", NEAR_A_LIMIT)
@pytest.mark.parametrize("base", [WEAK_AND_GAUGED, SOUND], ids=["weak", "sound"])
def test_a_reading_near_any_limit_only_loses_a_conclusion_by_growing_wider(base: Evidence, name: str) -> None:
    low, high = NEAR_A_LIMIT[name]
    for part, share in product(range(25), (0.0, 0.03)):
        middle = low + (high - low) * part / 24
        read = Range.around(middle, middle * share)
        changes: dict[str, Any] = {name: Bucket(read, Range.exactly(60)) if name in BUCKETS else read}
        evidence = replace(base, **changes)
        before = answer(evidence)
        for down, up in WIDER_BY:
            assert answer(widened(evidence, name, down, up)) in {before, Verdict.CANNOT_TELL}, (read, down, up)


@pytest.mark.parametrize("name", OTHER_LOOKS)
@pytest.mark.parametrize("base", [WEAK_AND_GAUGED, SOUND], ids=["weak", "sound"])
def test_any_look_left_out_never_names_the_pump(base: Evidence, name: str) -> None:
    for look in OTHER_LOOKS[name]:
        changes: dict[str, Any] = {name: look}
        evidence = replace(base, **changes)
        assert answer(without(evidence, name)) in {answer(evidence), Verdict.CANNOT_TELL, Verdict.NOT_PUMP}


@settings(deadline=None, max_examples=40)  # Dozens of diagnoses per example.
@given(ANY)
def test_a_wider_reading_never_leads_to_a_conclusion(evidence: Evidence) -> None:
    before = answer(evidence)
    for what, wide in every_widening(evidence):
        assert answer(wide) in {before, Verdict.CANNOT_TELL}, what


@settings(deadline=None)
@given(ANY, st.randoms())
def test_several_wider_readings_never_lead_to_a_conclusion(evidence: Evidence, random: Random) -> None:
    before, wide = answer(evidence), evidence
    for _ in range(3):
        name = random.choice([name for name in MEASURED if getattr(wide, name) is not None])
        wide = widened(wide, name, *random.choice(WIDER_BY))
        assert answer(wide) in {before, Verdict.CANNOT_TELL}


@settings(deadline=None)
@given(ANY)
def test_a_measurement_left_out_never_leads_to_a_conclusion(evidence: Evidence) -> None:
    before = answer(evidence)
    for name in MEASURED:
        assert answer(without(evidence, name)) in {before, Verdict.CANNOT_TELL}, name


@settings(deadline=None)
@given(ANY)
def test_a_look_left_out_never_names_the_pump(evidence: Evidence) -> None:
    before = answer(evidence)
    for name in LOOKED_AT:
        after = answer(without(evidence, name))
        assert after is before or after is not Verdict.PUMP, name


@settings(deadline=None)
@given(ANY)
def test_results_hold_what_every_exact_reading_gives(evidence: Evidence) -> None:
    exact: dict[str, Any] = {}
    for name in MEASURED:
        value = getattr(evidence, name)
        if value is None:
            continue
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
