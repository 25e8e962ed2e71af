"""Keys, keyseats and keyways against ASME B17.1 (printed depth table), ISO 773 (printed GA) and NEMA MG 1."""

from __future__ import annotations

import pytest

from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import as_fraction, inch_mm
from xref_app.core.standards.key_widths import (
    key_width_label,
    standard_widths,
    widths_meeting_key,
    widths_meeting_keyway,
)
from xref_app.core.standards.keys import (
    KeyedPair,
    hub_floor_in,
    keyed_pairs,
    pairs_meeting_bore,
    pairs_meeting_shaft,
    shaft_floor_in,
)
from xref_app.core.standards.shaft_sizes import sizes_meeting_bore, sizes_meeting_shaft, standard_sizes
from xref_app.core.standards.table_files import table_rows

PAIRS = {pair.label: pair for pair in keyed_pairs()}
DEPTHS = table_rows("keys_inch_depths")


def each(system: str) -> list[KeyedPair]:
    return [pair for pair in keyed_pairs() if pair.system == system]


@pytest.mark.parametrize("row", DEPTHS, ids=lambda row: row["shaft_in"])
def test_formulas_give_the_printed_depth_table_within_a_thousandth(row: dict[str, str]) -> None:
    # Source: ASME B17.1, depth control values for square keys, as reprinted.
    sizes = {
        "shaft_in": as_fraction(row["shaft_in"]),
        "key_width_in": as_fraction(row["key_width_in"]),
        "key_height_in": as_fraction(row["key_height_in"]),
    }
    assert float(shaft_floor_in(**sizes)) == pytest.approx(float(row["shaft_floor_s_in"]), abs=0.001)
    assert float(hub_floor_in(**sizes)) == pytest.approx(float(row["hub_floor_t_in"]), abs=0.001)


@pytest.mark.parametrize("row", DEPTHS, ids=lambda row: row["shaft_in"])
def test_inch_pair_takes_the_key_of_the_printed_depth_table(row: dict[str, str]) -> None:
    pair = PAIRS[f"{row['shaft_in']} in"]
    assert pair.key_width_mm == inch_mm(row["key_width_in"])
    assert pair.keyseat_floor_mm.high == pytest.approx(inch_mm(row["shaft_floor_s_in"]), abs=0.0254)
    assert pair.keyway_floor_mm.low == pytest.approx(inch_mm(row["hub_floor_t_in"]), abs=0.0254)


def test_seven_eighths_takes_a_three_sixteenths_key_and_the_next_size_a_quarter() -> None:
    # Source: ASME B17.1, key size by shaft range: over 9/16 to 7/8 inclusive takes 3/16.
    assert PAIRS["7/8 in"].key_width_mm == 4.7625
    assert PAIRS["15/16 in"].key_width_mm == 6.35


def test_class_1_tolerances_run_the_way_that_leaves_room() -> None:
    # Source: ASME B17.1 class 1: key +0/-0.002, keyway +0.002/-0, S +0/-0.015, T +0.010/-0 (one source).
    pair = PAIRS["3/4 in"]
    assert pair.key_width.doubt * 2 == pytest.approx(0.002 * 25.4)
    assert pair.key_width.high == pair.keyway_width.low == 4.7625
    assert pair.keyway_width.doubt * 2 == pytest.approx(0.002 * 25.4)
    assert pair.keyseat_floor_mm.doubt * 2 == pytest.approx(0.015 * 25.4)
    assert pair.keyway_floor_mm.doubt * 2 == pytest.approx(0.010 * 25.4)
    assert pair.key_top_mm.doubt * 2 == pytest.approx(0.017 * 25.4)


@pytest.mark.parametrize("pair", each("inch"), ids=lambda pair: pair.label)
def test_inch_keyway_floor_clears_the_highest_key_by_five_thousandths(pair: KeyedPair) -> None:
    # Source: ASME B17.1: T - (S + H) = C = 0.005 in.
    assert pair.keyway_floor_mm.low - pair.key_top_mm.high == pytest.approx(0.127, abs=1e-9)


