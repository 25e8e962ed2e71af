"""What people write at a counter, good and refused, with the whole sentence of every refusal."""

from __future__ import annotations

import pickle

import pytest

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.inch_or_mm import inch_or_mm_or_none, plausible_units
from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.quantities import parse_quantity
from xref_app.core.quantity.units import INCH, MM, Kind

# Text, unit of a bare number, millimetres worked out by hand (1 in = 25.4 mm).
LENGTHS = [
    ("7/8 in", None, 22.225),
    ('1 1/4"', None, 31.75),
    ("1-1/4 in", None, 31.75),
    ("1½″", None, 38.1),
    ("22,2 mm", None, 22.2),
    ("92.1mm", None, 92.1),
    ("1 MM", None, 1.0),
    ("2,5 cm", None, 25.0),
    ("0,750 in", None, 19.05),
    ("1.250 in", None, 31.75),
    (".750 in", None, 19.05),
    ("3/4-in", None, 19.05),
    ("3/4''", None, 19.05),
    ("２２．２ｍｍ", None, 22.2),
    ("22.2\u00a0mm", None, 22.2),
    ("  22.2   mm ", None, 22.2),
    ("22.225 mm", None, 22.225),
    ("0 mm", None, 0.0),
    ("3/128 in", None, 0.5953125),
    (".750", "in", 19.05),
    ("19,05", "mm", 19.05),
    ("19", "mm", 19.0),
    ("3/4", "in", 19.05),
    ("3/4", "mm", 19.05),
    ("1 1/8", "mm", 28.575),
    ("22.2 mm", "in", 22.2),
]


@pytest.mark.parametrize(("text", "default", "mm"), LENGTHS)
def test_length_is_read(text: str, default: str | None, mm: float) -> None:
    assert parse_length_mm(text, default_unit=default).value_mm == mm


# Kind, text, value in the canonical unit: factors of NIST SP 811 times the number, worked with a pocket calculator.
AMOUNTS = [
    (Kind.PRESSURE, "2700 psi", 186.158447),
    (Kind.PRESSURE, "2700 PSI", 186.158447),
    (Kind.PRESSURE, "4000 lb/in2", 275.790292),
    (Kind.PRESSURE, "186 bar", 186.0),
    (Kind.PRESSURE, "18,6 MPa", 186.0),
    (Kind.PRESSURE, "18600 kPa", 186.0),
    (Kind.PRESSURE, "1.250 bar", 1.25),
    (Kind.FLOW, "2.5 gpm", 9.463529),
    (Kind.FLOW, "2.5 U.S. gal/min", 9.463529),
    (Kind.FLOW, "9,5 l/min", 9.5),
    (Kind.FLOW, "9.5 L/min", 9.5),
    (Kind.FLOW, "9.5lpm", 9.5),
    (Kind.FLOW, "600 l/h", 10.0),
    (Kind.FLOW, "150 gph", 9.463529),
    (Kind.POWER, "6.5 hp", 4.847049),
    (Kind.POWER, "6 1/2 HP", 4.847049),
    (Kind.POWER, "1/3 hp", 0.248567),
    (Kind.POWER, "6.5 PS", 4.780742),
    (Kind.POWER, "6.5 metric hp", 4.780742),
    (Kind.POWER, "4.8 kW", 4.8),
    (Kind.POWER, "1500 W", 1.5),
    (Kind.SPEED, "3400 rpm", 3400.0),
    (Kind.SPEED, "1450 r.p.m.", 1450.0),
    (Kind.SPEED, "2800 1/min", 2800.0),
    (Kind.SPEED, "2800 min⁻¹", 2800.0),
    (Kind.TEMPERATURE, "60 °C", 60.0),
    (Kind.TEMPERATURE, "60 ºC", 60.0),
    (Kind.TEMPERATURE, "60 ℃", 60.0),
    (Kind.TEMPERATURE, "140°F", 60.0),
    (Kind.TEMPERATURE, "−5 deg C", -5.0),
    (Kind.TORQUE, "25 N·m", 25.0),
    (Kind.TORQUE, "25 Nm", 25.0),
    (Kind.TORQUE, "18 lb·ft", 24.404723),
    (Kind.TORQUE, "18 ft-lbs", 24.404723),
    (Kind.TORQUE, "220 in lb", 24.856662),
    (Kind.ANGLE, "90°", 90.0),
    (Kind.ANGLE, "-90 deg", -90.0),
    (Kind.COUNT, "3,5", 3.5),
]


@pytest.mark.parametrize(("kind", "text", "value"), AMOUNTS)
def test_amount_is_read(kind: Kind, text: str, value: float) -> None:
    assert parse_quantity(text, kind).value == pytest.approx(value, abs=5e-7)


LENGTH_ADVICE = "Write it like 22.2 mm or 7/8 in."
NO_LENGTH = f"is not a length with a unit. {LENGTH_ADVICE}"

