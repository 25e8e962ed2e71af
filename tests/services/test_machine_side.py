"""The machine side of a job: from its own rows, its engine's, or from the old pump and then only as a claim."""

from __future__ import annotations

import pytest

from tests.services.tiny import reading, tiny, tiny_rows, without
from xref_app.core.fields.fields import Side, field_for
from xref_app.core.model.known import Dimension, Fact, How, Pattern
from xref_app.core.model.words import Axis, Gender, ShaftForm
from xref_app.services.machine_side import job_values

ROWS = tiny_rows()


def test_build_and_engine_are_read_together_and_only_their_own_side() -> None:
    observations = (
        *without(ROWS.observations, "M1", "power_kw"),
        reading("D1", "power_kw", 4.8, "plate"),
        reading("D1", "oil", "sealed"),
    )
    known = job_values(tiny(observations=observations), None, "M1").machine
    assert known["power_kw"] == (Dimension(4.8, field_for("power_kw").default_doubt, How.PLATE),)
    assert all(field_for(field).side is Side.MACHINE for field in known)


def test_the_old_pump_of_the_build_tells_what_was_built_in() -> None:
    values = job_values(tiny(), None, "M1")
    assert values.old_has["has_unloader"] == (Fact(value=True),)
    assert all(field.startswith("has_") for field in values.old_has)


def test_the_pump_on_the_bench_counts_before_the_one_the_build_left_with() -> None:
    observations = (*without(ROWS.observations, "P2", "has_unloader"), reading("P2", "has_unloader", "no"))
    assert job_values(tiny(observations=observations), "P2", "M1").old_has["has_unloader"] == (Fact(value=False),)


def test_what_the_machine_itself_says_goes_before_the_old_pump() -> None:
    known = job_values(tiny(), "P1", "M1").machine
    assert known["shaft_diameter_mm"] == (Dimension(19.03, 0.02),)


def test_from_the_old_pump_alone_everything_is_a_claim() -> None:
    known = job_values(tiny(), "P1", None).machine
    assert known
    assert {value.how for values in known.values() for value in values} == {How.CLAIMED}
    assert known["shaft_form"] == (Fact(ShaftForm.STRAIGHT_KEYED, How.CLAIMED),)
    assert known["shaft_axis"] == (Fact(Axis.HORIZONTAL, How.CLAIMED),)
    assert known["supply_thread"] == (Fact("3/4-11.5 NH", How.CLAIMED),)
    assert known["supply_gender"] == (Fact(Gender.MALE, How.CLAIMED),)
    assert known["discharge_gender"] == (Fact(Gender.FEMALE, How.CLAIMED),)
    assert known["discharge_seal_mm"] == (Dimension(14.0, 0.10, How.CLAIMED),)


def test_the_shaft_that_ran_in_the_old_bore_is_no_thicker_than_it_and_no_thinner_than_its_play() -> None:
    (shaft,) = job_values(tiny(), "P1", None).machine["shaft_diameter_mm"]
    assert isinstance(shaft, Dimension)
    # bore 19.05 ± 0.10; ISO 286-1: IT9 over 18 up to 30 is 0.052, twice that is the most play
    assert shaft.range.high == pytest.approx(19.15)
    assert shaft.range.low == pytest.approx(18.95 - 0.104)


def test_the_bolts_lie_where_the_old_holes_are_give_or_take_their_play() -> None:
    (bolts,) = job_values(tiny(), "P1", None).machine["face_holes_xy_mm"]
    assert isinstance(bolts, Pattern)
    assert len(bolts.holes) == 4
    assert bolts.doubt_mm == pytest.approx(0.10 + 0.4)


def test_a_hint_about_the_old_pump_stays_a_hint() -> None:
    observations = (*without(ROWS.observations, "P1", "inlet_thread"), reading("P1", "inlet_thread", "G3/4", "typical"))
    known = job_values(tiny(observations=observations), "P1", None).machine
    assert known["supply_thread"] == (Fact("G3/4", How.TYPICAL),)


@pytest.mark.parametrize("form", ["hollow plain", "solid keyed"])
def test_a_pump_that_holds_no_key_tells_nothing_about_the_shaft(form: str) -> None:
    observations = (*without(ROWS.observations, "P1", "bore_form"), reading("P1", "bore_form", form))
    known = job_values(tiny(observations=observations), "P1", None).machine
    assert "shaft_diameter_mm" not in known
    assert "shaft_form" not in known


def test_a_pump_for_both_axes_tells_nothing_about_the_axis() -> None:
    observations = (*without(ROWS.observations, "P1", "bore_axis"), reading("P1", "bore_axis", "both"))
    assert "shaft_axis" not in job_values(tiny(observations=observations), "P1", None).machine


def test_a_pump_of_unknown_size_tells_only_what_is_known() -> None:
    rows = without(ROWS.observations, "P1", "bore_diameter_mm", "flange_holes_xy_mm", "inlet_gender", "bore_axis")
    known = job_values(tiny(observations=rows), "P1", None).machine
    assert not {"shaft_diameter_mm", "face_holes_xy_mm", "supply_gender", "shaft_axis"} & known.keys()
    assert "shaft_form" in known


def test_with_neither_machine_nor_pump_nothing_is_known() -> None:
    values = job_values(tiny(), None, None)
    assert (values.machine, values.old_has) == ({}, {})
    assert job_values(tiny(), None, "no such build").machine == {}
