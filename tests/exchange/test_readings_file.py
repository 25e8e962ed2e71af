"""READINGS.json as a shop writes it: every length as meant, every fault in one whole sentence."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from xref_app.core.errors import XrefError
from xref_app.core.quantity.instruments import DOUBTS, Instrument
from xref_app.core.quantity.range import Range
from xref_app.core.resources import folder
from xref_app.exchange.json_file import MOST_BYTES
from xref_app.exchange.reading_kind import Kind
from xref_app.exchange.readings_file import load_readings, read_readings
from xref_app.exchange.schema_faults import refuse_what_is_not

SCHEMA: dict[str, Any] = json.loads((folder("data_schema") / "readings.schema.json").read_text(encoding="utf-8"))
PINT: pint.UnitRegistry[float] = pint.UnitRegistry()


def diameter(value: object) -> Range:
    found = read_readings({"diameter_mm": value}, Kind.SHAFT).length_or_none("diameter_mm")
    assert found is not None
    return found


def fault(data: dict[str, Any], kind: Kind) -> str:
    with pytest.raises(XrefError) as caught:
        read_readings(data, kind)
    return str(caught.value)


# --- lengths


@pytest.mark.parametrize(
    ("written", "inches"),
    [("3/4", 0.75), ("3/4 in", 0.75), ('3/4"', 0.75), ("2 7/8 in", 2.875), ("2-7/8", 2.875), (".750 in", 0.75)],
)
def test_inches_are_what_pint_makes_of_them(written: str, inches: float) -> None:
    assert diameter(written).middle == pytest.approx(PINT.Quantity(inches, "inch").to("mm").magnitude, abs=1e-9)


@pytest.mark.parametrize("written", [19.05, "19.05", "19,05 mm", "19.05mm", "1.905 cm", " 19.05 mm "])
def test_millimetres_stay_millimetres_however_written(written: object) -> None:
    found = diameter(written)
    assert (found.low, found.high) == pytest.approx((19.0, 19.1))


@settings(deadline=None)
@given(st.integers(800, 26000), st.integers(0, 300))
def test_a_reading_holds_its_value_give_or_take_its_own_doubt(hundredths: int, doubt: int) -> None:
    value, half = hundredths / 100, doubt / 1000
    for written in ({"value": value, "doubt": half}, {"value": f"{value} mm", "doubt": half}, f"{value} ± {half} mm"):
        found = diameter(written)
        assert (found.low, found.high) == pytest.approx((value - half, value + half), abs=1e-9)


@settings(deadline=None)
@given(st.lists(st.integers(1850, 1950), min_size=1, max_size=6))
def test_several_readings_allow_all_that_any_of_them_allows(hundredths: list[int]) -> None:
    together = diameter([one / 100 for one in hundredths])
    assert together.low == pytest.approx(min(hundredths) / 100 - 0.05)
    assert together.high == pytest.approx(max(hundredths) / 100 + 0.05)


def test_several_readings_keep_the_widest_doubt_of_any() -> None:
    found = diameter([19.0, {"value": 19.0, "doubt": 0.2}])
    assert (found.low, found.high) == pytest.approx((18.8, 19.2))


def test_readings_further_apart_than_the_caliper_explains_are_told() -> None:
    notes = read_readings({"diameter_mm": [18.8, 19.05]}, Kind.SHAFT).notes
    assert len(notes) == 1
    assert notes[0].startswith("diameter_mm: The readings differ by 0.25")
    assert read_readings({"diameter_mm": [19.0, 19.05]}, Kind.SHAFT).notes == ()


def test_null_is_not_read() -> None:
    readings = read_readings({"diameter_mm": 19.05, "key_width_mm": None}, Kind.SHAFT)
    assert readings.length_or_none("key_width_mm") is None
    assert readings.length_or_none("key_top_mm") is None


@pytest.mark.parametrize(
    ("kind", "name", "doubt_mm"),
    [
        (Kind.SHAFT, "diameter_mm", 0.05),
        (Kind.BORE, "diameter_mm", 0.10),
        (Kind.KEY, "width_mm", 0.05),
        (Kind.THREAD, "outside_mm", 0.05),
        (Kind.THREAD, "inside_mm", 0.10),
        (Kind.FACE, "shaft_diameter_mm", 0.05),
    ],
)
def test_a_bare_number_has_the_doubt_that_the_design_gives_a_cheap_caliper(
    kind: Kind, name: str, doubt_mm: float
) -> None:
    found = read_readings({name: 22.0}, kind).length_or_none(name)
    assert found is not None
    assert found.doubt == pytest.approx(doubt_mm)


def test_every_length_of_the_schema_names_an_instrument_and_what_is_plausible() -> None:
    lengths = {"#/$defs/length", "#/$defs/known_length", "#/$defs/pitch"}
    checked = 0
    for kind in (*Kind, "crests"):
        for name, described in SCHEMA["$defs"][str(kind)]["properties"].items():
            if described.get("$ref") in lengths or "plausible_mm" in described:
                assert Instrument(described["instrument"]) in DOUBTS, name
                assert 0 < described["plausible_mm"][0] < described["plausible_mm"][1], name
                checked += 1
            else:
                assert not name.endswith("_mm"), name
    assert checked == 24


# --- inch or mm


@pytest.mark.parametrize(
    ("kind", "name", "inches"),
    [
        (Kind.SHAFT, "diameter_mm", 0.75),
        (Kind.BORE, "diameter_mm", 1.125),
        (Kind.KEY, "width_mm", 0.1875),
        (Kind.THREAD, "outside_mm", 0.84),
        (Kind.THREAD, "pitch_mm", 0.05),
        (Kind.FACE, "circle_mm", 5.875),
        (Kind.FACE, "pilot_mm", 4.5),
    ],
)
def test_a_bare_number_that_only_inches_explain_is_asked_about_never_taken(
    kind: Kind, name: str, inches: float
) -> None:
    said = fault({name: inches}, kind)
    assert said.startswith(f"{name}: {inches} mm is outside ")
    assert said.endswith(f" – inch or mm? Write “{inches} in” or “{inches} mm”.")
    assert fault({name: str(inches)}, kind) == said
    as_inch = read_readings({name: f"{inches} in"}, kind).length_or_none(name)
    as_mm = read_readings({name: {"value": f"{inches} mm", "doubt": 0.01}}, kind).length_or_none(name)
    assert as_inch is not None
    assert as_mm is not None
    assert (as_inch.middle, as_mm.middle) == pytest.approx((inches * 25.4, inches))


# --- the pitch


def pitch(**given_as: object) -> Range:
    found = read_readings(dict(given_as), Kind.THREAD).length_or_none("pitch_mm")
    assert found is not None
    return found


def test_the_pitch_by_gauge_by_threads_per_inch_and_by_crests_is_one_pitch() -> None:
    true_mm = PINT.Quantity(1 / 14, "inch").to("mm").magnitude
    for found in (
        pitch(pitch_mm=round(true_mm, 3)),
        pitch(tpi=14),
        pitch(tpi={"value": 14, "doubt": 0.2}),
        pitch(pitch_mm={"crests": 11, "over_mm": round(10 * true_mm, 2)}),
    ):
        assert found.low < true_mm < found.high
        assert found.doubt < 0.04


def test_the_doubt_of_a_length_over_crests_is_shared_by_the_gaps_between_them() -> None:
    found = pitch(pitch_mm={"crests": 11, "over_mm": {"value": 15.0, "doubt": 0.1}})
    assert (found.low, found.high) == pytest.approx((1.49, 1.51))


# --- faults


BAD: dict[str, tuple[Kind, dict[str, Any], str]] = {
    "a slip in a name": (
        Kind.SHAFT,
        {"diametre_mm": 19},
        "shaft readings: “diametre_mm” is no field there – did you mean “diameter_mm”.",
    ),
    "a name of another kind": (
        Kind.KEY,
        {"width_mm": 5, "zzzzz": 1},
        "key readings: “zzzzz” is no field there – take one of: width_mm, height_mm.",
    ),
    "nothing measured": (Kind.SHAFT, {}, "shaft readings: “diameter_mm” is missing – add it."),
    "a wrong word": (
        Kind.THREAD,
        {"gender": "mail"},
        'gender: "mail" stands there – write one of: male, female, null.',
    ),
    "an angle no thread has": (
        Kind.THREAD,
        {"flank_angle_deg": 30},
        "flank_angle_deg: 30 stands there – write one of: 55, 60, null.",
    ),
    "below zero": (
        Kind.KEY,
        {"width_mm": -5},
        (
            "width_mm: -5 stands there – wanted: a length: a number in mm, a text like 3/4 or 19,05 mm, "
            '{"value": 19.05, "doubt": 0.02}, a list of readings of the one size, or null.'
        ),
    ),
    "text that is no length": (
        Kind.KEY,
        {"width_mm": "5 bar"},
        "width_mm: “5 bar” is a pressure, not a length – write it like 22.2 mm or 7/8 in.",
    ),
    "a comma that can be two things": (
        Kind.SHAFT,
        {"diameter_mm": "1,234 mm"},
        "diameter_mm: “1,234 mm” can mean 1234 or 1.234 – write it like 1234 mm or 1.234 mm.",
    ),
    "the second reading is none": (
        Kind.SHAFT,
        {"diameter_mm": [19, "x"]},
        "diameter_mm.1: “x” is not a length with a unit – write it like 22.2 mm or 7/8 in.",
    ),
    "a doubt twice": (
        Kind.SHAFT,
        {"diameter_mm": {"value": "19 ± 0.1 mm", "doubt": 0.05}},
        "diameter_mm: the doubt stands there twice – give it after the ± or under “doubt”.",
    ),
    "a doubt that leaves nothing": (
        Kind.SHAFT,
        {"diameter_mm": {"value": 19, "doubt": 20}},
        "diameter_mm: it can be -1 mm – no size reaches down to nothing; measure it again.",
    ),
    "two pitches": (
        Kind.THREAD,
        {"pitch_mm": 1.5, "tpi": 14},
        "thread readings: pitch_mm and tpi both say the pitch – give one of them.",
    ),
    "no thread per inch": (
        Kind.THREAD,
        {"tpi": {"value": 1, "doubt": 1}},
        "tpi: it can be 0 – no thread has none per inch; read it again.",
    ),
    "one crest": (
        Kind.THREAD,
        {"pitch_mm": {"crests": 1, "over_mm": 5}},
        (
            'pitch_mm: {"crests": 1, "over_mm": 5} stands there – wanted: a pitch: a length like 1.5 by a '
            'leaf of the gauge, {"crests": 11, "over_mm": 18.1} with the first and the last crest counted, or null.'
        ),
    ),
    "a distance without the holes": (
        Kind.CIRCLE,
        {"distance_mm": 60, "measured": "neighbouring", "taken": "centres"},
        "circle readings: “holes” is missing – add it.",
    ),
    "two sides of three": (
        Kind.CIRCLE,
        {"sides_mm": [60, 80]},
        "sides_mm: [60, 80] stands there – wanted: a list of three distances of three holes, in order round the face.",
    ),
    "a pair that is none": (
        Kind.CIRCLE,
        {"pairs_mm": {"1": 60}},
        (
            "pairs_mm: “1” is no name there – wanted: distances of holes by names like 1-2, and "
            "shaft-1 from the centre of the shaft."
        ),
    ),
    "steps nobody counts": (
        Kind.CIRCLE,
        {"holes": 6, "measured": "across", "taken": "centres", "distance_mm": 60},
        (
            'measured: "across" stands there – wanted: neighbouring, opposite, or across and a number of '
            "steps round the circle."
        ),
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_a_fault_is_one_whole_sentence(name: str) -> None:
    kind, data, sentence = BAD[name]
    assert fault(data, kind) == sentence


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("{", "is not JSON"),
        ("[19]", "holds no JSON object – it must start with { and name what was read."),
        ('{"diameter_mm": NaN}', "the number NaN – leave out what is not known, or write null."),
        ('{"diameter_mm": 19, "diameter_mm": 20}', "diameter_mm: stands there twice – keep one."),
        ('{"diameter_mm": 1e999}', "Infinity stands there"),
        ('{"diameter_mm": ' + "9" * 5000 + "}", "is not JSON"),
        ("[" * 100_000, "is not JSON"),
        (" " * (MOST_BYTES + 1), "that is too much; it should be a page of numbers."),
    ],
)
def test_a_file_that_is_none_is_one_sentence(text: str, sentence: str, tmp_path: Path) -> None:
    path = tmp_path / "readings.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(XrefError) as caught:
        load_readings(path, Kind.SHAFT)
    assert sentence in str(caught.value)
    assert "\n" not in str(caught.value)


# --- the schema


def test_the_schema_is_one_and_each_kind_refuses_what_it_does_not_know() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert [one["$ref"] for one in SCHEMA["anyOf"]] == [f"#/$defs/{kind}" for kind in Kind]
    for kind in Kind:
        assert SCHEMA["$defs"][kind]["additionalProperties"] is False
        assert "“nonsense_mm” is no field there" in fault({"nonsense_mm": 1}, kind)


def test_a_fault_without_a_title_names_what_the_schema_wants() -> None:
    validator = Draft202012Validator({"properties": {"count": {"minimum": 2}}})
    with pytest.raises(XrefError) as caught:
        refuse_what_is_not(validator, {"count": 1}, root="file")
    assert str(caught.value) == "count: 1 stands there – the schema wants minimum 2."


_JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-5, 400)
    | st.floats(-5, 400)
    | st.text(max_size=6)
    | st.sampled_from(["3/4", "19 mm"]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["value", "doubt", "crests", "over_mm"]), inner)
    ),
    max_leaves=6,
)


@settings(deadline=None)
@given(st.sampled_from(Kind), st.data())
def test_whatever_stands_there_is_read_or_refused_in_a_sentence(kind: Kind, data: st.DataObject) -> None:
    names = st.sampled_from(sorted(SCHEMA["$defs"][kind]["properties"]))
    given_as = data.draw(st.dictionaries(names, _JSON, max_size=4))
    said = refusal_or_none(given_as, kind)
    if said is None:
        Draft202012Validator({**SCHEMA, "$ref": f"#/$defs/{kind}"}).validate(given_as)
    else:
        assert said.endswith(".")
        assert "\n" not in said


def refusal_or_none(data: dict[str, Any], kind: Kind) -> str | None:
    try:
        read_readings(data, kind)
    except XrefError as error:
        return str(error)
    return None
