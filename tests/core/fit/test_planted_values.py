"""Every value of the fitting example, planted as unknown, typical, coarse or claimed: none may carry a "Fits"."""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.fit.test_mutations import changed, example, judged
from xref_app.core.fields.fields import Field, Kind, all_fields
from xref_app.core.fit.finding import Verdict

FITS = {Verdict.FITS, Verdict.FITS_WITH_PARTS}

# What the verdict may do without, and why.
NOT_NEEDED = {
    "shaft_turn": "this pump turns either way",
    "face_material": "unknown metal is taken as aluminium, the weaker",
    "face_bolt_length_mm": "new bolts are ordered",
    "power_kind": "it picks which trade rule and cautions are shown",
    "rating_max_speed_rpm": "the rated speed is the limit then",
    "room_outlet_free_deg": "on arrival",
    "room_length_mm": "on arrival",
    "outlet_direction_deg": "on arrival",
    "pump_length_mm": "on arrival",
    "oil": "on arrival",
    "has_chemical_inlet": "on arrival",
    "has_inlet_screen": "on arrival",
}
COARSE = {Kind.NUMBER, Kind.HOLES, Kind.HEIGHTS}


def plain_value(field: Field) -> Any:  # JSON value
    here: Any = example()  # JSON
    for name in field.case_field.split("."):
        here = here.get(name) if isinstance(here, dict) else None
    return here["value"] if isinstance(here, dict) and "value" in here else here


GIVEN = [field for field in all_fields().values() if plain_value(field) is not None]
NEEDED = [field for field in GIVEN if field.field_id not in NOT_NEEDED]


def verdict_with(field: Field, value: Any) -> Verdict:  # JSON value
    return judged(changed({field.case_field: value})).verdict


def test_most_fields_of_the_example_are_needed() -> None:
    assert len(NEEDED) >= 50


@pytest.mark.parametrize("field", NEEDED, ids=lambda field: field.field_id)
def test_no_needed_value_may_be_unknown_typical_or_coarse(field: Field) -> None:
    plain = plain_value(field)
    assert verdict_with(field, None) not in FITS
    assert verdict_with(field, {"value": plain, "how": "typical"}) not in FITS
    if field.kind in COARSE:
        assert verdict_with(field, {"value": plain, "doubt": 500}) not in FITS


@pytest.mark.parametrize("field", NEEDED, ids=lambda field: field.field_id)
def test_a_fit_that_rests_on_a_claim_names_it(field: Field) -> None:
    judgement = judged(changed({field.case_field: {"value": plain_value(field), "how": "claimed"}}))
    assert field.field_id in judgement.claims
