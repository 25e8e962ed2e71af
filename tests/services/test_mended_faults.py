"""Faults the services once had, each with the smallest case that shows it."""

from __future__ import annotations

from tests.services.test_facts_and_desk import two_builds
from tests.services.tiny import Quiet, reading, tiny, tiny_rows, without
from xref_app.core.model.known import How
from xref_app.core.model.observed import values_by_field
from xref_app.services.machine_side import job_values

ROWS = tiny_rows()


def test_a_hint_about_the_machine_does_not_hide_what_was_measured_on_its_engine() -> None:
    observations = (
        *without(ROWS.observations, "M1", "shaft_projection_mm"),
        reading("D1", "shaft_projection_mm", 61.9),
        reading("M1", "shaft_projection_mm", 20.0, "typical"),
    )
    (known,) = job_values(tiny(observations=observations), None, "M1").machine["shaft_projection_mm"]
    assert known.how is How.MEASURED


def test_a_pump_that_rules_a_build_out_does_not_settle_it() -> None:
    # Finding shows one entry per model, so M1 stands for both builds; P2 was on M2.
    assert two_builds().open_job("P2", "M1", Quiet()).machine_id != "M1"


def test_what_is_known_does_not_depend_on_the_order_of_the_readings() -> None:
    # 0 to 2, 3 to 5, and 1.5 to 3.5 that agrees with both
    rows = [reading("P1", "bore_depth_mm", value, doubt=1.0) for value in (1.0, 4.0, 2.5)]
    one, other = values_by_field(rows)["bore_depth_mm"], values_by_field(rows[::-1])["bore_depth_mm"]
    assert set(one) == set(other)
