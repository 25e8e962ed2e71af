"""The search for turns, stacks and bolts, run on the machine with its plate on, finds nothing left to bridge."""

from __future__ import annotations

from functools import cache

from tests.core.fit.cases import case_with
from tests.core.plan.designs import plates
from tests.core.plan.test_plated import plated
from xref_app.core.fit.checks import CHECKS
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Outcome
from xref_app.core.model.case import Case
from xref_app.core.plan.face_plan import face_plan
from xref_app.core.plan.face_search import face_options
from xref_app.core.plan.plate import Plate

FACE_CHECKS = ("pattern", "pilot", "seat", "bolts", "reach")


@cache
def searched() -> tuple[tuple[Case, Plate, FaceParts], ...]:
    """Return every plated case with its plate and the best parts found for it."""
    cases = [(plated(one, plate), plate) for one, plate in plates()]
    return tuple((case, plate, face_options(case)[0].parts) for case, plate in cases)


def test_every_check_of_the_face_holds_with_what_the_search_puts_on_the_plate() -> None:
    assert len(searched()) >= 200
    for case, plate, parts in searched():
        for check in (check for check in CHECKS if check.question.check in FACE_CHECKS):
            finding = check.run(case, parts)
            assert finding.outcome in {Outcome.PASS, Outcome.BY_PARTS}, (str(finding.reason), plate)


def test_nothing_but_new_bolts_goes_on_a_plate() -> None:
    for _, plate, parts in searched():
        assert not parts.has_stacks, plate
        assert {bolt.length_mm for bolt in parts.bolts if bolt} == {plate.pump_bolt_length_mm}, plate


def test_a_plate_may_be_thicker_than_spacers_may_be_piled_up() -> None:
    # Shaft up to 90.1, bore down to 71.75, 1.6 mm of room: 19.95 mm must lie between, and 20 mm as made is no less.
    ours = [[60, 0], [0, 60], [-60, 0], [0, -60]]
    case = case_with(
        {
            "machine.face.holes_xy_mm": ours,
            "machine.shaft.projection_mm": 90,
            "machine.shaft.keyseat_length_mm": 70,
            "pump.bore.depth_mm": 71.85,
        }
    )
    plan = face_plan(case)
    assert plan.plate is not None
    assert plan.plate.thickness_mm == 20.0
