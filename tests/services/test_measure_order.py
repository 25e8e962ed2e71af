"""The next question at the bench: rules out most in the least time, never asked twice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.tiny import entry, reading
from xref_app.core.fields.fields import Field, Side, all_fields
from xref_app.core.model.catalog import Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.model.known import Dimension, Fact, Hole, How, Known, Pattern
from xref_app.services import told_apart
from xref_app.services.catalog import Catalog
from xref_app.services.measure_order import Question, next_question
from xref_app.services.size_match import Match, match_of
from xref_app.services.size_search import bench_ids, entries_meeting

SAMPLE = catalog_of(sample_rows())
KINDS = ("pump", "driver", "machine")
IDS = {kind: [one.entry_id for one in SAMPLE.entries.values() if one.kind == kind] for kind in KINDS}


def pumps(*said: Observation, count: int = 4) -> Catalog:
    """Return a catalog of P1 up to P<count>, of which only this is known."""
    return catalog_of(
        CatalogRows(entries=tuple(entry(f"P{n}", "pump") for n in range(1, count + 1)), observations=said)
    )


def of_each(field: str, *values: float | str, how: str = "measured") -> tuple[Observation, ...]:
    return tuple(reading(f"P{n}", field, value, how) for n, value in enumerate(values, 1))


def asked(catalog: Catalog, said: Mapping[str, Known] | None = None, *skipped: str, kind: str = "pump") -> Question:
    question = next_question(catalog, kind, said or {}, skipped)
    assert question is not None
    return question


def test_what_rules_out_most_in_a_minute_is_asked_first() -> None:
    # lengths differ all (each answer excludes 3), thicknesses in two pairs (2); one minute each, nothing to take off
    lengths = of_each("pump_length_mm", 100, 120, 140, 160)
    thicknesses = of_each("flange_thickness_mm", 10, 10, 20, 20)
    question = asked(pumps(*thicknesses, *lengths))
    assert (question.field, question.title, question.minutes) == ("pump_length_mm", "Pump length", 1.0)
    assert (question.candidates, question.rules_out, str(question.why)) == (4, 3.0, "tells 3 of 4 apart")
    second = asked(pumps(*thicknesses, *lengths), {}, "pump_length_mm")
    assert (second.field, second.rules_out) == ("flange_thickness_mm", 2.0)


def test_the_expectation_weighs_each_answer_by_how_many_would_give_it() -> None:
    # three alike, one not: 3/4 · 1 + 1/4 · 3 = 1.5
    assert asked(pumps(*of_each("flange_thickness_mm", 10, 10, 10, 20))).rules_out == 1.5
    # one is not known: it excludes nobody and stays, (1 · 2 + 2 · 1) / 4 = 1
    assert asked(pumps(*of_each("flange_thickness_mm", 10, 10, 20))).rules_out == 1.0


def test_readings_that_meet_within_their_doubts_tell_nothing_apart() -> None:
    # a caliper on a flange is good for 0.05 mm: 10.00 and 10.08 meet, 10.20 does not
    question = asked(pumps(*of_each("flange_thickness_mm", 10.0, 10.08, 10.2), count=3))
    assert question.rules_out == pytest.approx((1 + 1 + 2) / 3)


def test_what_must_come_off_first_costs_its_minutes_once() -> None:
    # the depth would rule out 3 in 11 minutes, the thickness 2 in one
    depths = of_each("bore_depth_mm", 50, 60, 70, 80)
    catalog = pumps(
        *depths, *of_each("flange_thickness_mm", 10, 10, 20, 20), *of_each("bore_form", *["hollow keyed"] * 4)
    )
    assert asked(catalog).field == "flange_thickness_mm"
    # with the form of the bore read the pump is off: 3 in one minute beats 2 in one
    question = asked(catalog, {"bore_form": Fact("hollow keyed")})
    assert (question.field, question.minutes) == ("bore_depth_mm", 1.0)
    assert asked(pumps(*depths)).minutes == 11.0


def test_words_threads_and_hole_patterns_are_counted_too() -> None:
    threads = of_each("inlet_thread", "G3/8", "G1/2", "G3/8", "3/8-18 NPT")
    assert asked(pumps(*threads)).rules_out == pytest.approx((2 + 3 + 2 + 3) / 4)
    square, wide = "40 0; 0 40; -40 0; 0 -40", "45 0; 0 45; -45 0; 0 -45"
    turned = "28.284 28.284; -28.284 28.284; -28.284 -28.284; 28.284 -28.284"
    question = asked(pumps(*of_each("flange_holes_xy_mm", square, wide, turned, square)))
    assert question.field == "flange_holes_xy_mm"
    assert question.rules_out == pytest.approx((1 + 3 + 1 + 1) / 4)


def test_contradicting_versions_are_ruled_out_only_by_what_contradicts_all() -> None:
    both = (reading("P1", "flange_thickness_mm", 10.0), reading("P1", "flange_thickness_mm", 20.0))
    catalog = pumps(*both, reading("P2", "flange_thickness_mm", 10.0), count=2)
    assert asked(catalog).rules_out == 0.0


def test_habits_and_what_owners_change_tell_nothing() -> None:
    habit = of_each("flange_thickness_mm", 10, 20, 30, 40, how="typical")
    screens = of_each("has_inlet_screen", "yes", "no", "yes", "no")
    assert asked(pumps(*habit, *screens)).rules_out == 0.0


def test_where_the_catalog_does_not_help_the_fit_decides_the_order() -> None:
    question = asked(pumps(count=1))
    assert (question.field, question.rules_out, str(question.why)) == ("bore_form", 0.0, "needed to judge the fit")
    said: dict[str, Known] = {"bore_form": Fact("hollow keyed")}
    assert asked(pumps(), said).field == "bore_diameter_mm"
    assert asked(pumps(), said, "bore_diameter_mm").field == "bore_keyway_width_mm"
    assert asked(pumps(count=0)).candidates == 0
    assert asked(pumps(), kind="driver").field == "shaft_form"
    assert asked(pumps(), kind="machine").field == "shaft_form"


def test_nothing_is_asked_of_what_is_known_not_to_be_there() -> None:
    unwanted = {"bore_keyway_width_mm", "bore_keyway_floor_mm", "flange_pilot_mm", "flange_seat_heights_mm"}
    said: dict[str, Known] = {
        "bore_form": Fact("hollow plain"),
        "flange_pilot_kind": Fact("none"),
        "flange_seat_kind": Fact("flat face"),
        "inlet_thread": Fact("G3/8"),
        "outlet_thread": Fact("M22x1.5"),
    }
    fields = _asked_to_the_end(pumps(), "pump", said)
    assert not unwanted & set(fields)
    assert "inlet_seal_mm" not in fields
    assert "outlet_seal_mm" in fields


def _asked_to_the_end(catalog: Catalog, kind: str, said: Mapping[str, Known]) -> list[str]:
    """Return what is asked, each skipped, until nothing is left."""
    fields: list[str] = []
    while (question := next_question(catalog, kind, said, fields)) is not None:
        fields.append(question.field)
    return fields


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_is_asked_once_in_the_end(kind: str) -> None:
    fields = _asked_to_the_end(SAMPLE, kind, {})
    side = Side.PUMP if kind == "pump" else Side.MACHINE
    whole = {
        one.field_id for one in all_fields().values() if one.side is side and not one.field_id.endswith("_seal_mm")
    }
    if kind == "driver":
        whole = {field for field in whole if field.startswith(("shaft_", "face_", "power_"))}
    assert len(fields) == len(set(fields))
    assert set(fields) == whole


@settings(max_examples=20, deadline=None)
@given(st.data())
def test_what_was_read_or_skipped_is_never_asked_again(data: st.DataObject) -> None:
    kind = data.draw(st.sampled_from(KINDS))
    known = SAMPLE.known(*bench_ids(SAMPLE, data.draw(st.sampled_from(IDS[kind]))))
    said: dict[str, Known] = {}
    skipped: list[str] = []
    for _ in range(8):
        question = next_question(SAMPLE, kind, said, skipped)
        assert question is not None
        assert question.field not in {*said, *skipped}
        assert question.candidates == len(entries_meeting(SAMPLE, kind, said))
        assert 0 <= question.rules_out < max(1, question.candidates)
        if question.field in known and data.draw(st.booleans()):
            said[question.field] = known[question.field][0]
        else:
            skipped.append(question.field)


def test_a_pump_is_recognised_in_less_time_than_by_going_down_the_list() -> None:
    """The point of asking in this order: minutes at the bench until at most ten of the sample's pumps are left."""
    in_order = schema = 0.0
    for pump in IDS["pump"][::9]:
        known = {field: values[0] for field, values in SAMPLE.known(pump).items() if values[0].how.decides}
        in_order += _minutes_asking(known)
        schema += _minutes_down_the_list(known)
    assert in_order < 0.8 * schema


