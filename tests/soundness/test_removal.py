"""Taking a value away never makes a case fit that did not: not knowing is never a pass.

Left out are the fields of the checks on arrival (room, oil, outlet direction, comforts, pump length): by design an
unknown there blocks nothing, so taking away a known misfit can lift it; it is then listed as 'look when it is in your
hands'. The shelf is no value.
"""

from __future__ import annotations

import copy

import pytest

from tests.soundness.cases import removable_paths, seeded_case
from tests.soundness.fields import Json, put
from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import field_for_case
from xref_app.core.fit.finding import Verdict
from xref_app.core.plan.judge import judge_each
from xref_app.exchange.case_file import read_case_file

CASES = 400
CHUNK = 50

FITS = {Verdict.FITS, Verdict.FITS_WITH_PARTS}
ON_ARRIVAL = {
    "room_outlet_free_deg",
    "room_length_mm",
    "outlet_direction_deg",
    "pump_length_mm",
    "oil",
    "has_chemical_inlet",
    "has_inlet_screen",
}


def verdict_or_none(case: Json) -> Verdict | None:
    try:
        read = read_case_file(case)
    except XrefError:
        return None
    return judge_each(read.cases, read.contradicted).verdict


@pytest.mark.parametrize("start", range(0, CASES, CHUNK))
def test_taking_a_value_away_never_makes_a_fit(start: int) -> None:
    for seed in range(start, start + CHUNK):
        case = seeded_case(seed).shown
        before = verdict_or_none(case)
        if before is None or before in FITS:
            continue
        for path in removable_paths(case):
            if field_for_case(path).field_id in ON_ARRIVAL:
                continue
            poorer = copy.deepcopy(case)
            put(poorer, path, None)
            assert verdict_or_none(poorer) not in FITS, f"seed {seed}: without {path} it fits"


def test_taking_a_blocking_value_away_never_makes_fits_with_parts_fit_as_is() -> None:
    for seed in range(CASES):
        case = seeded_case(seed).shown
        if verdict_or_none(case) is not Verdict.FITS_WITH_PARTS:
            continue
        for path in removable_paths(case):
            if field_for_case(path).field_id not in ON_ARRIVAL:
                poorer = copy.deepcopy(case)
                put(poorer, path, None)
                assert verdict_or_none(poorer) is not Verdict.FITS, f"seed {seed}: without {path} it fits as is"
