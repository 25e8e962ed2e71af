"""No bolt goes further into a motor's face than its frame allows, however deep the hole reads.

Source of the figures: NEMA MG 1, clause 4.4.4 (Type C face): 143TC has AJ = 5.875 in, four 3/8-16 holes and a bolt
penetration allowance of 0.56 in = 14.224 mm; 182TC has AJ = 7.25 in, 1/2-13 and 0.75 in = 19.05 mm.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from tests.core.fit.cases import case_with, finding_of, found, said
from xref_app.core.fit.finding import Outcome
from xref_app.core.fit.penetration import room_for_bolt_mm_or_none
from xref_app.core.plan.plate import Plate, plate_or_why_not
from xref_app.core.plan.plate_readings import plate_readings_or_none
from xref_app.core.quantity.range import Range

ALLOWED_143TC_MM = 0.56 * 25.4


def on_circle(across_mm: float) -> list[list[float]]:
    half = across_mm / 2 / math.sqrt(2)
    return [[round(x * half, 2), round(y * half, 2)] for x, y in ((1, 1), (-1, 1), (-1, -1), (1, -1))]


# A hole tapped right through: the rod reads 30 mm. 12 ± 0.1 mm of flange and 1.3 to 1.9 mm of washer are the grip.
C_FACE: dict[str, Any] = {
    "machine.power.kind": "electric",
    "machine.face.holes_xy_mm": on_circle(5.875 * 25.4),
    "machine.face.bolt": "3/8-16 UNC",
    "machine.face.tapped_depth_mm": 30,
    "machine.face.material": "iron",
    "pump.flange.holes_xy_mm": on_circle(5.875 * 25.4),
    "pump.flange.hole_mm": 10.5,
    "pump.flange.thickness_mm": 12,
    "shelf": [],
}
NOTE = (
    "A motor's face of this bolt circle and thread takes a bolt no more than 14.22 mm deep, however deep the hole "
    "reads."
)


def with_bolt(length_mm: float, **changes: Any) -> dict[str, Any]:  # JSON values
    return {**C_FACE, "machine.face.bolt_length_mm": length_mm, **changes}


def test_worked_example_of_143tc_an_old_bolt_within_the_allowance_stays() -> None:
    # 1 in: 25.4 - 13.2 = 12.2 mm in at most with the thinnest grip, and the doubt of the length; 14.2 are allowed.
    finding = found("bolts", with_bolt(25.4))
    assert finding.outcome is Outcome.PASS
    assert NOTE in [str(note) for note in finding.notes]


def test_worked_example_of_143tc_a_longer_bolt_must_not_stay() -> None:
    # 1 1/4 in: 31.75 - 14.0 = 17.8 mm in at least, and the hole reads 30 mm.
    finding = found("bolts", with_bolt(31.75))
    assert finding.outcome is Outcome.BY_PARTS
    assert "they would bottom" in str(finding.reason)
    assert "into 14.2 mm of thread" in str(finding.reason)
    assert [str(need.what) for need in finding.needs] == ["Bolt 3/8-16 UNC x 25.4 mm with plain washer"]
    assert NOTE in [str(note) for note in finding.notes]
    # The same bolt in an engine's face of that circle and thread has all its 30 mm.
    engine = found("bolts", with_bolt(31.75, **{"machine.power.kind": "petrol"}))
    assert engine.outcome is Outcome.PASS
    assert NOTE not in [str(note) for note in engine.notes]


def test_while_nobody_knows_whether_it_is_a_motor_the_longer_bolt_does_not_pass() -> None:
    assert found("bolts", with_bolt(31.75, **{"machine.power.kind": None})).outcome is not Outcome.PASS


def test_a_face_too_shallow_by_its_frame_holds_no_bolt() -> None:
    # 1.5 diameters of aluminium are 14.29 mm, and 14.22 are allowed.
    finding = found("bolts", with_bolt(31.75, **{"machine.face.material": "aluminium"}))
    assert said(finding) == (
        "fail",
        (
            "No bolt length holds: 14.3 mm of thread are needed and a motor's face of this kind takes a bolt only 14.2 "
            "mm deep."
        ),
    )
    assert "never tap a motor's face deeper" in str(finding.change)


@pytest.mark.parametrize("length_mm", [float(length) for length in range(16, 60)])
def test_no_bolt_that_may_go_deeper_than_allowed_ever_passes(length_mm: float) -> None:
    finding = found("bolts", with_bolt(length_mm))
    deepest = length_mm + 0.1 - (12 - 0.1) - 1.3
    if deepest > ALLOWED_143TC_MM + 0.2:
        assert finding.outcome is not Outcome.PASS
    for need in finding.needs:
        new = float(str(need.what).split(" x ")[1].split()[0])
        assert new - (12 - 0.1) - 1.3 <= ALLOWED_143TC_MM


@pytest.mark.parametrize(
    ("circle_in", "bolt", "room_mm"),
    [
        (5.875, "3/8-16 UNC", 14.224),
        (7.25, "1/2-13 UNC", 19.05),
        (7.25, "3/8-16 UNC", 29.9),  # no frame has this thread on that circle
        (5.875, "5/16-18 UNC", 29.9),
        (5.5, "3/8-16 UNC", 29.9),
    ],
)
def test_circle_and_thread_tell_the_frame(circle_in: float, bolt: str, room_mm: float) -> None:
    case = case_with({**C_FACE, "machine.face.bolt": bolt, "machine.face.holes_xy_mm": on_circle(circle_in * 25.4)})
    room = room_for_bolt_mm_or_none(case.machine)
    assert room is not None
    assert room.low == pytest.approx(room_mm)


def test_a_hole_shallower_than_its_frame_allows_keeps_its_own_depth() -> None:
    room = room_for_bolt_mm_or_none(case_with({**C_FACE, "machine.face.tapped_depth_mm": 12}).machine)
    assert room == Range.around(12.0, 0.1)


def test_a_plates_screws_keep_to_the_allowance_as_well() -> None:
    turned = [[round(0.8 * x, 2), round(0.8 * y, 2)] for x, y in on_circle(5.875 * 25.4)]
    case = case_with({**C_FACE, "pump.flange.holes_xy_mm": turned})
    readings = plate_readings_or_none(case.machine, case.pump)
    assert readings is not None
    assert readings.tapped_depth_mm.high == pytest.approx(ALLOWED_143TC_MM)
    plate = plate_or_why_not(case.machine, case.pump, window_mm=Range(9.0, 20.5))
    assert isinstance(plate, Plate)
    floor = plate.thickness_mm - 0.05 - (plate.engine_holes[0].counterbore_depth_mm + 0.05)
    assert plate.screw_length_mm - floor <= ALLOWED_143TC_MM + 1e-6


def test_what_drives_counts_among_what_the_check_rests_on_only_where_it_decides() -> None:
    assert "power_kind" in dict(found("bolts", with_bolt(25.4)).used)
    other = case_with({})
    assert "power_kind" not in dict(finding_of("bolts", replace(other, shelf=())).used)
