"""The verdict does not hang on the order in which checks run."""

from __future__ import annotations

import random

from tests.soundness.cases import seeded_case
from xref_app.core.errors import XrefError
from xref_app.core.plan.judge import CHECKS, judge
from xref_app.exchange.case_file import read_case


def test_the_order_of_checks_changes_nothing() -> None:
    for seed in range(150):
        try:
            case = read_case(seeded_case(seed).shown)[0]
        except XrefError:
            continue
        shuffled = list(CHECKS)
        random.Random(seed).shuffle(shuffled)
        assert judge(case, shuffled) == judge(case)
