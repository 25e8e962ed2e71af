"""Entries by what was measured: nothing that the readings allow is ever left out."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.strategies import DataObject

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.tiny import entry, reading, tiny, tiny_rows, without
from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fields.fields import field_for
from xref_app.core.model.catalog import Observation
from xref_app.core.model.known import Dimension, Fact, Hole, How, Known, Pattern, Seats
from xref_app.core.model.observed import known_of
from xref_app.core.quantity.range import Range
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.size_match import CHANGEABLE, Match, limits_met, match_of
from xref_app.services.size_search import bench_ids, entries_meeting, entry_against

ROWS = tiny_rows()
SAMPLE = catalog_of(sample_rows())
KINDS = ("pump", "driver", "machine")
IDS = {kind: [one.entry_id for one in SAMPLE.entries.values() if one.kind == kind] for kind in KINDS}


def with_pump(*said: Observation) -> Catalog:
    """Return the tiny catalog and a pump P9 of which only this is known."""
    return tiny(entries=(*ROWS.entries, entry("P9", "pump")), observations=(*ROWS.observations, *said))


def met(catalog: Catalog, readings: Mapping[str, Known], kind: str = "pump") -> set[str]:
    return {hit.entry_id for hit in entries_meeting(catalog, kind, readings)}


def holes(*points: tuple[float, float], doubt: float = 0.1) -> Pattern:
    return Pattern(tuple(Hole(*point) for point in points), doubt)


def on_circle(across_mm: float, *degrees: float, turned: float = 0.0, doubt: float = 0.1) -> Pattern:
    turns = [math.radians(one + turned) for one in degrees]
    return holes(*((across_mm / 2 * math.cos(one), across_mm / 2 * math.sin(one)) for one in turns), doubt=doubt)


def match(field: str, ours: Known, *theirs: Known) -> Match:
    return match_of(field_for(field), ours, theirs)


def test_one_measured_size_leaves_the_pumps_whose_range_it_meets() -> None:
    # P9 is 60 ± 0.1 deep, the example's pumps 65 ± 0.1: 60.15 ± 0.1 meets the first only
    catalog = with_pump(reading("P9", "bore_depth_mm", 60.0))
    assert met(catalog, {"bore_depth_mm": Dimension(60.15, 0.1)}) == {"P9"}
    assert met(catalog, {"bore_depth_mm": Dimension(60.25, 0.1)}) == set()


def test_what_is_not_known_of_an_entry_never_excludes_it() -> None:
    (hit,) = entries_meeting(with_pump(), "pump", {"bore_depth_mm": Dimension(11.0, 0.1)})
    assert (hit.entry_id, hit.agreeing, hit.contradicting, hit.unknown) == ("P9", (), (), ("bore_depth_mm",))


def test_a_habit_neither_agrees_nor_excludes() -> None:
    catalog = with_pump(reading("P9", "bore_depth_mm", 60.0, "typical"))
    (hit,) = entries_meeting(catalog, "pump", {"bore_depth_mm": Dimension(11.0, 0.1)})
    assert hit.unknown == ("bore_depth_mm",)
    assert match("bore_depth_mm", Dimension(60.0, 0.1, How.TYPICAL), Dimension(60.0, 0.1)) is Match.OPEN


def test_those_that_agree_in_most_fields_come_first() -> None:
    catalog = with_pump(reading("P9", "bore_depth_mm", 65.0))
    known = {name: values[0] for name, values in catalog.known("P1").items()}
    hits = entries_meeting(catalog, "pump", {name: known[name] for name in ("bore_depth_mm", "bore_form")})
    assert [(hit.entry_id, len(hit.agreeing)) for hit in hits] == [("P1", 2), ("P2", 2), ("P9", 1)]
    assert (hits[0].number, hits[0].maker, hits[0].name) == ("LM100-A", "Lowmarsh", "Model P1")
    told_of_p9_alone = with_pump(reading("P9", "bore_depth_mm", 65.0), reading("P9", "pump_length_mm", 333.0))
    rows = without(told_of_p9_alone.observations["P1"], "P1", "pump_length_mm", "bore_depth_mm")
    catalog = tiny(
        entries=(*ROWS.entries, entry("P9", "pump")), observations=(*rows, *told_of_p9_alone.observations["P9"])
    )
    assert [hit.entry_id for hit in entries_meeting(catalog, "pump", {"bore_depth_mm": known["bore_depth_mm"]})] == [
        "P9",
        "P1",
        "P2",
    ]


def test_one_entry_is_told_what_contradicts_it() -> None:
    hit = entry_against(with_pump(), "P1", {"bore_depth_mm": Dimension(11.0, 0.1), "bore_form": Fact("hollow keyed")})
    assert (hit.agreeing, hit.contradicting, hit.unknown) == (("bore_form",), ("bore_depth_mm",), ())


def test_a_machine_is_known_with_its_engine() -> None:
    shaft = reading("D1", "shaft_diameter_mm", 25.4)
    rows = (*without(ROWS.observations, "M1", "shaft_diameter_mm"), shaft)
    assert met(tiny(observations=rows), {"shaft_diameter_mm": Dimension(25.4, 0.05)}, "machine") == {"M1"}
    assert met(tiny(observations=rows), {"shaft_diameter_mm": Dimension(19.05, 0.05)}, "machine") == set()
    assert met(tiny(observations=rows), {"shaft_diameter_mm": Dimension(25.4, 0.05)}, "driver") == {"D1"}


def test_a_field_that_does_not_exist_is_named() -> None:
    with pytest.raises(UnknownFieldError, match="bore_dept_mm"):
        entries_meeting(tiny(), "pump", {"bore_dept_mm": Dimension(1.0, 0.1)})


def test_either_of_two_contradicting_versions_may_be_the_right_one() -> None:
    catalog = with_pump(reading("P9", "bore_depth_mm", 70.0), reading("P9", "bore_depth_mm", 74.5))
    assert met(catalog, {"bore_depth_mm": Dimension(70.0, 0.1)}) == {"P9"}
    assert met(catalog, {"bore_depth_mm": Dimension(74.5, 0.1)}) == {"P9"}
    assert met(catalog, {"bore_depth_mm": Dimension(72.25, 0.1)}) == set()


def test_a_damaged_entry_is_not_excluded_by_what_is_left_of_it() -> None:
    damaged = replace(tiny(), damaged=Damage(1, frozenset({"P2"})))
    (hit,) = entries_meeting(damaged, "pump", {"bore_depth_mm": Dimension(11.0, 0.1)})
    assert (hit.entry_id, hit.contradicting, hit.unknown) == ("P2", (), ("bore_depth_mm",))
    assert entry_against(damaged, "P2", {"bore_depth_mm": Dimension(11.0, 0.1)}).contradicting == ("bore_depth_mm",)


def test_a_nominal_size_stands_for_the_finished_one_within_its_limits() -> None:
    # ISO 286, H9 over 18 to 30 mm: +0.052 -0; h9: +0 -0.052. A sheet says 7/8 in exactly, 22.225.
    nominal = Dimension(22.225, 0.0, How.SHEET)
    assert match("bore_diameter_mm", Dimension(22.27, 0.005), nominal) is Match.AGREES
    assert match("bore_diameter_mm", Dimension(22.30, 0.005), nominal) is Match.CONTRADICTS
    assert match("shaft_diameter_mm", Dimension(22.18, 0.005), nominal) is Match.AGREES
    assert match("shaft_diameter_mm", Dimension(22.27, 0.005), nominal) is Match.CONTRADICTS
    # both inside the limits of the bore, neither at the nominal size
    assert match("bore_diameter_mm", Dimension(22.235, 0.005), Dimension(22.265, 0.005)) is Match.AGREES
    # a depth is made to no standard size
    assert match("bore_depth_mm", Dimension(22.27, 0.005), nominal) is Match.CONTRADICTS


def test_a_keyway_read_anywhere_in_its_limits_may_be_the_nominal_one() -> None:
    # ASME B17.1, class 1: keyway of a 3/16 in key is 0.1875 +0.002 in
    sheet = Dimension(4.7625, 0.0, How.SHEET)
    assert match("bore_keyway_width_mm", Dimension(4.7625 + 0.045, 0.002), sheet) is Match.AGREES
    assert match("bore_keyway_width_mm", Dimension(4.775, 0.002), Dimension(4.805, 0.002)) is Match.AGREES
    assert match("bore_keyway_width_mm", Dimension(4.7625 + 0.060, 0.002), sheet) is Match.CONTRADICTS


def test_a_pressure_printed_in_another_unit_is_the_same_rating() -> None:
    # 2500 psi is 172.37 bar; plates print 172
    assert match("rating_pressure_bar", Dimension(172.0, 0.0), Dimension(172.369, 0.0)) is Match.AGREES
    assert match("rating_speed_rpm", Dimension(3400.0, 0.0), Dimension(3450.0, 0.0)) is Match.CONTRADICTS


def test_holes_are_the_same_in_any_order_and_at_any_turn() -> None:
    square = on_circle(92.1, 45, 135, 225, 315)
    assert match("flange_holes_xy_mm", on_circle(92.1, 225, 45, 315, 135, turned=17), square) is Match.AGREES
    assert match("flange_holes_xy_mm", on_circle(88.9, 45, 135, 225, 315), square) is Match.CONTRADICTS
    assert match("flange_holes_xy_mm", on_circle(92.1, 40, 140, 220, 320), square) is Match.CONTRADICTS
    assert match("flange_holes_xy_mm", on_circle(92.1, 45, 135, 225), square) is Match.CONTRADICTS


def test_holes_may_be_out_by_both_doubts_on_both_coordinates() -> None:
    # each coordinate of each side may be 0.1 mm out: radius out by √2 · 0.2 = 0.283 mm, across by 0.566
    square = on_circle(92.1, 45, 135, 225, 315)
    assert match("flange_holes_xy_mm", on_circle(92.1 + 0.56, 45, 135, 225, 315), square) is Match.AGREES
    assert match("flange_holes_xy_mm", on_circle(92.1 + 0.57, 45, 135, 225, 315), square) is Match.CONTRADICTS


def test_a_slot_takes_a_hole_read_anywhere_along_it() -> None:
    slotted = Pattern((Hole(40.0, 0.0, 10.0, 0.0), Hole(-40.0, 0.0, 10.0, 0.0)), 0.1)
    assert match("flange_holes_xy_mm", holes((44.9, 0.0), (-36.0, 0.0)), slotted) is Match.AGREES
    assert match("flange_holes_xy_mm", slotted, holes((44.9, 0.0), (-36.0, 0.0))) is Match.AGREES
    assert match("flange_holes_xy_mm", holes((46.0, 0.0), (-36.0, 0.0)), slotted) is Match.CONTRADICTS


def test_seats_are_compared_below_the_highest_beginning_anywhere() -> None:
    legs = Seats((0.0, -1.0, -2.0, -3.0), 0.05)
    assert match("flange_seat_heights_mm", Seats((-2.0, -3.0, 0.0, -1.0), 0.05), legs) is Match.AGREES
    assert match("flange_seat_heights_mm", Seats((3.0, 2.0, 1.0, 0.0), 0.05), legs) is Match.AGREES
    assert match("flange_seat_heights_mm", Seats((-2.0, -1.0, 0.0, -3.0), 0.05), legs) is Match.AGREES
    assert match("flange_seat_heights_mm", Seats((0.0, -2.0, -1.0, -3.0), 0.05), legs) is Match.CONTRADICTS
    assert match("flange_seat_heights_mm", Seats((0.0, -1.09, -2.0, -3.0), 0.05), legs) is Match.AGREES
    assert match("flange_seat_heights_mm", Seats((0.0, -1.11, -2.0, -3.0), 0.05), legs) is Match.CONTRADICTS
    assert match("flange_seat_heights_mm", Seats((0.0, -1.0, -2.0), 0.05), legs) is Match.OPEN


def test_threads_are_compared_by_what_they_name() -> None:
    assert match("inlet_thread", Fact("3/4-11.5 nh"), Fact("3/4-11.5 NH")) is Match.AGREES
    assert match("inlet_thread", Fact("M22 x 1.5"), Fact("M22x1.5")) is Match.AGREES
    assert match("inlet_thread", Fact("G3/8"), Fact("3/8-18 NPT")) is Match.CONTRADICTS
    # ISO 7-1: taper R and straight Rp share size and pitch; a gauge does not tell them apart
    assert match("inlet_thread", Fact("R3/8"), Fact("Rp3/8")) is Match.OPEN
    assert match("inlet_thread", Fact("R3/8"), Fact("Rp1/2")) is Match.CONTRADICTS
    assert match("inlet_thread", Fact("the odd one"), Fact("G3/8")) is Match.OPEN
    # A flare is no O-ring port of the same thread; where one side does not say which it is, the thread agrees.
    assert match("inlet_thread", Fact("7/8-14 UNF flare 37"), Fact("7/8-14 UNF O-ring")) is Match.CONTRADICTS
    assert match("inlet_thread", Fact("7/8-14 UNF"), Fact("7/8-14 UNF O-ring")) is Match.AGREES


def test_a_word_that_allows_both_excludes_neither() -> None:
    assert match("bore_axis", Fact("vertical"), Fact("both")) is Match.OPEN
    assert match("bore_turn", Fact("cw"), Fact("either")) is Match.OPEN
    assert match("oil", Fact("vented for a vertical shaft"), Fact("vented for both")) is Match.OPEN
    assert match("bore_axis", Fact("vertical"), Fact("horizontal")) is Match.CONTRADICTS


def test_what_an_owner_may_have_changed_excludes_nothing() -> None:
    yes, no = Fact(value=True), Fact(value=False)
    assert {"has_inlet_screen", "supply_flow_lpm", "nozzle_number", "discharge_thread"} <= CHANGEABLE
    assert match("has_inlet_screen", yes, no) is Match.OPEN
    assert match("has_inlet_screen", yes, yes) is Match.AGREES
    assert not {"bore_depth_mm", "inlet_thread", "outlet_thread", "shaft_diameter_mm", "power_kw"} & CHANGEABLE


def _again(data: DataObject, field: str, known: Known) -> Known:
    """Return the thing measured once more: some true value that the entry allows, read anew with a doubt of its own."""
    doubt = data.draw(st.sampled_from((0.0, 0.02, 0.1, 0.5)))
    out = st.floats(-1.0, 1.0)
    match known:
        case Dimension():
            true = data.draw(_true_sizes(field, known))
            return Dimension(true + doubt * data.draw(out), doubt)
        case Pattern():
            turn = math.radians(data.draw(st.floats(0, 360)))
            order = data.draw(st.permutations(known.holes))
            moved = [_moved(hole, turn, (known.doubt_mm, doubt), (data.draw(out), data.draw(out))) for hole in order]
            return Pattern(tuple(moved), doubt)
        case Seats():
            start = data.draw(st.integers(0, len(known.heights_mm) - 1))
            heights = known.heights_mm[start:] + known.heights_mm[:start]
            highest = max(heights)
            lower = [
                one if one == highest else min(highest, one + (known.doubt_mm + doubt) * data.draw(out))
                for one in heights
            ]
            return Seats(tuple(lower), doubt)
        case Fact():
            return Fact(known.value)


def _true_sizes(field: str, known: Dimension) -> st.SearchStrategy[float]:
    """Return the sizes the feature may truly have: as read, or, made to a standard size, anywhere in its limits."""
    spans = (known.range, *limits_met(field_for(field), known.range))
    return st.sampled_from(spans).flatmap(lambda span: st.floats(span.low, span.high))


def _moved(hole: Hole, turn: float, doubts: tuple[float, float], outs: tuple[float, float]) -> Hole:
    """Return a hole listed by another person: off the truth by their doubt in a frame of theirs, the truth by ours."""
    x, y = hole.x_mm + doubts[0] * outs[0], hole.y_mm + doubts[0] * outs[1]
    cos, sin = math.cos(turn), math.sin(turn)
    x, y = x * cos - y * sin + doubts[1] * outs[1], x * sin + y * cos + doubts[1] * outs[0]
    return Hole(x, y, hole.slot_mm, (hole.slot_deg + math.degrees(turn)) % 360)


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_an_entry_measured_again_within_its_doubts_is_always_among_those_found(data: DataObject) -> None:
    kind = data.draw(st.sampled_from(KINDS))
    entry_id = data.draw(st.sampled_from(IDS[kind]))
    known = SAMPLE.known(*bench_ids(SAMPLE, entry_id))
    fields = data.draw(st.lists(st.sampled_from(sorted(known)), unique=True)) if known else []
    readings = {field: _again(data, field, data.draw(st.sampled_from(known[field]))) for field in fields}
    assert entry_against(SAMPLE, entry_id, readings).contradicting == ()
    assert entry_id in met(SAMPLE, readings, kind)


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_one_more_reading_never_adds_an_entry(data: DataObject) -> None:
    kind = data.draw(st.sampled_from(KINDS))
    said: dict[str, Known] = {}
    for _ in range(data.draw(st.integers(1, 5))):
        known = SAMPLE.known(*bench_ids(SAMPLE, data.draw(st.sampled_from(IDS[kind]))))
        field = data.draw(st.sampled_from(sorted(known)))
        before = met(SAMPLE, said, kind)
        more = {**said, field: known[field][0]} if field not in said else said
        assert met(SAMPLE, more, kind) <= before
        said = more


def test_the_sample_is_narrowed_by_what_tells_its_pumps_apart() -> None:
    known = {field: values[0] for field, values in SAMPLE.known("P-001").items()}
    left = met(SAMPLE, known)
    assert "P-001" in left
    assert len(left) < len(IDS["pump"]) / 2


def test_every_reading_of_the_sample_meets_its_own_entry() -> None:
    for entry_id in IDS["pump"]:
        for one in SAMPLE.observations[entry_id]:
            strongest = SAMPLE.known(entry_id)[one.field][0].how
            said = known_of(field_for(one.field), one)
            if said.how is strongest and said.how.decides:
                assert not entry_against(SAMPLE, entry_id, {one.field: said}).contradicting


def test_each_catalog_answers_for_itself() -> None:
    for depth in (50.0, 60.0, 70.0):
        catalog = with_pump(reading("P9", "bore_depth_mm", depth))
        assert met(catalog, {"bore_depth_mm": Dimension(depth, 0.1)}) == {"P9"}


def test_limits_are_only_those_of_features_made_to_standard_sizes() -> None:
    assert limits_met(field_for("bore_depth_mm"), Range(20.0, 30.0)) == ()
    assert limits_met(field_for("bore_diameter_mm"), Range(22.2, 22.3)) != ()
