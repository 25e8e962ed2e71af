"""The soundness test sees a wrong judge: each check, made to pass on purpose, is caught."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.soundness.cases import seeded_case
from tests.soundness.test_soundness import contradiction_or_none
from xref_app.core.errors import XrefError
from xref_app.core.fit.checks import CHECKS, Check
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Finding, Outcome, Verdict
from xref_app.core.model.case import Case
from xref_app.core.plan.judge import judge
from xref_app.exchange.case_file import read_case

SEEDS = range(5_000)  # the rarest fault, alone in an otherwise fitting case, needs this many
DRAWS = 40
# Comforts decide nothing; identity is about how a pump was found, not about metal.
NOT_IN_THE_ORACLE = {"comforts", "identity"}


def always_passing(check: Check) -> Check:
    def passes(case: Case, parts: FaceParts) -> Finding:
        return replace(check.run(case, parts), outcome=Outcome.PASS)

    return Check(check.question, passes)


@pytest.mark.parametrize(
    "name", sorted(check.question.check for check in CHECKS if check.question.check not in NOT_IN_THE_ORACLE)
)
def test_a_check_that_always_passes_is_caught(name: str) -> None:
    checks = tuple(always_passing(check) if check.question.check == name else check for check in CHECKS)
    for seed in SEEDS:
        case = seeded_case(seed)
        try:
            read = read_case(case.shown)
        except XrefError:
            continue
        if len(read) > 1 or {one.check for one in judge(read[0]).findings if one.blocks} != {name}:
            continue
        if judge(read[0], checks).verdict is Verdict.FITS and contradiction_or_none(case, Verdict.FITS, DRAWS):
            return
    pytest.fail(f"a {name} check that always passes went unnoticed")
