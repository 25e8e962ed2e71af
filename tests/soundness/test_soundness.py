"""The judge against a second implementation that shares no code with it: what it says for sure, holds for every draw.

Design: guarded acceptance (ISO 14253-1). For each seeded case many exact machines and pumps are drawn that the readings
allow. 'Fits as is' must hold for all of them and 'Does not fit' for none of them.
"""

from __future__ import annotations

import pytest

from tests.soundness.cases import SeededCase, seeded_case
from tests.soundness.draw import draw
from tests.soundness.oracle import LENIENT, STRICT, fits
from xref_app.core.errors import XrefError
from xref_app.core.fit.finding import Verdict
from xref_app.core.plan.judge import judge_each
from xref_app.exchange.case_file import read_case_file

CASES = 2_400
DRAWS = 200
CHUNK = 100

# Looked at when the pump is in hand: an open question there blocks nothing (design), so a draw may miss by these alone.
ON_ARRIVAL = {"room", "oil", "way out"}


def verdict_or_none(case: SeededCase) -> Verdict | None:
    """Return the judge's verdict, None where the reader refuses the case as implausible."""
    try:
        read = read_case_file(case.shown)
    except XrefError:
        return None
    return judge_each(read.cases, read.contradicted).verdict


def contradiction_or_none(case: SeededCase, verdict: Verdict | None, draws: int = DRAWS) -> str | None:
    """Return the first draw that contradicts the verdict, worded for whoever has to look into it."""
    if verdict not in {Verdict.FITS, Verdict.DOES_NOT_FIT}:
        return None
    always = set(ON_ARRIVAL)
    for place, real in enumerate(draw(case.shown, case.made_from, draws, case.seed)):
        fitting, failing = fits(real, LENIENT if verdict is Verdict.FITS else STRICT)
        if verdict is Verdict.FITS and failing - ON_ARRIVAL:
            return f"seed {case.seed} {case.changes}: fits, yet draw {place} fails {sorted(failing)}: {real}"
        if verdict is Verdict.DOES_NOT_FIT and fitting:
            return f"seed {case.seed} {case.changes}: does not fit, yet draw {place} does: {real}"
        always &= failing
    if verdict is Verdict.FITS and always:
        return (
            f"seed {case.seed} {case.changes}: fits, yet every draw fails {sorted(always)}, which leaves nothing open"
        )
    return None


@pytest.mark.parametrize("start", range(0, CASES, CHUNK))
def test_what_the_judge_says_for_sure_holds_for_every_draw(start: int) -> None:
    for seed in range(start, start + CHUNK):
        case = seeded_case(seed)
        assert contradiction_or_none(case, verdict_or_none(case)) is None


def test_the_seeded_cases_reach_every_verdict_and_few_are_refused() -> None:
    verdicts = [verdict_or_none(seeded_case(seed)) for seed in range(300)]
    assert sum(verdict is None for verdict in verdicts) <= 15
    assert sum(verdict is Verdict.FITS for verdict in verdicts) >= 45
    assert sum(verdict is Verdict.DOES_NOT_FIT for verdict in verdicts) >= 45
    assert sum(verdict is Verdict.NOT_KNOWN_YET for verdict in verdicts) >= 45
    assert sum(verdict is Verdict.FITS_WITH_PARTS for verdict in verdicts) >= 5
