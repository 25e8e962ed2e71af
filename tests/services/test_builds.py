"""Builds of one machine model: which are one choice, and the fewest visible facts that tell the choices apart."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest

from tests.services.tiny import Quiet, entry, reading, tiny, tiny_rows
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import MachineRow, Number, Observation
from xref_app.services.answers import MachineChoice
from xref_app.services.build_looks import MOST_COMPARED
from xref_app.services.builds import Builds, builds_of
from xref_app.services.catalog import Catalog
from xref_app.services.desk import CatalogDesk
from xref_app.services.machine_side import job_values

ROWS = tiny_rows()
MODEL = "Heron 27"


def build(place: int, driver: str = "D1", pump: str = "P1", **more: Any) -> MachineRow:
    return MachineRow(f"M{place}", MODEL, driver, pump, **more)


def catalog(*machines: MachineRow, readings: tuple[Observation, ...] = (), **more: Any) -> Catalog:
    drivers = sorted({row.driver_id for row in machines})
    entries = (
        *(entry(row.entry_id, "machine") for row in machines),
        *(entry(driver, "driver") for driver in drivers),
        entry("P1", "pump"),
        entry("P2", "pump"),
    )
    return tiny(machines=machines, entries=entries, observations=readings, **more)


def asked(*machines: MachineRow, **more: Any) -> Builds:
    return builds_of(catalog(*machines, **more), None, machines[0].entry_id)


def seen(builds: Builds) -> list[str]:
    return [choice.tell_apart for choice in builds.choices]


def dated(place: int, first: str, last: str, pump: str = "P1") -> MachineRow:
    return build(place, pump=pump, built_from=first, built_to=last)


FIRST, SECOND = ("2009-01-01", "2013-12-31"), ("2014-01-01", "2018-12-31")


# --- which builds are one choice


def test_builds_with_the_same_pump_on_the_same_engine_are_one_choice() -> None:
    rows = (build(1, tell_apart="round"), build(2, tell_apart="oval"), build(3, pump="P2", tell_apart="square"))
    builds = asked(*rows)
    assert [(one.entry_id, one.sisters) for one in builds.choices] == [("M1", ("M2",)), ("M3", ())]
    assert seen(builds) == ["round or oval", "square"]


def test_builds_that_all_carried_the_same_pump_on_the_same_engine_need_no_question() -> None:
    builds = asked(build(1), build(2))
    assert (builds.choices, builds.settled, builds.question) == ((), ("M1", "M2"), None)


def test_two_builds_of_which_nobody_knows_the_pump_are_two_choices() -> None:
    assert len(asked(build(1, pump=""), build(2, pump="")).choices) == 2


@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_with_several_pumps_none_is_preselected_whichever_was_found(order: tuple[int, ...]) -> None:
    rows = [build(1), build(2, pump="P2"), build(3, "D2")]
    desk = CatalogDesk(catalog(*(rows[place] for place in order)), "Tiny")
    for row in rows:
        job = desk.open_job(None, row.entry_id, Quiet())
        assert (job.machine_id, job.pump_id, len(job.choices)) == (None, None, 3)


def test_a_build_of_which_nobody_knows_the_pump_stays_in_the_running() -> None:
    rows = (build(1), build(2, pump="P2"), build(3, "D2", pump=""))
    builds = builds_of(catalog(*rows), "P1", "M2")
    assert [choice.entry_id for choice in builds.choices] == ["M1", "M3"]
    assert builds_of(catalog(*rows[:2]), "P1", "M2").settled == ("M1",)


def test_every_choice_names_the_pump_it_left_the_maker_with() -> None:
    rows = (build(1), build(2, pump="P2"), build(3, pump=""))
    assert [choice.pump for choice in asked(*rows).choices] == ["LM100-A", "P2", ""]


# --- the fact that tells them apart


def test_what_the_catalog_says_to_look_for_comes_first() -> None:
    builds = asked(
        build(1, "D1", built_from=FIRST[0], built_to=FIRST[1], tell_apart="round cover"),
        build(2, "D2", built_from=SECOND[0], built_to=SECOND[1], tell_apart="square cover"),
    )
    assert seen(builds) == ["round cover", "square cover"]
    assert str(builds.question) == "This model was built in 2 ways: look for round cover or square cover."


@pytest.mark.parametrize("texts", [("round cover", ""), ("round cover", "Round cover")])
def test_a_text_that_only_one_build_has_or_both_have_tells_nothing(texts: tuple[str, str]) -> None:
    builds = asked(
        build(1, built_from=FIRST[0], built_to=FIRST[1], tell_apart=texts[0]),
        build(2, pump="P2", built_from=SECOND[0], built_to=SECOND[1], tell_apart=texts[1]),
    )
    assert seen(builds) == ["built 2009-01-01 to 2013-12-31", "built 2014-01-01 to 2018-12-31"]
    assert str(builds.question) == "This model was built in 2 ways: look for the day it was built."


@pytest.mark.parametrize(
    "second",
    [
        ("2013-12-31", "2018-12-31"),
        ("2014-01-01", ""),
        ("", "2018-12-31"),
        ("", ""),
        ("2008-01-01", "2019-12-31"),
        # A slip: it ends before it begins.
        ("2018-12-31", "2014-01-01"),
    ],
)
def test_dates_that_overlap_or_are_open_tell_nothing(second: tuple[str, str]) -> None:
    builds = asked(dated(1, *FIRST), dated(2, *second, pump="P2"))
    assert seen(builds) == ["", ""]
    assert [choice.is_told_apart for choice in builds.choices] == [False, False]
    assert str(builds.question) == (
        "This model was built in 2 ways, and nothing on file tells them apart: "
        "read the number on the pump, or measure with F7."
    )


def test_an_open_range_is_not_shown_as_one_day() -> None:
    rows = (dated(1, "2009-01-01", ""), dated(2, "", "2008-12-31", pump="P2"), dated(3, "", "", pump="P3"))
    assert [one.built for one in asked(*rows).choices] == ["from 2009-01-01 on", "until 2008-12-31", ""]


def test_every_build_of_a_group_must_lie_apart_by_its_days() -> None:
    later = dated(3, "2019-01-01", "2020-12-31")
    assert seen(asked(dated(1, *FIRST), dated(2, *SECOND, pump="P2"), later))[1] == "built 2014-01-01 to 2018-12-31"
    assert seen(asked(dated(1, *FIRST), dated(2, *SECOND, pump="P2"), dated(3, "2018-01-01", "2020-12-31"))) == ["", ""]


def test_the_engine_tells_where_no_day_does() -> None:
    builds = asked(build(1, "D1"), build(2, "D2"))
    assert seen(builds) == ["Lowmarsh Model D1", "Lowmarsh Model D2"]
    assert str(builds.question) == ("This model was built in 2 ways: look at the plate of its engine or motor.")


def test_engines_of_one_name_are_told_by_their_numbers() -> None:
    twin = entry("D2", "driver")
    rows = (build(1, "D1"), build(2, "D2"))
    numbers = (Number("D1", "E-10", "maker", "plate"), Number("D2", "E-20", "maker", "plate"))
    same_name = catalog(*rows, numbers=numbers)
    same_name = tiny(
        machines=rows,
        numbers=numbers,
        observations=(),
        entries=(
            *(one for one in same_name.entries.values() if one.kind != "driver"),
            twin,
            type(twin)("D1", "driver", twin.maker, twin.name),
        ),
    )
    assert seen(builds_of(same_name, None, "M1")) == ["E-10", "E-20"]


@pytest.mark.parametrize(("how", "told"), [("measured", True), ("sheet", True), ("claimed", False), ("typical", False)])
def test_a_recorded_field_tells_unless_it_is_a_claim_or_a_habit(how: str, told: bool) -> None:
    rows = (build(1), build(2, pump="P2"))
    readings = (reading("P1", "has_unloader", "yes", how), reading("P2", "has_unloader", "no"))
    builds = asked(*rows, readings=readings)
    assert seen(builds) == (["Unloader built in: yes", "Unloader built in: no"] if told else ["", ""])


def test_a_field_known_of_one_build_or_in_two_versions_tells_nothing() -> None:
    rows = (build(1), build(2, pump="P2"))
    one = (reading("P1", "outlet_thread", "3/8-18 NPT"),)
    assert seen(asked(*rows, readings=one)) == ["", ""]
    other = reading("P2", "outlet_thread", "M22x1.5")
    assert seen(asked(*rows, readings=(*one, other))) == ["Outlet thread: 3/8-18 NPT", "Outlet thread: M22x1.5"]
    doubted = (*one, other, reading("P2", "outlet_thread", "G3/8"))
    assert seen(asked(*rows, readings=doubted)) == ["", ""]


def test_one_look_is_enough_where_one_fact_tells_all_apart() -> None:
    rows = (
        build(1, "D1", tell_apart="round cover"),
        build(2, "D2", tell_apart="round cover"),
        build(3, "D3", tell_apart="square cover"),
    )
    assert seen(asked(*rows)) == ["Lowmarsh Model D1", "Lowmarsh Model D2", "Lowmarsh Model D3"]


def test_two_looks_tell_what_one_does_not() -> None:
    rows = (
        build(1, "D1", tell_apart="round cover"),
        build(2, "D1", pump="P2", tell_apart="square cover"),
        build(3, "D2", pump="P2", tell_apart="square cover"),
    )
    builds = asked(*rows)
    assert seen(builds) == [
        "round cover",
        "square cover, Lowmarsh Model D1",
        "square cover, Lowmarsh Model D2",
    ]
    assert str(builds.question) == (
        "This model was built in 3 ways: look for round cover or square cover; "
        "if that leaves several, look at the plate of its engine or motor."
    )


def test_builds_that_stay_alike_say_so() -> None:
    rows = (build(1, "D1"), build(2, "D2"), build(3, "D2", pump="P2"))
    builds = asked(*rows)
    assert [one.is_told_apart for one in builds.choices] == [True, False, False]
    assert str(builds.question) == (
        "This model was built in 3 ways: look at the plate of its engine or motor. "
        "Not all are told apart: read the number on the pump, or measure with F7."
    )


def test_machines_of_several_models_are_told_by_the_model() -> None:
    rows = (MachineRow("M1", MODEL, "D1", "P1"), MachineRow("M2", "Tern 40", "D1", "P1"))
    assert seen(builds_of(catalog(*rows), "P1", None)) == [MODEL, "Tern 40"]


def test_a_list_too_long_to_read_is_not_compared() -> None:
    rows = [build(place, f"D{place}") for place in range(1, MOST_COMPARED + 2)]
    assert set(seen(asked(*rows))) == {""}
    assert "" not in seen(asked(*rows[:MOST_COMPARED]))


# --- builds that are alike, judged


def alike(*second: Observation) -> CatalogDesk:
    rows = (build(1), build(2))
    first = tuple(row for row in ROWS.observations if row.entry_id == "M1")
    pumps = tuple(row for row in ROWS.observations if row.entry_id != "M1")
    names = (*ROWS.entries, entry("M2", "machine"))
    return CatalogDesk(tiny(machines=rows, entries=names, observations=(*first, *second, *pumps)), "Tiny")


def copied(**changed: float) -> tuple[Observation, ...]:
    of_first = [row for row in ROWS.observations if row.entry_id == "M1"]
    kept = [row for row in of_first if row.field not in changed]
    moved = [
        reading("M2", row.field, row.value if row.value is not None else row.text, doubt=row.doubt) for row in kept
    ]
    return (*moved, *(reading("M2", field, value) for field, value in changed.items()))


def verdicts(desk: CatalogDesk) -> set[Verdict]:
    job = desk.open_job(None, "M1", Quiet())
    assert (job.machine_id, job.sisters) == ("M1", ("M2",))
    return {row.judgement.verdict for row in desk.judge_all(job, Quiet()).rows}


def test_of_builds_that_are_alike_only_what_is_known_of_all_counts() -> None:
    assert verdicts(alike(*copied())) == {Verdict.FITS}
    assert verdicts(alike()) == {Verdict.NOT_KNOWN_YET}


def test_where_builds_that_are_alike_differ_each_version_is_judged() -> None:
    desk = alike(*copied(shaft_projection_mm=12.0))
    known = job_values(desk.catalog, None, "M1", sisters=("M2",)).machine["shaft_projection_mm"]
    assert len(known) == 2
    assert Verdict.FITS not in verdicts(desk)


def test_the_choice_that_is_taken_keeps_its_sisters() -> None:
    desk = alike()
    job = desk.pick_build(desk.open_job(None, "M1", Quiet()), "M1", Quiet(), sisters=("M2",))
    assert job.sisters == ("M2",)
    assert {row.judgement.verdict for row in desk.judge_all(job, Quiet()).rows} == {Verdict.NOT_KNOWN_YET}


def test_choices_are_plain_values() -> None:
    (choice, _) = asked(build(1), build(2, pump="P2")).choices
    assert isinstance(choice, MachineChoice)
    assert choice.maker == "Lowmarsh"


def test_what_one_build_is_known_to_have_makes_no_room_for_a_claim_of_the_old_pump() -> None:
    known = reading("M1", "supply_thread", "3/4-11.5 NH", "measured"), reading("P1", "inlet_thread", "G3/8 flat end")
    of_both = catalog(build(1), build(2), readings=known)
    (alone,) = job_values(of_both, None, "M1").machine["supply_thread"]
    told = job_values(of_both, None, "M1", sisters=("M2",)).machine["supply_thread"]
    assert alone in told
    assert len(told) == 2
