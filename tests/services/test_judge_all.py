"""All pumps judged by parts: the verdict, the order and the counts that each pump judged by itself gives."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from tests.bench.big_catalog import with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.best_measurement import best_measurement
from tests.services.tiny import Quiet
from xref_app.core.fields.fields import Side, all_fields
from xref_app.core.fit.finding import Verdict
from xref_app.core.plan.families import FAMILIES
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.judge_all import MOST_SHOWN, judge_all
from xref_app.services.judge_candidates import judge_one
from xref_app.services.machine_side import job_values
from xref_app.services.pump_table import fields_of, pump_table

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
        assert found.measure_next == best_measurement(found.rows)
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
