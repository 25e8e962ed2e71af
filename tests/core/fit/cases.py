"""The example case with some values changed, and one finding of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tests.core.fit.test_mutations import changed
from xref_app.core.fit.checks import CHECKS
from xref_app.core.fit.finding import Finding
from xref_app.core.model.case import Case
from xref_app.core.plan.face_plan import face_plan
from xref_app.exchange.case_file import read_case


def case_with(changes: Mapping[str, Any]) -> Case:  # JSON values by path
    """Return the example case with ``changes`` made."""
    (case,) = read_case(changed(dict(changes)))
    return case


def finding_of(check: str, case: Case) -> Finding:
    """Return what one check says of ``case`` with the best parts between the faces, before the shelf is counted."""
    plan = face_plan(case)
    return next(one for one in CHECKS if one.question.check == check).run(plan.case, plan.parts)


def found(check: str, changes: Mapping[str, Any]) -> Finding:  # JSON values by path
    """Return what one check says of the example case with ``changes`` made."""
    return finding_of(check, case_with(changes))


def said(finding: Finding) -> tuple[str, str]:
    """Return the outcome's word and the whole reason."""
    return finding.outcome.word, str(finding.reason)