_FEW = 10


def _minutes_asking(known: Mapping[str, Known]) -> float:
    said: dict[str, Known] = {}
    unknown: list[str] = []
    minutes = 0.0
    while (question := next_question(SAMPLE, "pump", said, unknown)) is not None and question.candidates > _FEW:
        if question.field in known:
            said[question.field] = known[question.field]
            minutes += question.minutes
        else:
            unknown.append(question.field)
    return minutes


def _minutes_down_the_list(known: Mapping[str, Known]) -> float:
    """Return the same in the order of the schema; the pump comes off once, for ten minutes, a hose for half a one."""
    said: dict[str, Known] = {}
    off = {""}
    minutes = 0.0
    for field in all_fields():
        if field not in known or len(entries_meeting(SAMPLE, "pump", said)) <= _FEW:
            continue
        said[field] = known[field]
        first = all_fields()[field].comes_off_first
        minutes += all_fields()[field].minutes
        minutes += 0.0 if first in off else 10.0 if first.startswith("pump") else 0.5
        off.add(first)
    return minutes


def test_comparing_does_not_grow_with_the_square(monkeypatch: pytest.MonkeyPatch) -> None:
    """Twenty times the entries want twenty times the comparisons at most; each with each would take four hundred."""
    compared = Counter[int]()
    for count in (100, 2000):
        catalog = _many(count)

        def counting(field: Field, one: Known, others: Sequence[Known], size: int = count) -> Match:
            compared[size] += 1
            return match_of(field, one, others)

        monkeypatch.setattr(told_apart, "match_of", counting)
        assert next_question(catalog, "pump", {}, ()) is not None
    assert compared[100] > 0
    assert compared[2000] <= 20 * compared[100]


