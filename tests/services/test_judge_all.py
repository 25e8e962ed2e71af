"""All pumps judged by parts: the verdict, the order and the counts that each pump judged by itself gives."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from tests.bench.big_catalog import with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.best_measurement import best_settling_of
from tests.services.tiny import Quiet
from xref_app.core.fields.fields import Side, all_fields
from xref_app.core.fit.finding import Verdict
from xref_app.core.plan.families import FAMILIES
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.judge_all import MOST_SHOWN, judge_all
from xref_app.services.judge_candidates import judge_one
from xref_app.services.machine_side import job_values
from xref_app.services.pump_table import fields_of, pump_table, versions_counted

SAMPLE = catalog_of(sample_rows())
PUMPS = 400


def agree(catalog: Catalog, machine: str, *, guessed: bool = False) -> Counter[Verdict]:
    """Check what is said of all pumps against each judged by itself, and return how many have each verdict."""
    job = job_values(catalog, None, machine)
    found = judge_all(catalog, job, guessed_number=guessed, progress=Quiet())
    alone = {
        entry.entry_id: judge_one(catalog, job, entry.entry_id, guessed_number=guessed) for entry in catalog.pumps()
    }
    assert {row.entry_id: row for row in found.rows} == {row.entry_id: alone[row.entry_id] for row in found.rows}
    counted = Counter(one.judgement.verdict for one in alone.values())
    assert {verdict: count for verdict, count in found.counted.items() if count} == counted
    assert (found.total, found.not_ruled_out) == (len(alone), len(alone) - counted[Verdict.DOES_NOT_FIT])
    assert len(found.rows) == min(len(alone), MOST_SHOWN)
    shown = Counter(row.judgement.verdict for row in found.rows)
    for better, worse in ((Verdict.FITS, Verdict.FITS_WITH_PARTS), (Verdict.NOT_KNOWN_YET, Verdict.DOES_NOT_FIT)):
        assert shown[better] == counted[better] or not shown[worse]
    if len(alone) <= MOST_SHOWN:
        assert found.measure_next == best_settling_of(found.rows)
    return counted


@pytest.mark.parametrize("machine", ["M-001", "M-004", "M-009"])
def test_the_sample_is_judged_as_each_of_its_pumps(machine: str) -> None:
    assert agree(SAMPLE, machine)


def test_many_pumps_with_parts_in_common_are_judged_as_each_by_itself() -> None:
    many = with_many_pumps(SAMPLE, PUMPS, seed=6, pumps_per_face=5)
    table = pump_table(many)
    assert all(len(parts) < PUMPS for parts in table.parts)
    seen = Counter[Verdict]()
    for machine in ("M-001", "M-011"):
        seen += agree(many, machine)
    assert set(seen) == set(Verdict)


def contradicting(catalog: Catalog, entry_ids: Sequence[str], seed: int, most: int) -> Catalog:
    """Return the catalog in which one to ``most`` sizes of these entries were read again, and otherwise."""
    rng = random.Random(seed)
    observations = dict(catalog.observations)
    for entry_id in entry_ids:
        rows = list(observations[entry_id])
        sizes = [one for one in rows if one.value and one.doubt is not None and one.how == "measured"] or [
            one for one in rows if one.value
        ]
        for one in rng.sample(sizes, min(len(sizes), rng.randint(1, most))):
            if one.value is not None:
                rows.append(replace(one, observation_id=10**6 + len(rows), value=one.value * rng.choice((0.9, 1.08))))
        observations[entry_id] = tuple(rows)
    return replace(catalog, observations=observations)


def test_pumps_that_contradict_themselves_are_put_together_from_parts_as_well() -> None:
    many = with_many_pumps(SAMPLE, 120, seed=8, pumps_per_face=5)
    table = pump_table(contradicting(many, list(many.ids_of("pump"))[::2], seed=3, most=3))
    counts = np.prod(versions_counted(table.numbers, table.parts), axis=0)
    assert np.count_nonzero((counts > 1) & ~table.apart) > 30
    catalog = contradicting(many, list(many.ids_of("pump"))[::2], seed=3, most=3)
    for machine in ("M-001", "M-011"):
        agree(catalog, machine)


def test_a_machine_and_pumps_that_contradict_themselves_too_often_are_judged_as_alone() -> None:
    many = with_many_pumps(SAMPLE, 40, seed=9, pumps_per_face=5)
    catalog = contradicting(many, list(many.ids_of("pump"))[::2], seed=4, most=7)
    assert pump_table(catalog).apart.any()
    driver = catalog.machines["M-001"].driver_id
    agree(contradicting(catalog, [driver], seed=5, most=3), "M-001")


def test_a_guessed_number_and_damaged_rows_leave_open_what_they_leave_open_alone() -> None:
    agree(SAMPLE, "M-001", guessed=True)
    pumps = [entry.entry_id for entry in SAMPLE.pumps()]
    damaged = replace(SAMPLE, damaged=Damage(rows=3, entries=frozenset(pumps[:5])))
    assert agree(damaged, "M-001")[Verdict.FITS] < agree(SAMPLE, "M-001")[Verdict.FITS]
    agree(replace(SAMPLE, damaged=Damage(rows=1, entries=frozenset({"M-001"}))), "M-001")


def test_every_size_of_a_pump_that_a_check_looks_at_is_in_a_family() -> None:
    looked_at = frozenset[str]().union(*(fields_of(family) for family in FAMILIES))
    pumps = {field for field, one in all_fields().items() if one.side is Side.PUMP}
    assert looked_at == pumps
