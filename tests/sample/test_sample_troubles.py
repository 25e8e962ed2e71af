"""The sample is as large as promised, and the trade's troubles are in it."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from itertools import combinations, pairwise
from math import atan2, degrees, dist, hypot

import pytest

from tests.sample.make_sample_catalog import sample_rows
from tests.sample.troubles import CONTRADICTIONS
from xref_app.core.fields.fields import Kind, all_fields, field_for
from xref_app.core.model.catalog import Observation
from xref_app.core.quantity.observed import FieldForm, FieldKind, read_field

ROWS = sample_rows()
KIND_OF = {entry.entry_id: entry.kind for entry in ROWS.entries}
IN_USE = [one for one in ROWS.observations if not one.withdrawn_on]
# Characters that a worn plate does not tell apart (design, section 6).
LOOK_ALIKE = ({"0", "O"}, {"1", "I"}, {"2", "Z"}, {"5", "S"}, {"6", "G"}, {"8", "B"})
IN_PORTS = {
    f"{port}_{end}" for port in ("inlet", "outlet", "supply", "discharge") for end in ("thread", "gender", "seal_mm")
}
IN_PORTS.add("outlet_direction_deg")
# Sizes that need not exist: of through holes, of pilots, of legs.
ONLY_SOME_HAVE = {"face_hole_mm", "face_thickness_mm"} | {
    f"{side}_{what}" for side in ("face", "flange") for what in ("pilot_mm", "pilot_depth_mm", "seat_heights_mm")
}


def _values(field: str) -> set[float | None]:
    return {one.value for one in IN_USE if one.field == field}


def _read_as(field: str, size: float, *, within: float) -> bool:
    return any(value is not None and abs(value - size) <= within for value in _values(field))


def _words(field: str) -> dict[str, str]:
    return {one.entry_id: one.text for one in IN_USE if one.field == field}


def _cells(kind: str) -> set[str]:
    driver = ("shaft_", "face_", "power_")
    for_all = set(all_fields()) - IN_PORTS - ONLY_SOME_HAVE
    if kind == "pump":
        return {name for name in for_all if field_for(name).side == "pump"}
    machine_side = {name for name in for_all if field_for(name).side == "machine"}
    return {name for name in machine_side if name.startswith(driver) == (kind == "driver")}


def test_there_is_as_much_as_promised() -> None:
    kinds = Counter(KIND_OF.values())
    parts = Counter(part.kind for part in ROWS.parts)
    assert kinds["pump"] >= 90
    assert len(ROWS.machines) == kinds["machine"] >= 50
    assert len(ROWS.drivers) == kinds["driver"] >= 24
    assert len(ROWS.parts) >= 180
    assert parts["fitting"] >= 80
    assert len(ROWS.salvaged_units) >= 30
    assert len(ROWS.numbers) >= 250
    assert len(ROWS.outcomes) >= 10
    assert {number.entry_id for number in ROWS.numbers} == set(KIND_OF)
    assert len({part.name for part in ROWS.parts}) == len(ROWS.parts)


def test_a_quarter_of_the_cells_is_unknown() -> None:
    known = {(one.entry_id, one.field) for one in IN_USE}
    cells = [(entry_id, field) for entry_id, kind in KIND_OF.items() for field in _cells(kind)]
    unknown = sum(cell not in known for cell in cells) / len(cells)
    assert 0.23 <= unknown <= 0.27


def test_ports_lie_in_their_own_table_and_each_side_has_its_own() -> None:
    assert not IN_PORTS & {one.field for one in ROWS.observations}
    ports = defaultdict(set)
    for port in ROWS.ports:
        ports[KIND_OF[port.entry_id]].add(port.port)
    assert ports == {"pump": {"inlet", "outlet"}, "machine": {"supply", "discharge"}}


def test_some_values_are_only_claimed_and_some_pumps_are_known_by_claims_alone() -> None:
    hows = defaultdict(set)
    for one in IN_USE:
        hows[one.entry_id].add(one.how)
    assert sum(one.how == "claimed" for one in IN_USE) >= 150
    assert sum(known == {"claimed"} for known in hows.values()) >= 5
    assert any(one.how == "typical" for one in IN_USE)
    assert any(one.withdrawn_on for one in ROWS.observations)


def test_readings_of_equal_rank_contradict() -> None:
    measured = defaultdict(list)
    for one in IN_USE:
        if one.how == "measured":
            measured[one.entry_id, one.field].append(one)
    twice = {place: two for place, two in measured.items() if len(two) > 1}
    assert set(twice) == {(pump, field) for pump, fields in CONTRADICTIONS.items() for field in fields}
    assert len(twice) >= 2
    for (_, field), (first, second) in twice.items():
        assert first.text != second.text or _apart(first, second) > 2 * field_for(field).default_doubt


def _apart(first: Observation, second: Observation) -> float:
    assert first.value is not None
    assert second.value is not None
    return abs(first.value - second.value)


def test_chains_of_replacements_run_over_three_steps() -> None:
    step = {row.entry_id: row.new_entry_id for row in ROWS.replaced_by}
    lengths = []
    for start in set(step) - set(step.values()):
        place, length = start, 0
        while place in step:
            place, length = step[place], length + 1
        lengths.append(length)
    assert sorted(lengths) == [1, 2, 3, 3]


def test_numbers_of_different_pumps_differ_by_one_look_alike() -> None:
    found = set()
    by_length = defaultdict(list)
    for number in ROWS.numbers:
        by_length[len(number.number)].append(number)
    for same_length in by_length.values():
        for one, other in combinations(same_length, 2):
            pairs = [{a, b} for a, b in zip(one.number, other.number, strict=True) if a != b]
            if len(pairs) == 1 and one.entry_id != other.entry_id and pairs[0] in LOOK_ALIKE:
                found.add(frozenset(pairs[0]))
    assert found == {frozenset(pair) for pair in LOOK_ALIKE}


def test_one_pump_goes_by_four_numbers() -> None:
    roles = defaultdict(set)
    counts = Counter(number.entry_id for number in ROWS.numbers if KIND_OF[number.entry_id] == "pump")
    for number in ROWS.numbers:
        roles[number.entry_id].add(number.role)
    assert any(counts[pump] >= 4 and {"maker", "plate", "seller", "old"} <= roles[pump] for pump in counts)


def test_inches_and_millimetres_nearly_meet() -> None:
    # 3/4 in = 19.05 mm, 15/16 in = 23.8125 mm, 3/16 in = 4.7625 mm: exact, 1 in = 25.4 mm (NIST SP 811).
    assert _read_as("bore_diameter_mm", 19.0, within=0.02)
    assert _read_as("bore_diameter_mm", 19.05, within=0.001)
    assert _read_as("bore_diameter_mm", 24.0, within=0.02)
    assert _read_as("bore_diameter_mm", 23.8125, within=0.02)
    for field in ("shaft_key_width_mm", "bore_keyway_width_mm"):
        assert _read_as(field, 5.0, within=0.02)
        assert _read_as(field, 4.7625, within=0.001)
    outlets = {port.thread for port in ROWS.ports if port.port == "outlet"}
    # One thread with two forms and with none said: a seller's page gives the thread alone.
    assert {"G3/8 flat shoulder", "G3/8 cone 60", "G3/8", "3/8-18 NPT"} <= outlets
    seals = {port.seal_mm for port in ROWS.ports if port.thread == "M22x1.5"}
    assert {14.0, 15.0, None} <= seals


def test_the_drives_of_the_trade_are_there() -> None:
    assert {driver.frame for driver in ROWS.drivers} >= {"56C", "145TC", "80 B14", "90 B14"}
    for shaft_mm in (22.225, 19.05, 25.4, 15.875, 19.0, 24.0):
        assert _read_as("shaft_diameter_mm", shaft_mm, within=0.02)
    assert "solid keyed" in _words("bore_form").values()
    assert {"horizontal", "vertical"} <= set(_words("shaft_axis").values())
    threads = {port.thread for port in ROWS.ports}
    assert {"3/4-11.5 NH", "G3/4 flat end", "M22x1.5", "1/2-14 NPT", "G1/2 flat shoulder"} <= threads
    speeds = _values("power_speed_rpm")
    assert {1725.0, 1450.0, 2800.0, 3450.0, 3400.0, 3600.0} <= speeds


def test_vertical_engines_stand_on_three_legs_unequally_spaced_and_some_unequally_high() -> None:
    faces = _words("face_holes_xy_mm")
    uneven = 0
    for driver, axis in _words("shaft_axis").items():
        if axis == "vertical" and driver in faces:
            holes = [tuple(float(number) for number in hole.split()) for hole in faces[driver].split(";")]
            angles = sorted(degrees(atan2(y, x)) % 360 for x, y in holes)
            arcs = [later - earlier for earlier, later in pairwise([*angles, angles[0] + 360])]
            assert len(holes) == 3
            assert max(arcs) - min(arcs) > 20
            assert max(hypot(*hole) for hole in holes) == pytest.approx(min(hypot(*hole) for hole in holes), abs=0.02)
            sides = [dist(one, other) for one, other in combinations(holes, 2)]
            assert max(sides) - min(sides) > 5
            uneven += 1
    assert uneven >= 5
    for side in ("face", "flange"):
        heights = set(_words(f"{side}_seat_heights_mm").values())
        assert "0; 0; 0" in heights
        assert len(heights) >= 2


@pytest.mark.parametrize("field", sorted({one.field for one in ROWS.observations}))
def test_the_programs_own_reader_reads_what_was_typed_as_the_stored_value(field: str) -> None:
    # Two independent conversions: the generator's (exact factors of NIST SP 811) and core/quantity's.
    wanted = field_for(field)
    form = FieldForm(FieldKind(wanted.kind), wanted.unit, wanted.choices, wanted.default_doubt)
    for one in ROWS.observations:
        if one.field == field:
            read = read_field(form, one.as_typed)
            if wanted.kind is Kind.NUMBER:
                assert read.value == pytest.approx(one.value, rel=1e-12), one.as_typed
            elif wanted.kind is not Kind.HOLES:
                assert read.text == one.text, one.as_typed


def test_people_write_as_people_do() -> None:
    typed = {one.as_typed for one in ROWS.observations}
    for text in ("7/8 in", "2700 psi", "2.5 gpm", "6.5 hp"):
        assert text in typed
    assert any(re.fullmatch(r"\d+,\d+ mm", text) for text in typed)


def test_someone_saw_each_value_on_some_day() -> None:
    for one in ROWS.observations:
        assert one.seen_by
        assert one.seen_on
        assert bool(one.source) == (one.how in {"sheet", "claimed", "typical"})
