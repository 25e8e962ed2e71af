"""The one plan for what lies between the faces: stacks, bolts and turn, and the plate where nothing else does."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.model.case import Case
from xref_app.core.parts.burden import Burden
from xref_app.core.plan.face_search import FaceOption, face_options


@dataclass(frozen=True, slots=True)
class FacePlan:
    """How the pump is put on: the case as it is then judged (with the plate on), the parts, and what they take.

    ``runner_up`` is the second best way where one passes too.
    """

    case: Case
    parts: FaceParts
    burden: Burden
    runner_up: FaceOption | None = None


def face_plan(case: Case) -> FacePlan:
    """Return the least way to put the pump on, as far as its checks can be brought to pass."""
    best, *others = face_options(case)
    runner_up = others[0] if others and others[0].holds and best.holds else None
    return FacePlan(case, best.parts, best.burden, runner_up)
