"""sizes.schema.json is complete, agrees with the closed lists of words, and answers as fields."""

from __future__ import annotations

import re

import pytest

from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fields.fields import Field, Kind, Side, all_fields, field_for, field_for_case
from xref_app.core.fields.schema_files import as_list, as_object, schema_file
from xref_app.core.model import words
from xref_app.core.quantity.quantities import FIELD_UNITS

FIELDS = tuple(all_fields().values())
WORD_FIELDS = {
    "shaft_form": words.ShaftForm,
    "shaft_axis": words.Axis,
    "shaft_turn": words.Turn,
    "face_hole_kind": words.HoleKind,
    "face_material": words.Material,
    "face_pilot_kind": words.PilotKind,
    "face_seat_kind": words.SeatKind,
    "power_kind": words.PowerKind,
    "supply_gender": words.Gender,
    "discharge_gender": words.Gender,
    "bore_form": words.BoreForm,
    "bore_axis": words.Axis,
    "bore_turn": words.Turn,
    "flange_pilot_kind": words.PilotKind,
    "flange_seat_kind": words.SeatKind,
    "inlet_gender": words.Gender,
    "outlet_gender": words.Gender,
    "oil": words.Oil,
}
CUSTOM_PROPERTIES: dict[str, type | tuple[type, ...]] = {
    "title": str,
    "unit": str,
    "constraints": dict,
    "description": str,
    "howToMeasure": str,
    "minutes": (int, float),
    "comesOffFirst": str,
    "defaultDoubt": (int, float),
    "doubtSource": str,
    "kind": str,
    "caseField": str,
    "side": str,
}


@pytest.mark.parametrize("row", as_list(schema_file("sizes")["fields"])[1:], ids=lambda row: row["name"])
def test_every_size_has_every_property(row: object) -> None:
    properties = as_object(row)
    for name, kind in CUSTOM_PROPERTIES.items():
        assert isinstance(properties[name], kind), name


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.field_id)
def test_every_size_says_how_to_measure_it(field: Field) -> None:
    assert len(field.how_to_measure) > 20
    assert field.how_to_measure.endswith(".")
    assert field.minutes > 0
    assert field.doubt_source


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.field_id)
def test_limits_belong_to_numbers_and_choices_to_words(field: Field) -> None:
    if field.kind is Kind.NUMBER:
        assert field.minimum is not None
        assert field.maximum is not None
        assert field.minimum < field.maximum
    else:
        assert field.minimum is None
        assert field.maximum is None
    assert bool(field.choices) == (field.kind is Kind.WORD)
    assert bool(field.pattern) == (field.kind in {Kind.THREAD, Kind.HOLES, Kind.HEIGHTS, Kind.SECTORS})


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.field_id)
def test_name_ends_in_its_unit(field: Field) -> None:
    assert field.unit in FIELD_UNITS
    if field.unit:
        assert field.field_id.endswith(f"_{field.unit}")
    else:
        assert field.field_id.rsplit("_", 1)[-1] not in FIELD_UNITS


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.field_id)
def test_case_path_and_side_agree(field: Field) -> None:
    assert field.case_field.startswith(f"{field.side}.")
    assert field_for_case(field.case_field) is field
    assert field.side in {Side.MACHINE, Side.PUMP}


def test_word_fields_hold_the_closed_lists_of_words() -> None:
    assert {field.field_id: field.choices for field in FIELDS if field.choices} == {
        name: tuple(word.value for word in enum) for name, enum in WORD_FIELDS.items()
    }


def test_default_doubts_are_the_house_rules_of_the_design() -> None:
    # Design, section 3: outside ±0.05, inside ±0.10, depth and projection ±0.10, hole positions ±0.10, seats ±0.05 mm.
    doubts = {field.field_id: field.default_doubt for field in FIELDS}
    outside = (
        "shaft_diameter_mm",
        "shaft_key_width_mm",
        "shaft_key_top_mm",
        "face_thickness_mm",
        "flange_thickness_mm",
    )
    inside = ("bore_diameter_mm", "bore_keyway_width_mm", "bore_keyway_floor_mm", "flange_hole_mm", "face_hole_mm")
    depth = ("shaft_projection_mm", "bore_depth_mm", "bore_recess_mm", "face_tapped_depth_mm", "flange_pilot_depth_mm")
    assert {doubts[name] for name in outside} == {0.05}
    assert {doubts[name] for name in (*inside, *depth, "face_holes_xy_mm", "flange_holes_xy_mm")} == {0.10}
    assert {doubts[name] for name in ("face_seat_heights_mm", "flange_seat_heights_mm")} == {0.05}
    ratings = ("rating_pressure_bar", "rating_speed_rpm", "power_speed_rpm", "discharge_rating_bar", "nozzle_number")
    assert {doubts[name] for name in ratings} == {0.0}


def test_patterns_take_what_the_design_writes() -> None:
    takes = {
        "face_holes_xy_mm": ("46 0; 0 46; -46 0; 0 -46", "32.5 -1.25 4 90"),
        "face_seat_heights_mm": ("0; 0; 0; -2",),
        "room_outlet_free_deg": ("0 360", "0 90; 180 270"),
        "outlet_thread": ("M22x1.5", "3/4-11.5 NH", "3/8-18 NPT", "G3/8", "5/16-24 UNF"),
    }
    for name, texts in takes.items():
        for text in texts:
            assert re.fullmatch(field_for(name).pattern, text), text
    for text in ("", "46", "46 0;", "46,0", "46 0 4", "a b"):
        assert not re.fullmatch(field_for("face_holes_xy_mm").pattern, text), text


def test_what_the_old_pump_had_is_the_field_of_the_new_one() -> None:
    assert field_for_case("old_pump.has.unloader") is field_for("has_unloader")


def test_unknown_field_names_the_nearest_one() -> None:
    with pytest.raises(UnknownFieldError) as caught:
        field_for("shaft_diamter_mm")
    assert (
        str(caught.value) == "“shaft_diamter_mm” is not a field this program knows: did you mean “shaft_diameter_mm”?"
    )
    assert caught.value.nearest == "shaft_diameter_mm"


def test_unknown_case_path_is_refused() -> None:
    with pytest.raises(UnknownFieldError) as caught:
        field_for_case("xyz")
    assert str(caught.value) == (
        "“xyz” is not a field this program knows: take a name from data_schema/sizes.schema.json."
    )
    with pytest.raises(UnknownFieldError):
        field_for_case("old_pump.bore.diameter_mm")
