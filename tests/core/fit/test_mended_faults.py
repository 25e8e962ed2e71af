"""Faults the judge once had, each with the smallest case that shows it.

The rules they break stand in DEVELOPERS.md, 'Rules the judge keeps': a check fails only if it fails for every value
inside the doubts (rule 1), and taking a reading away never helps or harms beyond making something open (rule 5).
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.fit.test_drive_and_bore import COUPLING, ONE_INCH, SLEEVE, SOLID, STEPPED, with_shelf
from tests.core.fit.test_face_checks import ON_FLAT, spacers
from tests.core.fit.test_mutations import changed, judged
from xref_app.core.fit.finding import Finding, Outcome, Verdict


def finding(check: str, changes: dict[str, Any]) -> Finding:
    return next(one for one in judged(changed(changes)).findings if one.check == check)


def test_one_stepped_key_serves_sleeve_and_keyway() -> None:
    assert judged(changed(with_shelf(ONE_INCH, SLEEVE, STEPPED))).verdict is Verdict.FITS_WITH_PARTS


def test_a_pump_that_fits_only_with_a_listed_unloader_does_not_fit_as_is() -> None:
    unloader = {"kind": "unloader", "rating_bar": 250, "count": 1, "cost": 30}
    neither = {"pump.has.unloader": False, "old_pump.has.unloader": False, "shelf": [unloader]}
    judgement = judged(changed(neither))
    assert judgement.verdict is not Verdict.FITS
    assert [need.listed.kind.value for need in judgement.needs if need.listed] == ["unloader"]


def test_two_legs_that_stand_off_alike_need_two_spacers() -> None:
    flat = {"machine.face.seat_heights_mm": None, "machine.face.seat_kind": "flat face"}
    legs = {**flat, "pump.flange.seat_heights_mm": [0, 0, -2, -2], "shelf": spacers((2.0, 2))}
    assert sum(need.quantity for need in judged(changed(legs)).needs) == 2


def test_a_working_pressure_known_within_a_tenth_only_leaves_the_nozzle_open() -> None:
    vague = {"machine.water.working_pressure_bar": {"value": 140, "doubt": 30}}
    assert finding("nozzle", vague).outcome is Outcome.UNKNOWN


def test_taking_the_shaft_length_away_does_not_turn_fits_with_parts_into_does_not_fit() -> None:
    assert judged(changed(ON_FLAT)).verdict is Verdict.FITS_WITH_PARTS
    assert judged(changed({**ON_FLAT, "machine.shaft.projection_mm": None})).verdict is Verdict.NOT_KNOWN_YET


@pytest.mark.parametrize(
    "unknown",
    [
        {"machine.power.power_kw": None},
        {"machine.shaft.diameter_mm": {"value": 19.03, "doubt": 0.1}, "machine.shaft.key_width_mm": None},
    ],
    ids=["torque", "size"],
)
def test_a_coupling_that_may_do_leaves_the_drive_open(unknown: dict[str, Any]) -> None:
    assert finding("drive", with_shelf({**SOLID, **unknown}, COUPLING)).outcome is Outcome.UNKNOWN


def test_a_spacer_that_may_do_leaves_the_reach_open() -> None:
    close = {
        "machine.shaft.projection_mm": {"value": 67.9, "doubt": 0.01},
        "pump.bore.depth_mm": {"value": 65, "doubt": 0.01},
    }
    flat = {"seat_heights_mm": None, "seat_kind": "flat face"}
    loose: dict[str, Any] = {
        **{f"{side}.{name}": value for side in ("machine.face", "pump.flange") for name, value in flat.items()},
        "machine.shaft.projection_mm": 67.9,
        "pump.bore.recess_mm": 44.0,
        "shelf": spacers((4.6, 4)),
    }
    assert finding("reach", {**loose, **close}).outcome is Outcome.BY_PARTS
    assert finding("reach", loose).outcome is Outcome.UNKNOWN
