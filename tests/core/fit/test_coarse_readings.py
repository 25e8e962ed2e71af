"""A reading so coarse that it tells nothing is no better than none: it never lets a table speak for it."""

from __future__ import annotations

import pytest

from tests.core.fit.test_mutations import changed, judged
from xref_app.core.fit.finding import Verdict

KEY_FIELDS = {
    "machine.shaft.key_width_mm": 4.76,
    "machine.shaft.key_top_mm": 21.12,
    "pump.bore.keyway_width_mm": 4.78,
    "pump.bore.keyway_floor_mm": 21.26,
}


@pytest.mark.parametrize("path", KEY_FIELDS)
@pytest.mark.parametrize("doubt_mm", [2.0, 10_000.0])
def test_a_coarse_reading_of_the_key_is_not_known_yet(path: str, doubt_mm: float) -> None:
    coarse = {path: {"value": KEY_FIELDS[path], "doubt": doubt_mm}}
    # A finely read bore, so that nothing but the key is open.
    judgement = judged(changed({"pump.bore.diameter_mm": {"value": 19.07, "doubt": 0.01}, **coarse}))
    assert judgement.verdict is Verdict.NOT_KNOWN_YET
    assert path.rsplit(".", 1)[1] in " ".join(judgement.measure_next)


def test_an_eight_millimetre_keyway_read_with_a_caliper_is_still_told_from_its_metric_neighbours() -> None:
    """5/16 in (7.94 mm) lies inside the reading too, but 24 mm is a pair of ISO 773, whose widths are 6, 8 and 10."""
    metric = {
        "machine.shaft.diameter_mm": {"value": 23.98, "doubt": 0.01},
        "machine.shaft.key_width_mm": 8.0,
        "machine.shaft.key_top_mm": 27.0,
        "pump.bore.diameter_mm": {"value": 24.02, "doubt": 0.01},
        "pump.bore.keyway_width_mm": 8.02,
        "pump.bore.keyway_floor_mm": 27.3,
    }
    findings = {one.check: one.outcome.word for one in judged(changed(metric)).findings}
    assert (findings["bore"], findings["key"]) == ("pass", "pass")