# Text, unit of a bare number, the whole sentence.
REFUSED_LENGTHS = [
    ("7/8", None, f"“7/8” {NO_LENGTH}"),
    ("19,05", None, f"“19,05” {NO_LENGTH}"),
    ("3/4-11.5", "mm", f"“3/4-11.5” {NO_LENGTH}"),
    ("1 250 mm", None, f"“1 250 mm” {NO_LENGTH}"),
    ("1,250.5 mm", None, f"“1,250.5 mm” {NO_LENGTH}"),
    ("1.2.3 mm", None, f"“1.2.3 mm” {NO_LENGTH}"),
    ("1e3", "mm", f"“1e3” {NO_LENGTH}"),
    ("1e3 mm", None, f"“1e3 mm” {NO_LENGTH}"),
    ("nan", "mm", f"“nan” {NO_LENGTH}"),
    ("inf mm", None, f"“inf mm” {NO_LENGTH}"),
    ("N/A", "mm", f"“N/A” {NO_LENGTH}"),
    ("about 19 mm", None, f"“about 19 mm” {NO_LENGTH}"),
    ("19 mm ID", None, f"“19 mm ID” {NO_LENGTH}"),
    ("19.", "mm", f"“19.” {NO_LENGTH}"),
    ("2 ft", None, f"“2 ft” {NO_LENGTH}"),
    ("1O mm", None, f"“1O mm” {NO_LENGTH}"),
    ("22--mm", None, f"“22--mm” {NO_LENGTH}"),
    ("7/8'", None, f"“7/8'” {NO_LENGTH}"),
    ("٢٢ mm", None, f"“٢٢ mm” {NO_LENGTH}"),
    ("22 mm\u200b", None, f"“22 mm\\u200b” {NO_LENGTH}"),
    ("", None, f"“” is empty. {LENGTH_ADVICE}"),
    ("  \u00a0", "mm", f"“  \\u00a0” is empty. {LENGTH_ADVICE}"),
    ("9" * 65, "mm", f"“{'9' * 40}…” has more than 64 characters. {LENGTH_ADVICE}"),
    ("-5 mm", None, f"“-5 mm” is below zero. {LENGTH_ADVICE}"),
    ("−5", "mm", f"“−5” is below zero. {LENGTH_ADVICE}"),
    ("3² mm", None, f"“3² mm” has raised or lowered characters. {LENGTH_ADVICE}"),
    ("5/0 in", None, f"“5/0 in” divides by zero. {LENGTH_ADVICE}"),
    ("11/4 in", None, f"“11/4 in” has 11/4, which is not a part of one: a space may be lost. {LENGTH_ADVICE}"),
    ("1 5/4 in", None, f"“1 5/4 in” has 5/4, which is not a part of one: a space may be lost. {LENGTH_ADVICE}"),
    ("3/5 in", None, f"“3/5 in” is divided in 5, as no rule is. {LENGTH_ADVICE}"),
    ("1,250", "mm", "“1,250” can mean 1250 or 1.25. Write it like 1250 mm or 1.25 mm."),
    ("1,250 in", None, "“1,250 in” can mean 1250 or 1.25. Write it like 1250 in or 1.25 in."),
    ("22,225 mm", None, "“22,225 mm” can mean 22225 or 22.225. Write it like 22225 mm or 22.225 mm."),
    ("2700 psi", None, f"“2700 psi” is a pressure, not a length. {LENGTH_ADVICE}"),
    ("90°", "mm", f"“90°” is an angle, not a length. {LENGTH_ADVICE}"),
]


