"""All checks run on a case, and the verdict they add up to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from xref_app.core.fit.cautions import cautions
from xref_app.core.fit.checks import CHECKS, Check
from xref_app.core.fit.finding import Finding, Judgement, Need, Outcome, Verdict
from xref_app.core.fit.hints import without_hints
from xref_app.core.fit.shortage import with_shelf_counted
from xref_app.core.fit.versions import agreed
from xref_app.core.model.case import Case
from xref_app.core.model.known import How
from xref_app.core.model.shelf import Part
from xref_app.core.plan.face_plan import FacePlan, face_plan
from xref_app.core.plan.runner_up import with_runner_up

__all__ = ["CHECKS", "VERDICT_OF", "judge", "judge_each", "summed_up"]

VERDICT_OF: Mapping[Outcome, Verdict] = {
    Outcome.PASS: Verdict.FITS,
    Outcome.BY_PARTS: Verdict.FITS_WITH_PARTS,
    Outcome.UNKNOWN: Verdict.NOT_KNOWN_YET,
    Outcome.FAIL: Verdict.DOES_NOT_FIT,
}
"""The verdict that the worst outcome of all checks makes."""

_ORDER = {check.question.check: place for place, check in enumerate(CHECKS)}


def judge(case: Case, checks: Iterable[Check] = CHECKS) -> Judgement:
    """Return every finding about ``case`` and the verdict. The order in which ``checks`` come does not matter."""
    plan = face_plan(without_hints(case))
    return summed_up([plan], with_runner_up([check.run(plan.case, plan.parts) for check in checks], plan))


def judge_each(cases: Sequence[Case], contradicted: Sequence[str] = ()) -> Judgement:
    """Return the judgement where some values come in several versions.

    A finding stands only where it is the same under all of them; else it is unknown. Never averaged, never newest-wins.

    Args:
        cases: n ≥ 1, one per combination of versions.
        contradicted: The fields that come in several versions: what to measure where the findings disagree.
    """
    if len(cases) == 1:
        return judge(cases[0])
    plans = [face_plan(without_hints(case)) for case in cases]
    runs = [[check.run(plan.case, plan.parts) for plan in plans] for check in CHECKS]
    return summed_up(plans, [agreed(findings, contradicted) for findings in runs])


def verdict_of(findings: Iterable[Finding]) -> Verdict:
    """Return what the findings add up to; an unknown on arrival blocks nothing."""
    return VERDICT_OF[worst_outcome(findings, default=Outcome.UNKNOWN)]


def worst_outcome(findings: Iterable[Finding], *, default: Outcome) -> Outcome:
    """Return the worst outcome that counts: what is open on arrival counts as passed. Without findings ``default``."""
    return max((Outcome.PASS if _is_open_on_arrival(one) else one.outcome for one in findings), default=default)


def count_in_the_way(findings: Iterable[Finding]) -> int:
    """Return how many checks stand between the pump and 'Fits', parts that are needed among them."""
    return sum(one.outcome is not Outcome.PASS and not one.on_arrival for one in findings)


def _is_open_on_arrival(finding: Finding) -> bool:
    return finding.on_arrival and finding.outcome is Outcome.UNKNOWN


def summed_up(plans: Sequence[FacePlan], findings: Iterable[Finding]) -> Judgement:
    """Return the judgement that findings add up to, once it is seen that the shelf holds enough for all of them.

    Args:
        plans: n ≥ 1, one per combination of versions.
        findings: One per check, in any order.
    """
    found = with_shelf_counted(tuple(sorted(findings, key=lambda one: _ORDER[one.check])))
    return Judgement(
        verdict=verdict_of(found),
        findings=found,
        needs=_all_needs(found),
        measure_next=fields_asked(found),
        danger=tuple({str(one.danger): one.danger for one in found if one.danger is not None}.values()),
        cautions=cautions(plans[0].case.machine),
        claims=fields_claimed(found),
        clocking_deg=_clocking_deg(plans) if _is_met(found, "pattern") else None,
    )


def _clocking_deg(plans: Sequence[FacePlan]) -> float | None:
    """Return the turn the pump goes on at, degrees; None where it is not the same under every version."""
    turns = {plan.parts.turn for plan in plans}
    (turn,) = turns if len(turns) == 1 else (None,)
    return None if turn is None else turn.degrees


def _is_met(findings: Sequence[Finding], check: str) -> bool:
    return all(one.outcome in {Outcome.PASS, Outcome.BY_PARTS} for one in findings if one.check == check)


def _all_needs(findings: Sequence[Finding]) -> tuple[Need, ...]:
    """Return the parts of every finding: pieces within one finding add up, those that two findings share do not."""
    wanted: dict[tuple[str, Part | None], Need] = {}
    for finding in findings:
        own: dict[tuple[str, Part | None], Need] = {}
        for need in finding.needs:
            key = (str(need.what), need.listed)
            own[key] = replace(need, quantity=need.quantity + (own[key].quantity if key in own else 0))
        for key, need in own.items():
            if key not in wanted or wanted[key].quantity < need.quantity:
                wanted[key] = need
    return tuple(wanted.values())


def fields_asked(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Return the fields that open, blocking findings ask for, those that the most of them ask for first."""
    asked = Counter(
        field
        for one in findings
        if one.outcome is Outcome.UNKNOWN and not one.on_arrival
        for field in dict.fromkeys(one.measure)
    )
    return tuple(field for field, _ in asked.most_common())


def fields_claimed(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Return the fields that are only claimed and that a finding rests on."""
    return tuple(dict.fromkeys(field for one in findings for field, how in one.used if how is How.CLAIMED))
