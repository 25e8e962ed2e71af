"""What the checks between the faces say of some parts, and whether other parts could ever do better."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from xref_app.core.fit.bolt_joint import bolt_joint_or_none
from xref_app.core.fit.checks import CHECKS, Check
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Finding, Outcome
from xref_app.core.fit.house_rules import LEAST_MADE_MM
from xref_app.core.fit.seats import seat_heights_or_none
from xref_app.core.fit.spacing import window_mm
from xref_app.core.fit.stack import NO_STACK, Piece, Stack
from xref_app.core.model.case import Case

# The checks that what lies between the faces can change.
_FACE_CHECKS: tuple[Check, ...] = tuple(
    check
    for check in CHECKS
    if check.question.check in {"key load", "reach", "pattern", "pilot", "seat", "bolts", "way out"}
)
# Thicknesses tried, evenly over what reach and pilot allow, to see whether any could help.
_SAMPLES = 5


def face_findings(case: Case, parts: FaceParts) -> tuple[Finding, ...]:
    """Return what each check between the faces says with ``parts`` put in."""
    return tuple(check.run(case, parts) for check in _FACE_CHECKS)


def least_open(case: Case, bare: FaceParts, found: Iterable[Finding]) -> int | None:
    """Return how many checks stay open whatever lies under the bolts; None where nothing could do better than ``bare``.

    Nothing could where no check can be helped, or where one fails that no thickness helps: then the pump does not go
    on, and what else could be put in is no use to anybody.

    Args:
        case: What is judged.
        bare: The turn and the bolts, with nothing under them.
        found: What the checks say of ``bare``.
    """
    in_the_way = {one.check: one.outcome for one in found if one.outcome > Outcome.BY_PARTS and not one.on_arrival}
    helped = _helped(case, bare, in_the_way)
    if not helped or any(outcome is Outcome.FAIL and name not in helped for name, outcome in in_the_way.items()):
        return None
    return len(in_the_way) - len(helped)


def _helped(case: Case, bare: FaceParts, in_the_way: dict[str, Outcome]) -> frozenset[str]:
    """Return the checks that some thickness under the bolts brings further than they are."""
    helped = set()
    if "seat" in in_the_way and _legs_are_known(case, bare):
        helped.add("seat")
    if in_the_way.get("bolts") is Outcome.UNKNOWN and bolt_joint_or_none(case.machine, case.pump, NO_STACK):
        helped.add("bolts")  # another grip may suit a length that is sold
    for parts in _samples(case, bare) if in_the_way else ():
        for check in _FACE_CHECKS:
            name = check.question.check
            if name in in_the_way and name not in helped and check.run(case, parts).outcome < in_the_way[name]:
                helped.add(name)
    return frozenset(helped)


def _legs_are_known(case: Case, parts: FaceParts) -> bool:
    heights = seat_heights_or_none(case.machine, case.pump)
    return heights is not None and parts.turn is not None and parts.turn.only_pairing


def _samples(case: Case, bare: FaceParts) -> Iterator[FaceParts]:
    """Yield one stack under every bolt, of thicknesses spread over what reach and pilot allow."""
    window = window_mm(case.machine, case.pump)
    if window is None or window.high < LEAST_MADE_MM:
        return
    low = max(window.low, LEAST_MADE_MM)
    for step in range(_SAMPLES):
        thickness = low + (window.high - low) * (step + 0.5) / _SAMPLES
        yield replace(bare, stacks=(Stack((Piece(thickness),)),))
