"""How torque gets in: couplings, play in the bore at its very limits, sleeves and stepped keys, the key's load.

Sizes of shafts, keys and keyways are those of ASME B17.1-1967 (R1998); widths of IT9 those of ISO 286-1 table 1:
0.043 mm over 10 up to 18, 0.052 mm over 18 up to 30.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.fit.cases import case_with, found, said
from xref_app.core.fit.drive_sizes import bore_sizes, shaft_sizes
from xref_app.core.fit.finding import Quantity
from xref_app.core.fit.sleeve import sleeve_and_key, steps_between
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind

NO_COUPLING = (
    "A straight keyed shaft does not drive a solid keyed pump; a coupling for both would be needed, and none is listed."
)
NOT_DIRECT = "Not judged: this shaft does not go into this pump, see how torque gets in."
# T = 9549.3 · 4.15 / 3400 · 2 = 23.31 N·m at most (kW, rpm, service factor 2)
COUPLING: dict[str, Any] = {"kind": "coupling", "bore_a_mm": 19.05, "bore_b_mm": 19.05, "torque_nm": 24, "count": 1}
SOLID = {"pump.bore.form": "solid keyed"}
# ASME B17.1: 1 in bore, 1/4 in keyway, floor 28.30 to 28.55 mm from the far side.
ONE_INCH = {"pump.bore.diameter_mm": 25.4, "pump.bore.keyway_width_mm": 6.35, "pump.bore.keyway_floor_mm": 28.4}
SLEEVE: dict[str, Any] = {
    "kind": "sleeve",
    "name": "SL",
    "inside_mm": 19.05,
    "outside_mm": 25.4,
    "count": 1,
    "cost": 4,
}
# Keyseat floor of a 3/4 in shaft: 15.99 to 16.37 mm; the bore's far side lies 3.175 mm below the shaft's. With an
# 8 mm key: 27.16 to 27.54 mm, above the bore's own wall at 25.4 mm and below the floor at 28.30 mm.
STEPPED: dict[str, Any] = {
    "kind": "stepped key",
    "name": "SK",
    "width_mm": 4.7625,
    "hub_width_mm": 6.35,
    "height_mm": 8.0,
    "count": 1,
    "cost": 2,
}


def exact(value: float) -> dict[str, float]:
    return {"value": value, "doubt": 0}


def with_shelf(base: dict[str, Any], *parts: dict[str, Any]) -> dict[str, Any]:
    """Return ``base`` with these parts listed; a size that is None is left out."""
    given = [{name: value for name, value in part.items() if value is not None} for part in parts]
    return {**base, "shelf": given}


def test_a_listed_coupling_strong_enough_drives_a_solid_shaft() -> None:
    finding = found("drive", with_shelf(SOLID, COUPLING))
    assert said(finding) == (
        "by parts",
        "A straight keyed shaft drives a solid keyed pump through the listed coupling.",
    )
    assert [(str(need.what), need.quantity) for need in finding.needs] == [("Coupling, 19.05 mm to 19.05 mm", 1)]
    assert [str(note) for note in finding.notes] == [
        "The bracket that holds the pump at the coupling's length has to be made to measure."
    ]


@pytest.mark.parametrize(
    "change",
    [
        {"torque_nm": 23},
        {"torque_nm": None},
        {"bore_b_mm": 25.4},
        {"bore_b_mm": None},
        {"count": 0},
    ],
    ids=str,
)
def test_a_coupling_that_is_weak_bored_otherwise_or_gone_drives_nothing(change: dict[str, Any]) -> None:
    assert said(found("drive", with_shelf(SOLID, {**COUPLING, **change}))) == ("fail", NO_COUPLING)


def test_a_coupling_is_chosen_by_its_strength_not_by_its_place_on_the_shelf() -> None:
    finding = found("drive", with_shelf(SOLID, {**COUPLING, "torque_nm": 10}, SLEEVE, {**COUPLING, "name": "strong"}))
    assert [need.listed.name for need in finding.needs if need.listed] == ["strong"]


def test_no_coupling_is_promised_while_the_shaft_may_be_either_of_two_sizes() -> None:
    loose = {"machine.shaft.diameter_mm": {"value": 19.03, "doubt": 0.1}, "machine.shaft.key_width_mm": None}
    assert len(shaft_sizes(case_with(loose).machine.shaft)) > 1
    assert found("drive", with_shelf({**SOLID, **loose}, COUPLING)).outcome.word != "by parts"


def test_no_coupling_is_promised_while_the_torque_is_not_known() -> None:
    finding = found("drive", with_shelf({**SOLID, "machine.power.power_kw": None}, COUPLING))
    assert finding.outcome.word != "by parts"


def test_no_coupling_joins_a_tapered_shaft() -> None:
    finding = found("drive", with_shelf({"machine.shaft.form": "tapered"}, COUPLING))
    assert said(finding) == (
        "fail",
        "A tapered shaft does not drive a hollow keyed pump; a coupling for both would be needed, and none is listed.",
    )


@pytest.mark.parametrize("check", ["bore", "key", "key load", "reach"])
def test_shaft_in_bore_is_not_judged_where_the_shaft_does_not_go_in(check: str) -> None:
    assert said(found(check, with_shelf(SOLID, COUPLING))) == ("unknown", NOT_DIRECT)


@pytest.mark.parametrize(
    ("check", "change", "reason"),
    [
        ("axis", {"machine.shaft.axis": None}, "Not known yet: shaft axis."),
        ("drive", {"pump.bore.form": None}, "Not known yet: bore form."),
        ("bore", {"machine.shaft.diameter_mm": None}, "Not known yet: shaft diameter."),
    ],
)
def test_what_lacks_is_named(check: str, change: dict[str, None], reason: str) -> None:
    assert said(found(check, dict(change))) == ("unknown", reason)


@pytest.mark.parametrize(
    ("shaft", "bore", "width", "outcome"),
    [
        (17.35, 17.350, 5.2, "pass"),
        (17.35, 17.436, 5.2, "pass"),  # 2 · 0.043
        (17.35, 17.349, 5.2, "fail"),
        (17.35, 17.437, 5.2, "fail"),
        (23.45, 23.450, 5.2, "pass"),
        (23.45, 23.554, 5.2, "pass"),  # 2 · 0.052
        (23.45, 23.449, 5.2, "fail"),
        (23.45, 23.555, 5.2, "fail"),
    ],
)
def test_play_of_exactly_nothing_and_of_exactly_it9_twice_passes_and_a_micrometre_more_does_not(
    shaft: float, bore: float, width: float, outcome: str
) -> None:
    changes = {
        "machine.shaft.diameter_mm": exact(shaft),
        "pump.bore.diameter_mm": exact(bore),
        "machine.shaft.key_width_mm": exact(width),
        "pump.bore.keyway_width_mm": exact(width),
    }
    case = case_with(changes)
    assert [size.label for size in (*shaft_sizes(case.machine.shaft), *bore_sizes(case.pump.bore))] == ["", ""]
    assert found("bore", changes).outcome.word == outcome


def test_a_bore_too_small_asks_for_a_pump_with_a_bore_for_this_shaft() -> None:
    finding = found("bore", {"pump.bore.diameter_mm": 15.875})
    # 3/4 in h9 within 19.01 to 19.05; 5/8 in H9 15.875 to 15.918: 3.092 to 3.175 mm too small (shown 3.18)
    assert said(finding) == ("fail", "The bore is smaller than the shaft by 3.09 to 3.18 mm.")
    assert str(finding.change) == "A pump with a bore for a 3/4 in shaft would go on."


def test_a_sleeve_with_a_stepped_key_takes_up_a_large_bore() -> None:
    finding = found("bore", with_shelf(ONE_INCH, SLEEVE, STEPPED))
    # 25.4 - 19.05 - 0.104 = 6.246 at least, 25.452 - 19.010 - 0.104 = 6.338 at most
    assert said(finding) == ("by parts", "Too loose by 6.25 to 6.34 mm; sleeve SL with key SK takes it up.")
    assert [need.listed.name for need in finding.needs if need.listed] == ["SL", "SK"]
    assert str(finding.needs[0].what) == "Sleeve 19.05 mm inside, 25.40 mm outside"


@pytest.mark.parametrize(
    "parts",
    [
        (SLEEVE,),
        (STEPPED,),
        ({**SLEEVE, "outside_mm": 24.0}, STEPPED),
        ({**SLEEVE, "inside_mm": 20.0}, STEPPED),
        ({**SLEEVE, "inside_mm": None}, STEPPED),
        ({**SLEEVE, "count": 0}, STEPPED),
        (SLEEVE, {**STEPPED, "height_mm": 6.0}),  # 15.99 + 6 + 3.175 = 25.16 < 25.4: does not reach the keyway
        (SLEEVE, {**STEPPED, "height_mm": 9.0}),  # 16.37 + 9 + 3.175 = 28.54 > 28.30: stands on its floor
        (SLEEVE, {**STEPPED, "height_mm": None}),
        (SLEEVE, {**STEPPED, "width_mm": 6.35}),
        (SLEEVE, {**STEPPED, "hub_width_mm": None}),
    ],
    ids=range(11),
)
def test_a_sleeve_too_thin_or_without_its_key_takes_up_nothing(parts: tuple[dict[str, Any], ...]) -> None:
    assert said(found("bore", with_shelf(ONE_INCH, *parts))) == (
        "fail",
        "Too loose by 6.25 to 6.34 mm, and no listed sleeve is that thin with a key that bridges it.",
    )


def test_the_cheapest_sleeve_in_a_bin_is_taken_before_one_to_order() -> None:
    case = case_with(ONE_INCH)
    (shaft,), (bore,) = shaft_sizes(case.machine.shaft), bore_sizes(case.pump.bore)
    sleeves = [
        Part(PartKind.SLEEVE, 1, cost, name=name, inside_mm=19.05, outside_mm=25.4, to_order=order)
        for name, cost, order in (("to order", 1.0, True), ("dear", 9.0, False), ("cheap", 4.0, False))
    ]
    key = Part(PartKind.STEPPED_KEY, 1, width_mm=4.7625, hub_width_mm=6.35, height_mm=8.0)
    assert sleeve_and_key(shaft, bore, (*sleeves, key)) == (sleeves[2], key)


def test_a_stepped_key_bridges_no_keyway_whose_width_nobody_measured() -> None:
    case = case_with({**ONE_INCH, "pump.bore.keyway_width_mm": None})
    key = Part(PartKind.STEPPED_KEY, 1, width_mm=4.7625, hub_width_mm=6.35, height_mm=8.0)
    assert not any(
        steps_between(key, shaft, bore)
        for shaft in shaft_sizes(case.machine.shaft)
        for bore in bore_sizes(case.pump.bore)
    )


def test_a_listed_stepped_key_joins_two_widths() -> None:
    finding = found("key", with_shelf(ONE_INCH, SLEEVE, STEPPED))
    assert said(finding) == (
        "by parts",
        "The key is 3/16 in wide and the keyway 1/4 in; a listed stepped key joins them.",
    )
    assert [(need.listed.name, need.quantity) for need in finding.needs if need.listed] == [("SK", 1)]


@pytest.mark.parametrize(
    "change", [{"height_mm": 12.0}, {"height_mm": None}, {"hub_width_mm": 7.9}, {"count": 0}], ids=str
)
def test_a_stepped_key_too_high_or_of_other_widths_joins_nothing(change: dict[str, Any]) -> None:
    # keyseat floor 16.37 + 12 = 28.37 > 28.30
    assert said(found("key", with_shelf(ONE_INCH, {**STEPPED, **change}))) == (
        "fail",
        "The key is 3/16 in wide and the keyway 1/4 in: the two never go together.",
    )


def test_raw_widths_a_twentieth_apart_match_and_wider_ones_do_not() -> None:
    base = {"machine.shaft.diameter_mm": exact(17.35), "pump.bore.diameter_mm": exact(17.36)}
    base |= {"machine.shaft.key_top_mm": exact(19.0), "pump.bore.keyway_floor_mm": exact(19.3)}
    for keyway, outcome in ((5.25, "pass"), (5.20, "pass"), (5.251, "fail"), (5.149, "fail")):
        widths = {"machine.shaft.key_width_mm": exact(5.2), "pump.bore.keyway_width_mm": exact(keyway)}
        assert found("key", {**base, **widths}).outcome.word == outcome, keyway


def test_raw_widths_whose_doubt_straddles_the_slack_stay_open() -> None:
    changes = {
        "machine.shaft.diameter_mm": exact(17.35),
        "pump.bore.diameter_mm": exact(17.36),
        "machine.shaft.key_width_mm": exact(5.2),
        "pump.bore.keyway_width_mm": {"value": 5.24, "doubt": 0.03},
        "machine.shaft.key_top_mm": exact(19.0),
        "pump.bore.keyway_floor_mm": exact(19.3),
    }
    assert said(found("key", changes)) == (
        "unknown",
        "Key and keyway differ by 0.01 to 0.07 mm in width; no more than 0.05 mm will do.",
    )


def test_a_key_whose_top_may_touch_the_floor_stays_open() -> None:
    changes = {
        "machine.shaft.diameter_mm": exact(17.35),
        "pump.bore.diameter_mm": exact(17.36),
        "machine.shaft.key_width_mm": exact(5.2),
        "pump.bore.keyway_width_mm": exact(5.2),
        "machine.shaft.key_top_mm": exact(19.0),
        "pump.bore.keyway_floor_mm": {"value": 19.05, "doubt": 0.1},
    }
    assert said(found("key", changes)) == (
        "unknown",
        "The key's top may touch the keyway's floor: room -0.05 to 0.15 mm by these readings.",
    )


# ASME B17.1 / Shigley / Mott worked examples W38 to W42 of tests/core/standards/data/worked_examples.csv, in SI:
# 1 lbf·in = 0.112985 N·m, 1 psi = 0.00689476 MPa. A square key, so bearing is twice the shear (W38, W39).
FLUSH: dict[str, Any] = {
    # machined faces: no doubt of the seats in the sums below
    f"{side}.seat_{what}": value
    for side in ("machine.face", "pump.flange")
    for what, value in (("kind", "flat face"), ("heights_mm", None))
}
WORKED = {
    "W38": (1112, 1.75, 0.375, 1.5, 2259.3),
    "W40": (240, 0.75, 0.1875, 1.75, 1950.48),
    "W41": (180, 0.75, 0.1875, 1.5, 1706.67),
    "W42": (350, 1.0, 0.25, 2.0, 1400.0),
}


@pytest.mark.parametrize("example", WORKED)
def test_key_load_agrees_with_the_worked_examples(example: str) -> None:
    lbf_in, diameter, width, length, shear_psi = WORKED[example]
    # Rated torque is what the key must carry over the service factor of 2: P = T · n / 9549.3 at 1000 rpm.
    rated_nm = lbf_in * 0.1129848 / 2
    changes = {
        "machine.shaft.diameter_mm": exact(diameter * 25.4),
        "machine.shaft.key_width_mm": exact(width * 25.4),
        "machine.shaft.projection_mm": exact(80),
        "machine.shaft.keyseat_length_mm": exact(80),
        "machine.shaft.keyseat_from_end_mm": exact(0),
        "pump.bore.depth_mm": exact(100),
        "pump.bore.keyway_from_mm": exact(0),
        "pump.bore.keyway_to_mm": exact(length * 25.4),
        "machine.power.power_kw": exact(rated_nm * 1000 / 9549.2966),
        "machine.power.speed_rpm": exact(1000),
        **FLUSH,
    }
    finding = found("key load", changes)
    assert finding.outcome.word == "pass"
    assert isinstance(finding.needed, Quantity)
    assert finding.needed.unit == "MPa"
    bearing_mpa = 2 * shear_psi * 0.006894757
    assert finding.needed.range.low == pytest.approx(bearing_mpa, rel=1e-3)
    assert finding.needed.range.high == pytest.approx(bearing_mpa, rel=1e-3)


def test_a_key_that_stops_before_the_keyway_carries_nothing() -> None:
    # the key spans 23.8 to 61.9, the keyway 0 to 10: 13.8 ± 0.4 mm apart
    finding = found("key load", {"pump.bore.keyway_to_mm": 10, **FLUSH})
    assert said(finding) == ("fail", "Key and keyway do not overlap: the key stops 13.4 to 14.2 mm short.")


def test_key_load_stays_open_where_the_key_barely_overlaps() -> None:
    # the key begins at 23.8 ± 0.3, the keyway ends at 23.9 ± 0.1: -0.3 to 0.5 mm
    finding = found("key load", {"pump.bore.keyway_to_mm": 23.9, **FLUSH})
    assert said(finding) == (
        "unknown",
        "-0.3 to 0.5 mm of key under 22.7 to 23.3 N·m: whether that is enough hangs on the doubt of these readings.",
    )
    assert finding.measure[0] == "shaft_projection_mm"


def test_key_load_stays_open_where_the_doubt_of_the_length_decides() -> None:
    # bearing 4T/(dhL) of 222 MPa: L = 4 · 23310 / (19.01 · 4.7625 · 222) = 4.64 mm is enough in the worst case
    finding = found("key load", {"pump.bore.keyway_from_mm": 55.5, "pump.bore.keyway_to_mm": 60, **FLUSH})
    assert said(finding) == (
        "unknown",
        "4.3 to 4.7 mm of key under 22.7 to 23.3 N·m: whether that is enough hangs on the doubt of these readings.",
    )


def test_a_key_of_no_table_is_as_high_as_it_stands_over_the_shaft_twice() -> None:
    raw = {
        "machine.shaft.diameter_mm": exact(17.35),
        "machine.shaft.key_width_mm": exact(5.2),
        "machine.shaft.key_top_mm": exact(18.35),
        **FLUSH,
    }
    finding = found("key load", raw)
    # proud by 1.0, so 2.0 mm high: 4 · 23310 / (17.35 · 2.0 · 35.8) = 75 MPa at most
    assert isinstance(finding.needed, Quantity)
    assert finding.needed.range.high == pytest.approx(4 * 23311.4 / (17.35 * 2.0 * 35.8), rel=1e-3)
    unknown = found("key load", {**raw, "machine.shaft.key_top_mm": None})
    assert unknown.outcome.word == "unknown"
    assert unknown.measure == ("shaft_key_top_mm",)


def test_a_raw_diameter_whose_key_nobody_measured_has_no_width() -> None:
    case = case_with({"machine.shaft.diameter_mm": exact(17.35), "machine.shaft.key_width_mm": None})
    (size,) = shaft_sizes(case.machine.shaft)
    assert (size.label, size.width, size.pair) == ("", None, None)
