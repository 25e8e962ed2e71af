"""What to measure next over the verdicts: what settles most, a pump with one question left before one with three."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np
import pytest

from tests.bench.big_catalog import with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.best_measurement import asked_of, best_settling_of
from tests.services.test_judging import candidate, open_on
from tests.services.tiny import Quiet
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.plan.judge_parts import JudgeOfParts
from xref_app.services.answers import MeasureNext
from xref_app.services.judge_candidates import judge_one, machine_question
from xref_app.services.machine_side import job_values
from xref_app.services.measure_next import Asked
from xref_app.services.pump_table import pump_table
from xref_app.services.settling import asked_over
from xref_app.services.verdicts import Steps, judge_table

SAMPLE = catalog_of(sample_rows())
MANY = with_many_pumps(SAMPLE, 300, seed=6, pumps_per_face=5)


def best(*rows: Sequence[str]) -> MeasureNext:
    found = best_settling_of([open_on(f"K-{n}", *fields) for n, fields in enumerate(rows, 1)])
    assert found is not None
    return found


def test_the_last_question_of_one_pump_weighs_as_much_as_one_of_three_for_three_pumps() -> None:
    assert Asked.of({1: 1}).settles == Asked.of({3: 3}).settles == 1.0
    assert Asked.of({1: 4, 3: 2}) == Asked(candidates=6, last_open=4, settles=4 + 2 / 3)


def test_what_settles_two_pumps_comes_before_what_three_ask_for_among_much_else() -> None:
    # both a minute, both with the pump off; four fields each: 3/4 settled, against 2
    much = ("shaft_projection_mm", "bore_depth_mm", "shaft_pilot_mm", "rating_speed_rpm")
    found = best(much, much, much, ("shaft_key_top_mm",), ("shaft_key_top_mm",))
    assert (found.field, found.settles, found.last_open, found.open) == ("shaft_key_top_mm", 2, 2, 5)


def test_the_shares_of_all_fields_add_up_to_the_open_pumps() -> None:
    rows = [open_on("K-1", "shaft_axis"), open_on("K-2", "shaft_axis", "bore_depth_mm", "shaft_key_top_mm")]
    assert sum(one.settles for one in asked_of(rows).values()) == pytest.approx(2)


def test_a_size_of_the_nearest_pump_counts_by_what_else_it_asks_for() -> None:
    # the nearest asks for its depth and for a machine size that another asks for too: 1/2 against 1/2 + 1/2
    found = best(("bore_depth_mm", "shaft_projection_mm"), ("shaft_projection_mm", "rating_speed_rpm"))
    assert (found.field, found.settles, found.last_open) == ("shaft_projection_mm", 2, 0)
    alone = best(("bore_depth_mm",), ("shaft_projection_mm", "rating_speed_rpm"))
    assert (alone.field, alone.settles, alone.last_open, alone.entry_id) == ("bore_depth_mm", 1, 1, "K-1")


def test_nothing_open_settles_nothing() -> None:
    assert best_settling_of([candidate("K-1", Verdict.FITS)]) is None


@pytest.mark.parametrize("machine", ["M-001", "M-004", "M-011"])
def test_the_table_of_verdicts_counts_as_each_pump_judged_by_itself(machine: str) -> None:
    job = job_values(MANY, None, machine)
    side, table = machine_question(MANY, job), pump_table(MANY)
    judge = JudgeOfParts(side.cases, side.contradicted)
    verdicts = judge_table(table, judge, work=Steps(Quiet(), 1))
    for place in np.flatnonzero(table.apart).tolist():
        verdicts.settle(place, judge_one(MANY, job, table.ids[place]).judgement)
    alone = [judge_one(MANY, job, pump_id) for pump_id in table.ids]
    assert asked_over(verdicts.asked, verdicts.worst == Outcome.UNKNOWN) == asked_of(alone)
    assert Counter(one.judgement.verdict for one in alone)[Verdict.NOT_KNOWN_YET]
