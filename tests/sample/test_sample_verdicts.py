"""The situations made for showing come out as meant: the first pumps of a family on the family's first machine."""

from __future__ import annotations

import pytest

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import FAMILIES, sample_rows
from tests.sample.units import CANNOT_FIT, FITS, LACKED, LACKS_ONE_SIZE, NEEDS_SPACER, WHOLE_FAMILIES
from xref_app.core.fit.finding import Judgement, Outcome, Verdict
from xref_app.services.judge_named import judge_named

CATALOG = catalog_of(sample_rows())
# What keeps each family's misfit off: its bore, or its speed.
BROKEN = {"V78": "bore", "H34": "speed", "H1": "bore", "C56": "bore", "I90": "bore"}


def _judged(key: str, place: int) -> Judgement:
    """Judge the family's pump in this place on the family's first machine; entries are numbered through."""
    before = [family.key for family in FAMILIES].index(key)
    pump = 1 + place + sum(family.pumps for family in FAMILIES[:before])
    machine = 1 + sum(family.machines for family in FAMILIES[:before])
    return judge_named(CATALOG, machine=f"M-{machine:03d}", pump=f"P-{pump:03d}")


@pytest.mark.parametrize("key", WHOLE_FAMILIES)
def test_one_pump_fits_as_is(key: str) -> None:
    assert _judged(key, FITS).verdict is Verdict.FITS


@pytest.mark.parametrize("key", WHOLE_FAMILIES)
def test_one_pump_fits_with_listed_spacers(key: str) -> None:
    judged = _judged(key, NEEDS_SPACER)
    assert judged.verdict is Verdict.FITS_WITH_PARTS
    assert [str(need.listed.kind) for need in judged.needs if need.listed] == ["spacer"]


@pytest.mark.parametrize("key", WHOLE_FAMILIES)
def test_one_pump_waits_for_one_size(key: str) -> None:
    judged = _judged(key, LACKS_ONE_SIZE)
    assert judged.verdict is Verdict.NOT_KNOWN_YET
    assert judged.measure_next == (LACKED,)


@pytest.mark.parametrize("key", WHOLE_FAMILIES)
def test_one_pump_cannot_fit(key: str) -> None:
    judged = _judged(key, CANNOT_FIT)
    assert judged.verdict is Verdict.DOES_NOT_FIT
    assert BROKEN[key] in {finding.check for finding in judged.findings if finding.outcome is Outcome.FAIL}
