"""The soundness test sees a wrong judge: each check, made to pass on purpose, is caught."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.soundness.cases import seeded_case
from tests.soundness.test_soundness import contradiction_or_none
from xref_app.core.errors import XrefError
from xref_app.core.fit.checks import CHECKS, Check
from xref_app.core.fit.finding import Finding, Outcome, Verdict
from xref_app.core.fit.judge import judge
from xref_app.core.model.case import Case
from xref_app.exchange.case_file import read_case

SEEDS = range(1_200)
DRAWS = 40


def always_passing(check: Check) -> Check:
    def passes(case: Case) -> Finding:
        return replace(check.run(case), outcome=Outcome.PASS)

    return Check(check.question, passes)


@pytest.mark.parametrize(
    "name", ["bore", "key", "reach", "pattern", "seat", "bolts", "outlet", "pressure", "power", "supply"]
)
def test_a_check_that_always_passes_is_caught(name: str) -> None:
    checks = tuple(always_passing(check) if check.question.check == name else check for check in CHECKS)
    for seed in SEEDS:
        case = seeded_case(seed)
        try:
            read = read_case(case.shown)
        except XrefError:
            continue
        if len(read) > 1 or judge(read[0]).verdict is Verdict.FITS:
            continue
        if judge(read[0], checks).verdict is Verdict.FITS and contradiction_or_none(case, Verdict.FITS, DRAWS):
            return
    pytest.fail(f"a {name} check that always passes went unnoticed")
