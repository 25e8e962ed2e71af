"""The ports and hoses of one parallel thread in several forms: like ones fit, unlike ones never, unknown ones ask."""

from __future__ import annotations

import re

import pytest

from tests.core.fit.cases import found
from tests.core.fit.test_water_chains import hose, outlet
from xref_app.core.fit.finding import Outcome

BOTH = ("discharge_thread", "outlet_thread")


@pytest.mark.parametrize(
    ("ours", "theirs", "outcome", "measure"),
    [
        ("G3/8 cone 60", "G3/8 cone 60", Outcome.PASS, ()),
        ("G3/8", "G3/8", Outcome.UNKNOWN, BOTH),
        ("G3/8 cone 60", "G3/8", Outcome.UNKNOWN, ("outlet_thread",)),
        ("G3/8 cone 60", "G3/8 flat shoulder", Outcome.FAIL, ()),
        ("G3/8 flat end", "G3/8 flat shoulder", Outcome.FAIL, ()),
        ("M18x1.5 cone 24 L", "M18x1.5 cone 24 L", Outcome.PASS, ()),
        ("M18x1.5 cone 24 L", "M18x1.5 cone 24 S", Outcome.FAIL, ()),
        ("M18x1.5 cone 60", "M18x1.5 cone 24 L", Outcome.FAIL, ()),
        ("M18x1.5 O-ring", "M18x1.5", Outcome.UNKNOWN, ("outlet_thread",)),
        ("M18x1.5", "M18x1.5", Outcome.UNKNOWN, BOTH),
        ("M22x1.5 cone 60", "M22x1.5 cone 60", Outcome.PASS, ()),
        # the bare one is a screw coupling whose seal nobody measured
        ("M22x1.5 cone 60", "M22x1.5", Outcome.UNKNOWN, ("outlet_seal_mm",)),
        ("1/2-14 NPSM", "1/2-14 NPSM", Outcome.UNKNOWN, BOTH),
        ("1/2-13 UNC", "1/2-13 UNC", Outcome.UNKNOWN, BOTH),
        # one form each: nothing to look at
        ("3/4-11.5 NH", "3/4-11.5 NH", Outcome.PASS, ()),
        ("3/8-18 NPT", "3/8-18 NPT", Outcome.PASS, ()),
    ],
)
def test_one_parallel_thread_fits_only_where_both_ends_seal_in_one_way(
    ours: str, theirs: str, outcome: Outcome, measure: tuple[str, ...]
) -> None:
    finding = found("outlet", outlet(theirs, "male") | hose(ours, "female"))
    assert (finding.outcome, finding.measure) == (outcome, measure)
    if outcome is Outcome.PASS:
        assert str(finding.reason) == f"{ours} female goes on {theirs} male directly."
    if outcome is Outcome.UNKNOWN and "seal" not in measure[0]:
        assert "they screw together, and only like ones seal" in str(finding.reason)


@pytest.mark.parametrize("thread", ["G3/8", "M18x1.5", "1/2-14 NPSM", "1/2-13 UNC", "7/8-14 UNF", "1-1/16-12 UN"])
def test_every_way_that_a_question_says_to_write_an_end_can_be_written(thread: str) -> None:
    finding = found("outlet", outlet(thread, "male") | hose(thread, "female"))
    ways = re.split(r", | or ", str(finding.reason).split("write it like ")[1].removesuffix("."))
    assert len(ways) >= 2
    for way in ways:
        assert found("outlet", outlet(way, "male") | hose(way, "female")).outcome is Outcome.PASS, way
