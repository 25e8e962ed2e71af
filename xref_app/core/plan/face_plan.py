"""The one plan for what lies between the faces: stacks, bolts and turn, and the plate where nothing else does."""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.face_parts import NOTHING_BETWEEN, FaceParts, NoPlate, PlateParts
from xref_app.core.fit.finding import Need, Outcome
from xref_app.core.fit.pattern import judge_pattern, too_few_bolts
from xref_app.core.fit.question import known
from xref_app.core.fit.spacing import missing_for_reach, reach_or_none
from xref_app.core.model.case import Case
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.parts.burden import Burden
from xref_app.core.plan.face_search import FaceOption, face_options
from xref_app.core.plan.house_rules import CENTRING_MM, STOCK_MM
from xref_app.core.plan.plate import plate_or_why_not
from xref_app.core.plan.plate_parts import Plate
from xref_app.core.plan.plate_readings import readings_used
from xref_app.core.plan.plated import machine_with_plate
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

WITH_PLATE = marked(
    "findings",
    "The bolts pass the pump's holes at no turn; an adapter plate {thickness:.2f} mm thick goes between, the pump "
    "turned {turn}°.",
)
PLATE_NEED = marked(
    "findings",
    "Adapter plate, {material}, {thickness:.2f} mm thick, {outside:.0f} mm across: to make by its drawing",
)
SCREW_NEED = marked("findings", "Socket head cap screw {thread} x {length:.1f} mm, sunk in the plate")
SET_PLATE = marked(
    "findings",
    "Centre the plate on the shaft within {off:.2f} mm and tighten its screws before the pump goes on: every head must "
    "lie below the plate's face.",
)
NOT_RECKONED = marked(
    "findings",
    "House design: the plate's strength under the pump's load is not reckoned; the maker's manual and local practice "
    "go first.",
)
PLATES_LISTED = marked(
    "findings",
    "The list has {count} kinds of adapter plate; it does not say where their holes are, so none was looked at.",
)
PLATE_LISTED = marked(
    "findings", "The list has an adapter plate; it does not say where its holes are, so it was not looked at."
)
NO_THICKNESS_YET = marked("findings", "how thick one may be hangs on how far the shaft goes in.")
NO_THICKNESS = marked("findings", "the shaft leaves no room for one.")


@dataclass(frozen=True, slots=True)
class FacePlan:
    """How the pump is put on: the case as it is then judged (with the plate on), the parts, and what they take.

    ``runner_up`` is the second best way where one passes too; ``plate`` the adapter plate where there is one.
    """

    case: Case
    parts: FaceParts
    burden: Burden
    runner_up: FaceOption | None = None
    plate: Plate | None = None


def face_plan(case: Case) -> FacePlan:
    """Return the least way to put the pump on, as far as its checks can be brought to pass.

    An adapter plate is looked for only where the bolts surely pass at no turn, and never where too few would hold.
    """
    if _needs_plate(case):
        return _with_plate(case)
    best, *others = face_options(case)
    return FacePlan(case, best.parts, best.burden, _runner_up_or_none(best, others))


def _needs_plate(case: Case) -> bool:
    if too_few_bolts(case.machine, case.pump):
        return False
    return judge_pattern(case.machine, case.pump, NOTHING_BETWEEN).outcome is Outcome.FAIL


def _runner_up_or_none(best: FaceOption, others: list[FaceOption]) -> FaceOption | None:
    return others[0] if others and others[0].holds and best.holds else None


def _with_plate(case: Case) -> FacePlan:
    plate = _plate_or_not(case)
    if isinstance(plate, NoPlate):
        (best, *_) = face_options(case)
        told = replace(plate, notes=_listed_notes(case.shelf))
        return FacePlan(case, replace(best.parts, no_plate=told), best.burden)
    plated = replace(case, machine=machine_with_plate(case.machine, plate))
    best, *others = face_options(plated, _parts_of(plate, case))
    own = Burden(made=1, ordered=plate.screw_count, pieces=1 + plate.screw_count)
    return FacePlan(plated, best.parts, best.burden + own, _runner_up_or_none(best, others), plate)


def _plate_or_not(case: Case) -> Plate | NoPlate:
    """Return the thinnest plate that surely works, or why there is none."""
    reach = reach_or_none(case.machine, case.pump)
    if reach is None:
        return NoPlate(Sentence(NO_THICKNESS_YET), missing_for_reach(case.machine, case.pump))
    least, most = max(reach.least_mm, 0.0), reach.most_apart_mm
    if least >= most or most < min(STOCK_MM):
        best_least, best_most = reach.best_mm
        may_do = max(best_least, min(STOCK_MM)) <= best_most
        return NoPlate(Sentence(NO_THICKNESS), ("shaft_projection_mm", "bore_depth_mm") if may_do else ())
    plate = plate_or_why_not(case.machine, case.pump, window_mm=Range(least, most))
    return plate if isinstance(plate, Plate) else NoPlate(plate.reason, plate.measure)


def _parts_of(plate: Plate, case: Case) -> PlateParts:
    size = {"thickness": plate.thickness_mm, "turn": plate.turn_deg}
    told = {"material": plate.material.value, "thickness": plate.thickness_mm, "outside": plate.outline_mm}
    screw = {"thread": plate.screw_thread, "length": plate.screw_length_mm}
    return PlateParts(
        Sentence(WITH_PLATE, size),
        (
            Need(Sentence(PLATE_NEED, told), 1, to_make=True),
            Need(Sentence(SCREW_NEED, screw), plate.screw_count),
        ),
        (Sentence(SET_PLATE, {"off": CENTRING_MM}), Sentence(NOT_RECKONED), *_listed_notes(case.shelf)),
        known(readings_used(case.machine, case.pump)),
    )


def _listed_notes(shelf: Shelf) -> tuple[Sentence, ...]:
    """Return that listed plates were not looked at, where there are any: their hole patterns are in no field."""
    count = sum(part.kind is PartKind.PLATE and part.count > 0 for part in shelf)
    if not count:
        return ()
    return (Sentence(PLATE_LISTED) if count == 1 else Sentence(PLATES_LISTED, {"count": count}),)
