"""What to put between the faces: of all turns, stacks and bolts those that pass every check for the least burden."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.fit.bolt_joint import bolt_joint_or_none
from xref_app.core.fit.bolt_size import bolt_or_none
from xref_app.core.fit.face_parts import FaceParts, NewBolt, PlateParts
from xref_app.core.fit.face_turns import face_turns_or_none
from xref_app.core.fit.finding import Finding, Outcome
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.seats import seat_heights_or_none
from xref_app.core.fit.spacing import bolts_used, is_surely_apart, window_mm
from xref_app.core.fit.stack import Stack
from xref_app.core.fit.way_out import from_as_drawn
from xref_app.core.model.case import Case
from xref_app.core.parts.burden import NO_BURDEN, Burden
from xref_app.core.plan.bolt_choice import BoltPlaces, choose_bolts
from xref_app.core.plan.face_findings import face_findings, least_open
from xref_app.core.plan.legs import Legs, legs_at, per_place, stack_sets
from xref_app.core.plan.stacks import burden_or_none, stacks_offered


@dataclass(frozen=True, slots=True, order=True)
class _Score:
    """How well something bridges the gaps, best first: what fails, what stays open, then what it takes."""

    fails: int
    unknown: int
    open_on_arrival: int
    burden: Burden
    turned: float


@dataclass(frozen=True, slots=True)
class FaceOption:
    """One way to put the pump on: its parts, what they take, and what the checks between the faces say of it."""

    parts: FaceParts
    findings: tuple[Finding, ...]
    score: _Score

    @property
    def burden(self) -> Burden:
        """Return what its parts take."""
        return self.score.burden

    @property
    def holds(self) -> bool:
        """Say whether no check that lies between the faces fails or stays open with it."""
        return self.reaches(0)

    def reaches(self, floor: int) -> bool:
        """Say whether nothing fails and no more than ``floor`` checks stay open."""
        return self.score.fails == 0 and self.score.unknown <= floor


def face_options(case: Case, plate: PlateParts | None = None) -> tuple[FaceOption, ...]:
    """Return the best way to bolt the pump on, and the runner-up where there is one.

    Nothing goes between faces that hold together as they are (house rule), even where it would save ordering bolts.
    Exact within its space: every turn that surely works; under legs of one height one stack of at most two listed
    pieces, or one piece to make; one length of bolt for bolts through the same joint.

    Args:
        case: With the adapter plate on its machine where ``plate`` says so.
        plate: The plate in words and parts.
    """
    turns = face_turns_or_none(case.machine, case.pump)
    tried: list[Turn | None] = list(turns.sure) if turns and turns.sure else [None]
    bare = [_bare(case, turn, plate) for turn in tried]
    best = min(bare, key=lambda option: option.score)
    floor = least_open(case, best.parts, best.findings)
    if floor is None:
        return (best,)
    return _two_best(case, bare, _with_stacks(case, _differing(case, bare), plate), floor)


def _differing(case: Case, bare: list[FaceOption]) -> list[Turn | None]:
    """Return the turns at which the legs differ, of those alike only the one that is best with nothing put in."""
    heights, bolts = seat_heights_or_none(case.machine, case.pump), bolts_used(case.machine, case.pump)
    kept: dict[Legs, Turn | None] = {}
    for option in sorted(bare, key=lambda one: one.score):
        kept.setdefault(legs_at(option.parts.turn, heights, bolts), option.parts.turn)
    return list(kept.values())


def _bare(case: Case, turn: Turn | None, plate: PlateParts | None) -> FaceOption:
    legs = legs_at(turn, seat_heights_or_none(case.machine, case.pump), bolts_used(case.machine, case.pump))
    return _option(case, turn, legs, tuple(Stack() for _ in legs.groups), plate)


def _with_stacks(case: Case, turns: list[Turn | None], plate: PlateParts | None) -> list[tuple[Burden, _Untried]]:
    """Return every way that puts something under the bolts, by what the stacks alone take."""
    offered = stacks_offered(case.shelf, bolt_or_none(case.machine))
    window = window_mm(case.machine, case.pump)
    is_needed = is_surely_apart(case.machine, case.pump)
    heights = seat_heights_or_none(case.machine, case.pump)
    found: list[tuple[Burden, _Untried]] = []
    for turn in turns:
        legs = legs_at(turn, heights, bolts_used(case.machine, case.pump))
        for chosen in stack_sets(legs, offered, window, is_surely_needed=is_needed):
            burden = burden_or_none(per_place(legs, chosen))
            if burden is not None and burden != NO_BURDEN:
                found.append((burden, _Untried(turn, legs, chosen, plate)))
    return sorted(found, key=lambda one: one[0])


@dataclass(frozen=True, slots=True)
class _Untried:
    turn: Turn | None
    legs: Legs
    chosen: tuple[Stack, ...]
    plate: PlateParts | None

    @property
    def profile(self) -> object:
        """Return what the checks see of it: turn, thicknesses, and how many pieces carry their doubt."""
        first = self.chosen[0]
        return self.turn, tuple(
            (round(one.nominal_mm, 6), len(one.pieces), round(one.over_mm(first).doubt, 6)) for one in self.chosen
        )


def _two_best(
    case: Case, bare: list[FaceOption], untried: list[tuple[Burden, _Untried]], floor: int
) -> tuple[FaceOption, ...]:
    """Return the two best, giving up once what stacks alone take is more than the second best's whole.

    ``floor`` is how many checks stay open whatever is put in. A way that fails is not tried again with other pieces
    of the same thickness.
    """
    best = sorted(bare, key=lambda option: option.score)[:2]
    in_vain: set[object] = set()
    for burden, way in untried:
        if len(best) > 1 and best[1].reaches(floor) and burden > best[1].burden:
            break
        if way.profile in in_vain:
            continue
        option = _option(case, way.turn, way.legs, way.chosen, way.plate)
        if not option.reaches(floor):
            in_vain.add(way.profile)
        best = sorted([*best, option], key=lambda one: one.score)[:2]
    return tuple(best)


def _option(
    case: Case, turn: Turn | None, legs: Legs, chosen: tuple[Stack, ...], plate: PlateParts | None
) -> FaceOption:
    places = per_place(legs, chosen)
    bolts, bolts_take = _bolts(case, legs, chosen)
    same = len(legs.groups) == 1
    parts = FaceParts(turn, (places[0],) if same else places, bolts[:1] if same else bolts, plate)
    burden = (burden_or_none(places) or NO_BURDEN) + bolts_take
    findings = face_findings(case, parts)
    return FaceOption(parts, findings, _score(findings, turn, burden))


def _bolts(case: Case, legs: Legs, chosen: tuple[Stack, ...]) -> tuple[tuple[NewBolt | None, ...], Burden]:
    """Return one bolt per place, and what they take; none while a size of the joint is not known."""
    groups = []
    for group, stack in zip(legs.groups, chosen, strict=True):
        joint = bolt_joint_or_none(case.machine, case.pump, stack)
        if joint is None:
            return (None,) * len(legs.sums), NO_BURDEN
        groups.append(BoltPlaces(joint, len(group)))
    old = case.machine.face.bolt_length_mm
    found = choose_bolts(groups, old.range if old else None, case.shelf)
    of_place = {place: bolt for group, bolt in zip(legs.groups, found.bolts, strict=True) for place in group}
    return tuple(of_place[place] for place in range(len(legs.sums))), found.burden


def _score(findings: Sequence[Finding], turn: Turn | None, burden: Burden) -> _Score:
    open_ones = [finding for finding in findings if finding.outcome is Outcome.UNKNOWN]
    return _Score(
        fails=sum(finding.outcome is Outcome.FAIL for finding in findings),
        unknown=sum(not finding.on_arrival for finding in open_ones),
        open_on_arrival=sum(finding.on_arrival for finding in open_ones),
        burden=burden,
        turned=from_as_drawn(turn) if turn else 0.0,
    )