@pytest.mark.parametrize("row", table_rows("keys_metric"), ids=lambda row: f"to {row['shaft_to_incl_mm']} mm")
def test_metric_height_over_the_key_is_the_printed_one(row: dict[str, str]) -> None:
    # Source: ISO 773: GA = d - t1 + h, printed for the largest shaft of each range.
    printed_mm = float(row["across_key_at_largest_mm"])
    computed = float(row["shaft_to_incl_mm"]) - float(row["shaft_depth_t1_mm"]) + float(row["key_height_mm"])
    assert computed == pytest.approx(printed_mm, abs=1e-9)
    pair = PAIRS.get(f"{row['shaft_to_incl_mm']} mm")
    if pair is not None:
        assert pair.key_top_mm.high == pytest.approx(printed_mm, abs=1e-9)


@pytest.mark.parametrize(
    ("label", "ga_mm"), [("11 mm", 12.5), ("14 mm", 16), ("19 mm", 21.5), ("24 mm", 27), ("28 mm", 31)]
)
def test_iec_shafts_have_their_well_known_height_over_the_key(label: str, ga_mm: float) -> None:
    # Source: GA column of IEC 60072-1 shaft ends, which follows exactly from ISO 773.
    assert PAIRS[label].key_top_mm.high == pytest.approx(ga_mm, abs=1e-9)


def test_metric_depth_tolerances_cut_deeper_in_shaft_and_hub() -> None:
    # Source: ISO 773 for 8 x 7: t1 4 +0.2/0, t2 3.3 +0.2/0 (one source for the tolerances).
    pair = PAIRS["24 mm"]
    assert (pair.keyseat_floor_mm.low, pair.keyseat_floor_mm.high) == (19.8, 20.0)
    assert (pair.keyway_floor_mm.low, pair.keyway_floor_mm.high) == (27.3, 27.5)


@pytest.mark.parametrize("pair", each("metric"), ids=lambda pair: pair.label)
def test_metric_keyway_floor_clears_the_highest_key(pair: KeyedPair) -> None:
    assert pair.keyway_floor_mm.low - pair.key_top_mm.high >= 0.2 - 1e-9


@pytest.mark.parametrize("pair", keyed_pairs(), ids=lambda pair: pair.label)
def test_pair_hangs_together(pair: KeyedPair) -> None:
    assert pair.shaft_mm.high == pair.diameter_mm == pair.bore_mm.low
    assert pair.key_width.high == pytest.approx(pair.key_width_mm)
    assert pair.key_top_mm.low > pair.diameter_mm, "a key stands proud of its shaft"
    assert pair.source
    assert pair.confidence


def test_there_is_a_pair_for_every_sixteenth_and_every_millimetre() -> None:
    assert [pair.diameter_mm for pair in each("inch")] == pytest.approx([n * 25.4 / 16 for n in range(6, 33)])
    assert [pair.diameter_mm for pair in each("metric")] == list(range(8, 51))


@pytest.mark.parametrize(
    "row", [row for row in table_rows("faces_nema") if row["key_width_in"]], ids=lambda row: row["frame"]
)
def test_nema_motor_shafts_follow_b17_1(row: dict[str, str]) -> None:
    # Source: NEMA MG 1, clause 4.4.4: key width S and the floor R of the keyseat, within a thousandth of B17.1's S.
    pair = PAIRS[f"{row['shaft_u_in']} in"]
    assert pair.key_width_mm == inch_mm(row["key_width_in"])
    assert pair.keyseat_floor_mm.high == pytest.approx(inch_mm(row["shaft_floor_r_in"]), abs=0.0254)


