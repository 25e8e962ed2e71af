"""Every build of the sample gives the desk something to show: each verdict occurs, and often.

What is counted is the promise of the sample, not the judge: the judge itself is tested in tests/core/fit.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import pairwise

import pytest

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import FAMILIES, sample_rows
from tests.sample.troubles import CONTRADICTIONS
from xref_app.core.fit.finding import Judgement, Verdict
from xref_app.services.judge_candidates import judgement_of
from xref_app.services.machine_side import job_values

CATALOG = catalog_of(sample_rows())
PUMPS = tuple(entry.entry_id for entry in CATALOG.pumps())
# One machine each, and the pump on it whose twice-measured size decides; P-008's makes no difference.
DECIDED_BY_CONTRADICTION = {"P-036": "M-019", "P-058": "M-031"}


@cache
def _judged(machine: str, pump: str) -> Judgement:
    return judgement_of(CATALOG, job_values(CATALOG, None, machine), pump)


@cache
def _own_pumps(machine: str) -> frozenset[str]:
    """Return the pumps of the family that the machine is of; the others mostly cannot fit."""
    title = CATALOG.entries[machine].name.removeprefix("Pressure washer, ")
    return frozenset(entry.entry_id for entry in CATALOG.pumps() if entry.name == f"Pump {title}")


def _builds_with(verdict: Verdict) -> list[str]:
    return [
        machine
        for machine in CATALOG.machines
        if any(_judged(machine, pump).verdict is verdict for pump in sorted(_own_pumps(machine)))
    ]


def test_every_machine_has_pumps_made_for_it() -> None:
    assert {len(_own_pumps(machine)) for machine in CATALOG.machines} == {family.pumps for family in FAMILIES}


def test_many_builds_have_a_pump_that_fits_as_is() -> None:
    assert len(_builds_with(Verdict.FITS)) >= 10


def test_most_builds_have_a_pump_that_fits_with_parts() -> None:
    assert len(_builds_with(Verdict.FITS_WITH_PARTS)) > len(CATALOG.machines) / 2


@pytest.mark.parametrize("machine", ["M-001", "M-019", "M-031"])
def test_of_all_pumps_several_are_open_and_many_cannot_go_on(machine: str) -> None:
    counts = Counter(_judged(machine, pump).verdict for pump in PUMPS)
    assert counts[Verdict.FITS] >= 2
    assert counts[Verdict.FITS_WITH_PARTS] >= 2
    assert counts[Verdict.NOT_KNOWN_YET] >= 5
    assert counts[Verdict.DOES_NOT_FIT] >= len(PUMPS) / 2


@pytest.mark.parametrize(("pump", "machine"), DECIDED_BY_CONTRADICTION.items())
def test_a_contradiction_that_matters_leaves_the_verdict_open(pump: str, machine: str) -> None:
    judged = _judged(machine, pump)
    assert judged.verdict is Verdict.NOT_KNOWN_YET
    assert judged.measure_next[0] in CONTRADICTIONS[pump]


def test_a_pump_known_by_claims_alone_fits_and_says_what_it_rests_on() -> None:
    resting = [
        judged
        for machine in ("M-019", "M-021", "M-029")
        for pump in sorted(_own_pumps(machine))
        if (judged := _judged(machine, pump)).verdict is Verdict.FITS and judged.claims
    ]
    assert resting
    assert any("bore_diameter_mm" in judged.claims for judged in resting)


def test_two_builds_of_one_model_are_told_apart_by_sight_and_differ_in_verdict() -> None:
    builds = sorted(CATALOG.machines.values(), key=lambda row: row.entry_id)
    pairs = [(one, other) for one, other in pairwise(builds) if one.model == other.model]
    assert len(pairs) >= 5
    for one, other in pairs:
        assert one.tell_apart
        assert other.tell_apart
        assert one.tell_apart != other.tell_apart
    differing = [
        (one.entry_id, other.entry_id, pump)
        for one, other in pairs
        for pump in sorted(_own_pumps(one.entry_id))
        if _judged(one.entry_id, pump).verdict is Verdict.FITS
        and _judged(other.entry_id, pump).verdict is Verdict.FITS_WITH_PARTS
    ]
    assert differing


def test_each_step_of_a_chain_is_younger_than_the_one_before() -> None:
    since = {row.entry_id: (row.new_entry_id, row.since) for row in CATALOG.replaced_by}
    followed = [(day, since[new][1]) for new, day in since.values() if new in since]
    assert len(followed) >= 4
    assert all(earlier < later for earlier, later in followed)
