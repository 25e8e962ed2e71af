"""What cannot be so is refused in one sentence that says what to do."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from xref_app.core.diagnose.evidence import Bucket, Evidence, EvidenceError
from xref_app.core.diagnose.words import Part
from xref_app.core.quantity.range import Range


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (lambda: Bucket(Range(-1, 2), Range(1, 2)), "A bucket holds 0 litres or more; read its mark again."),
        (lambda: Bucket(Range(1, math.inf), Range(1, 2)), "A bucket holds 0 litres or more; read its mark again."),
        (lambda: Bucket(Range(1, 2), Range(0, 2)), "A bucket takes more than 0 seconds to fill; time it again."),
        (
            lambda: Evidence(gauge_bar=Range(-1, 5)),
            "The item gauge bar as read can be -1, and must be 0 or more; measure it again.",
        ),
        (
            lambda: Evidence(rated_lpm=Range(0, 5)),
            "The item rated lpm as read can be 0, and must be above 0; measure it again.",
        ),
        (lambda: Evidence(shut_bar=Range(5, math.inf)), "The item shut bar is not a finite number; measure it again."),
        (
            lambda: Evidence(cured_by=frozenset({Part.SCREEN}), no_change_by=frozenset({Part.SCREEN})),
            "“inlet screen” cannot have cured it and changed nothing; keep one of the two.",
        ),
    ],
)
def test_what_cannot_be_is_refused(made: Callable[[], object], said: str) -> None:
    with pytest.raises(EvidenceError) as refused:
        made()
    assert str(refused.value) == said


def test_no_pressure_no_flow_and_frost_are_readings() -> None:
    nothing = Range.exactly(0)
    evidence = Evidence(gauge_bar=nothing, bucket=Bucket(nothing, Range(60, 61)), supply_c=Range(-2, 1))
    assert evidence.bucket is not None
    assert evidence.bucket.flow_lpm == nothing