def _many(count: int) -> Catalog:
    rows = []
    for n in range(1, count + 1):
        across = 60 + n * 7 % count * 0.05
        rows += [
            reading(f"P{n}", "pump_length_mm", 100 + n * 0.5),
            reading(f"P{n}", "bore_depth_mm", 40 + n * 0.013),
            reading(f"P{n}", "flange_holes_xy_mm", f"{across} 0; 0 {across}; {-across} 0; 0 {-across}"),
            reading(f"P{n}", "inlet_thread", ("G3/8", "G1/2", "3/8-18 NPT")[n % 3]),
        ]
    return pumps(*rows, count=count)


def test_beyond_the_most_compared_the_rest_counts_as_like_those() -> None:
    # 100 patterns that all differ: each answer excludes 99; 64 compared, told as for the whole
    rows = [reading(f"P{n}", "flange_holes_xy_mm", f"{20 + n} 0; {-20 - n} 0") for n in range(1, 101)]
    question = asked(pumps(*rows, count=100))
    assert question.rules_out == pytest.approx(99, rel=0.01)


def test_a_reading_with_no_doubt_of_its_own_is_taken_with_that_of_the_tool() -> None:
    # two sheets say 10.00 and 10.08 exactly; whoever measures with ± 0.05 cannot tell them apart
    exact = [replace(one, doubt=0.0) for one in of_each("flange_thickness_mm", 10.0, 10.08, how="sheet")]
    assert asked(pumps(*exact, count=2)).rules_out == 0.0


def test_a_pattern_read_on_the_bench_narrows_what_is_asked_of() -> None:
    square, wide = "40 0; 0 40; -40 0; 0 -40", "45 0; 0 45; -45 0; 0 -45"
    catalog = pumps(*of_each("flange_holes_xy_mm", square, wide, square, square))
    read = Pattern((Hole(40, 0), Hole(0, 40), Hole(-40, 0), Hole(0, -40)), 0.1)
    assert asked(catalog, {"flange_holes_xy_mm": read}).candidates == 3
    assert asked(catalog, {"flange_thickness_mm": Dimension(10.0, 0.05, How.MEASURED)}).candidates == 4