@pytest.mark.parametrize(("text", "default", "sentence"), REFUSED_LENGTHS)
def test_length_is_refused_in_one_sentence(text: str, default: str | None, sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        parse_length_mm(text, default_unit=default)
    assert str(refusal.value) == sentence
    assert refusal.value.found == text


REFUSED_AMOUNTS = [
    (Kind.PRESSURE, "2,700 psi", "“2,700 psi” can mean 2700 or 2.7. Write it like 2700 psi or 2.7 psi."),
    (Kind.PRESSURE, "2.700 psi", "“2.700 psi” can mean 2700 or 2.7. Write it like 2700 psi or 2.7 psi."),
    (Kind.PRESSURE, "18 mPa", "“18 mPa” is not a pressure with a unit. Write it like 2700 psi or 186 bar."),
    (Kind.PRESSURE, "2700", "“2700” is not a pressure with a unit. Write it like 2700 psi or 186 bar."),
    (Kind.PRESSURE, "-3 bar", "“-3 bar” is below zero. Write it like 2700 psi or 186 bar."),
    (Kind.FLOW, "2.5 imp gpm", "“2.5 imp gpm” is not a flow with a unit. Write it like 2.5 gpm or 9.5 l/min."),
    (Kind.FLOW, "3 m³/h", "“3 m³/h” has raised or lowered characters. Write it like 2.5 gpm or 9.5 l/min."),
    (Kind.FLOW, "2700 psi", "“2700 psi” is a pressure, not a flow. Write it like 2.5 gpm or 9.5 l/min."),
    (Kind.POWER, "6.5", "“6.5” is not a power with a unit. Write it like 6.5 hp or 4.8 kW."),
    (Kind.POWER, "6.5 HP max", "“6.5 HP max” is not a power with a unit. Write it like 6.5 hp or 4.8 kW."),
    (Kind.SPEED, "3,400 rpm", "“3,400 rpm” can mean 3400 or 3.4. Write it like 3400 rpm or 3.4 rpm."),
    (Kind.SPEED, "3.400 rpm", "“3.400 rpm” can mean 3400 or 3.4. Write it like 3400 rpm or 3.4 rpm."),
    (Kind.SPEED, "34001/min", "“34001/min” is not a speed with a unit. Write it like 3400 rpm or 3400 1/min."),
    (Kind.TEMPERATURE, "40°", "“40°” is an angle, not a temperature. Write it like 60 °C or 140 °F."),
    (Kind.TEMPERATURE, "313 K", "“313 K” is not a temperature with a unit. Write it like 60 °C or 140 °F."),
    (Kind.TEMPERATURE, "-500 °F", "“-500 °F” is below absolute zero. Write it like 60 °C or 140 °F."),
    (Kind.TORQUE, "25 kg", "“25 kg” is not a torque with a unit. Write it like 25 N·m or 18 lb·ft."),
    (Kind.COUNT, "3.5 mm", "“3.5 mm” is a length, not a number. Write it like 3.5."),
    (Kind.COUNT, "three", "“three” is not a number. Write it like 3.5."),
    (Kind.ANGLE, "90 rpm", "“90 rpm” is a speed, not an angle. Write it like 90 or 90°."),
]


@pytest.mark.parametrize(("kind", "text", "sentence"), REFUSED_AMOUNTS)
def test_amount_is_refused_in_one_sentence(kind: Kind, text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        parse_quantity(text, kind)
    assert str(refusal.value) == sentence


def test_a_refusal_survives_a_process_border() -> None:
    refusal = MeasureError("7/8", "is not a length with a unit", "22.2 mm or 7/8 in")
    assert str(pickle.loads(pickle.dumps(refusal))) == str(refusal)  # noqa: S301 - our own bytes, made on this line


# Half of the last digit given (design: the doubt of a plate value); a rule size to the 64th, house rule.
LAST_DIGITS = [
    ("22.2 mm", 0.05),
    ("22.20 mm", 0.005),
    ("22 mm", 0.5),
    ("0.875 in", 0.0127),
    ("7/8 in", 25.4 / 128),
    ("1 in", 25.4 / 128),
    ("3/128 in", 25.4 / 256),
]


@pytest.mark.parametrize(("text", "doubt_mm"), LAST_DIGITS)
def test_half_of_the_last_digit(text: str, doubt_mm: float) -> None:
    assert float(parse_length_mm(text).last_digit_mm) == pytest.approx(doubt_mm)


def test_fahrenheit_counts_last_digits_as_differences() -> None:
    assert float(parse_quantity("140 °F", Kind.TEMPERATURE).last_digit) == pytest.approx(5 / 18)


# A shaft field that plausibly holds 10 to 50 mm.
def test_only_one_unit_is_plausible() -> None:
    assert plausible_units(0.875, minimum_mm=10, maximum_mm=50) == (INCH,)
    assert plausible_units(22, minimum_mm=10, maximum_mm=50) == (MM,)
    assert plausible_units(900, minimum_mm=10, maximum_mm=50) == ()
    assert plausible_units(2, minimum_mm=1, maximum_mm=100) == (MM, INCH)


QUESTIONS = [
    ("0.875", "Inch or mm? 0.875 in is 22.225 mm, 0.875 mm is 0.03445 in."),
    ("22 in", "Inch or mm? 22 in is 558.8 mm, 22 mm is 0.8661 in."),
]


@pytest.mark.parametrize(("text", "question"), QUESTIONS)
def test_far_off_value_asks_with_both_readings(text: str, question: str) -> None:
    asked = inch_or_mm_or_none(text, default_unit=MM, minimum_mm=10, maximum_mm=50)
    assert asked is not None
    assert str(asked.question) == question
    assert asked.likely is not asked.read_as


@pytest.mark.parametrize("text", ["22", "7/8", "7/8 in", "900", "900 in"])
def test_nothing_is_asked_where_the_other_unit_is_no_better(text: str) -> None:
    assert inch_or_mm_or_none(text, default_unit=MM, minimum_mm=10, maximum_mm=50) is None


def test_nothing_is_asked_where_both_units_are_plausible() -> None:
    assert inch_or_mm_or_none("2", default_unit=MM, minimum_mm=1, maximum_mm=100) is None
