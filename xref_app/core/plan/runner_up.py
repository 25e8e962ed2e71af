"""The second best way to bridge the faces, told beside the best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref_app.core.fit.finding import Finding, Need, Outcome
from xref_app.core.plan.face_plan import FacePlan
from xref_app.core.plan.face_search import FaceOption
from xref_app.core.sentence import Sentence, marked

OTHERWISE = marked("findings", "Otherwise: {parts}.")
_TOLD_BESIDE = ("pattern", "reach", "pilot", "seat", "key load", "bolts")


def with_runner_up(findings: Sequence[Finding], plan: FacePlan) -> tuple[Finding, ...]:
    """Return the findings, the first that asks for parts between the faces with the runner-up as a note."""
    if plan.runner_up is None:
        return tuple(findings)
    named = [one for check in _TOLD_BESIDE for one in findings if one.check == check]
    beside = next((one for one in named if one.outcome is Outcome.BY_PARTS), None)
    if beside is None:
        return tuple(findings)
    told = Sentence(OTHERWISE, {"parts": _worded(plan.runner_up)})
    return tuple(replace(one, notes=(*one.notes, told)) if one is beside else one for one in findings)


def _worded(option: FaceOption) -> str:
    needs: dict[str, Need] = {str(need.what): need for one in option.findings for need in one.needs}
    return "; ".join(f"{need.quantity} x {words}" for words, need in needs.items())