def test_the_keyway_settles_what_the_bore_leaves_open() -> None:
    # Source: B17.1 and ISO 773: 3/4 in takes 3/16 in (4.76 mm), 19 mm takes 6 mm.
    bore = Range.around(19.05, 0.10)
    assert {pair.label for pair in pairs_meeting_bore(bore)} == {"3/4 in", "19 mm"}
    assert [pair.label for pair in pairs_meeting_bore(bore, Range.around(4.8, 0.1))] == ["3/4 in"]
    assert [pair.label for pair in pairs_meeting_bore(bore, Range.around(6.0, 0.1))] == ["19 mm"]
    assert [pair.label for pair in pairs_meeting_bore(bore, None, Range.around(21.3, 0.05))] == ["3/4 in"]


def test_the_key_settles_what_the_shaft_leaves_open() -> None:
    shaft = Range.around(19.0, 0.05)
    assert {pair.label for pair in pairs_meeting_shaft(shaft)} == {"3/4 in", "19 mm"}
    assert [pair.label for pair in pairs_meeting_shaft(shaft, Range.around(4.76, 0.05))] == ["3/4 in"]
    assert [pair.label for pair in pairs_meeting_shaft(shaft, None, Range.around(21.45, 0.05))] == ["19 mm"]


def test_standard_sizes_are_those_of_the_pairs_and_meet_readings() -> None:
    assert [size.label for size in standard_sizes()] == [pair.label for pair in keyed_pairs()]
    assert [size.label for size in sizes_meeting_shaft(Range.around(22.2, 0.05))] == ["7/8 in"]
    assert [size.label for size in sizes_meeting_shaft(Range.around(22.19, 0.02))] == ["7/8 in"]
    assert sizes_meeting_bore(Range.around(22.19, 0.02)) == ()
    assert [size.label for size in sizes_meeting_bore(Range.around(25.42, 0.05))] == ["1 in"]
    assert sizes_meeting_bore(Range.around(25.2, 0.05)) == ()


def test_inch_and_metric_neighbour_keys_are_told_apart() -> None:
    # Source: B17.1 class 1 and ISO 773: 3/16 in is 4.7625 mm, 1/4 in is 6.35 mm.
    assert [width.label for width in widths_meeting_key(Range.around(4.76, 0.05))] == ["3/16 in"]
    assert [width.label for width in widths_meeting_key(Range.around(5.0, 0.05))] == ["5 mm"]
    assert [width.label for width in widths_meeting_keyway(Range.around(6.4, 0.1))] == ["1/4 in"]
    assert [width.label for width in widths_meeting_keyway(Range.around(4.79, 0.02))] == ["3/16 in"]
    assert widths_meeting_key(Range.around(4.79, 0.02)) == ()
    assert [width.label for width in key_width_label(Range.around(6.03, 0.02))] == ["6 mm"]
    assert key_width_label(Range.around(5.5, 0.1)) == ()


def test_widths_ascend_in_each_system_and_are_those_of_the_pairs() -> None:
    for system in ("inch", "metric"):
        widths = [width.width_mm for width in standard_widths() if width.system == system]
        assert widths == sorted(set(widths))
        for pair in each(system):
            width = next(width for width in standard_widths() if width.width_mm == pair.key_width_mm)
            assert (width.key_mm, width.keyway_mm) == (pair.key_width, pair.keyway_width)


@pytest.mark.parametrize("pair", keyed_pairs(), ids=lambda pair: pair.label)
def test_what_is_known_of_the_keys_top_rests_on_sourced_values_alone(pair: KeyedPair) -> None:
    # Source: B17.1 prints the key's own tolerance; of ISO 773 only the nominal height, the highest, is sourced.
    assert pair.key_top_mm.within(pair.known_key_top_mm)
    assert pair.known_key_top_mm.high == pytest.approx(pair.key_top_mm.high)
    if pair.system == "inch":
        assert pair.known_key_top_mm == pair.key_top_mm
    else:
        assert pair.known_key_top_mm.low == pair.keyseat_floor_mm.low
        assert pair.known_key_top_mm.high == pytest.approx(pair.keyseat_floor_mm.high + pair.key_height_mm)
