"""An M22x1.5 seal read between its two sizes is neither of them: no reading of it may end in a fit or in an exception.

design.md section 3: a standard size is one whose limits meet the reading. 14.4 ± 0.1 meets neither 14 nor 15, and a
plug of the wrong size leaks under pressure; a wrong 'Fits' is the worst fault.
"""

from __future__ import annotations

import pytest

from tests.soundness.bases import changed, section_10
from tests.soundness.cases import SeededCase
from tests.soundness.test_soundness import contradiction_or_none, verdict_or_none
from xref_app.core.fit.finding import Verdict


def with_seal(value_mm: float, doubt_mm: float) -> SeededCase:
    reading = {"value": value_mm, "doubt": doubt_mm, "how": "measured"}
    case = changed(section_10(), pump__ports__outlet__seal_mm=reading)
    return SeededCase(0, case, case, (f"seal {value_mm} ± {doubt_mm}",))


@pytest.mark.parametrize(("value_mm", "doubt_mm"), [(14.3, 0.1), (14.4, 0.1), (14.49, 0), (14.5, 0), (14.6, 0)])
def test_a_seal_between_the_sizes_is_no_fit(value_mm: float, doubt_mm: float) -> None:
    case = with_seal(value_mm, doubt_mm)
    verdict = verdict_or_none(case)
    assert verdict is not Verdict.FITS
    assert contradiction_or_none(case, verdict) is None


@pytest.mark.parametrize(("value_mm", "expected"), [(14.05, Verdict.FITS), (14.95, Verdict.DOES_NOT_FIT)])
def test_a_seal_read_within_its_doubt_is_that_size(value_mm: float, expected: Verdict) -> None:
    case = with_seal(value_mm, 0.1)
    assert verdict_or_none(case) is expected
    assert contradiction_or_none(case, expected) is None
