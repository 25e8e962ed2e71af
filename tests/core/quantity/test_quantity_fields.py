"""The text of a field, read as its kind of field wants it."""

from __future__ import annotations

import pytest

from xref_app.core.model.words import BoreForm, Gender, ShaftForm
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.observed import FieldForm, FieldKind, read_field
from xref_app.core.quantity.units import FAHRENHEIT, INCH, PSI

SHAFT = FieldForm(FieldKind.NUMBER, "mm", default_doubt=0.05)
SHAFT_IN = FieldForm(FieldKind.NUMBER, "mm", default_doubt=0.05, shown_unit=INCH)
SUPPLY = FieldForm(FieldKind.NUMBER, "bar", default_doubt=0.2, shown_unit=PSI)
WATER = FieldForm(FieldKind.NUMBER, "c", default_doubt=1)
WATER_F = FieldForm(FieldKind.NUMBER, "c", default_doubt=1, shown_unit=FAHRENHEIT)
NOZZLE = FieldForm(FieldKind.NUMBER)

NUMBERS = [
    (SHAFT, "19,05", 19.05, 0.05),
    (SHAFT, "3/4 in", 19.05, 0.05),
    (SHAFT, "19.05 ± 0.02", 19.05, 0.02),
    (SHAFT, "19.05 mm +/- 0.02", 19.05, 0.02),
    (SHAFT, "3/4 in ± 0.002", 19.05, 0.0508),
    (SHAFT, "0.75 ± 0.002 in", 19.05, 0.0508),
    (SHAFT, "3/4 in ± 0.05 mm", 19.05, 0.05),
    (SHAFT_IN, ".750", 19.05, 0.05),
    (SHAFT_IN, ".750 ± .001", 19.05, 0.0254),
    (SHAFT_IN, "19.05 mm", 19.05, 0.05),
    (SUPPLY, "3 bar", 3.0, 0.2),
    (SUPPLY, "40", 2.757903, 0.2),
    (WATER, "20", 20.0, 1.0),
    (WATER_F, "68", 20.0, 1.0),
    (WATER, "68 ± 2 °F", 20.0, 10 / 9),
    (NOZZLE, "3.5", 3.5, 0.0),
]


@pytest.mark.parametrize(("form", "text", "value", "doubt"), NUMBERS)
def test_number_has_value_and_doubt(form: FieldForm, text: str, value: float, doubt: float) -> None:
    seen = read_field(form, text)
    assert seen.as_typed == text
    assert seen.text == ""
    assert seen.value == pytest.approx(value, abs=5e-7)
    assert seen.doubt == pytest.approx(doubt, abs=5e-7)


def test_half_of_the_last_digit_comes_along() -> None:
    assert read_field(SHAFT, "19.05 mm").last_digit == pytest.approx(0.005)


FORMS = FieldForm(FieldKind.WORD, words=tuple(ShaftForm))
BORES = FieldForm(FieldKind.WORD, words=tuple(BoreForm))
GENDERS = FieldForm(FieldKind.WORD, words=tuple(Gender))
THREAD = FieldForm(FieldKind.THREAD)
HOLES = FieldForm(FieldKind.HOLES, "mm", default_doubt=0.1)
HEIGHTS = FieldForm(FieldKind.HEIGHTS, "mm", default_doubt=0.05)
SECTORS = FieldForm(FieldKind.SECTORS, "deg")
YESNO = FieldForm(FieldKind.YESNO)

TEXTS = [
    (FORMS, "Straight-Keyed", "straight keyed"),
    (FORMS, " straight  keyed ", "straight keyed"),
    (BORES, "HOLLOW KEYED", "hollow keyed"),
    (THREAD, '3/4" GHT', "3/4-11.5 NH"),
    (HOLES, "46 0; 0 46; -46 0; 0 -46", "46 0; 0 46; -46 0; 0 -46"),
    (HOLES, "46,5 0;0 −46.50;", "46.5 0; 0 -46.5"),
    (HOLES, "46 0 8 90", "46 0 8 90"),
    (HOLES, "1.8125 0; 0 1.8125 in", "46.0375 0; 0 46.0375"),
    (HOLES, "2 0 .5 90 in", "50.8 0 12.7 90"),
    (HEIGHTS, "0; 0; 0; −2 mm", "0; 0; 0; -2"),
    (SECTORS, "350 10; 90 180°", "350 10; 90 180"),
    (YESNO, "Yes", "yes"),
    (YESNO, "n", "no"),
]


@pytest.mark.parametrize(("form", "text", "canonical"), TEXTS)
def test_text_is_brought_to_one_form(form: FieldForm, text: str, canonical: str) -> None:
    seen = read_field(form, text)
    assert (seen.text, seen.value) == (canonical, None)
    assert read_field(form, canonical).text == canonical


def test_positions_carry_the_default_doubt() -> None:
    assert read_field(HOLES, "46 0").doubt == 0.1
    assert read_field(SECTORS, "0 360").doubt is None


HOLE_ADVICE = "Write it like 46 0; 0 46; -46 0; 0 -46."
REFUSED = [
    (FORMS, "straigt keyed", "“straigt keyed” is not a word of this field. Did you mean “straight keyed”?"),
    (GENDERS, "femal", "“femal” is not a word of this field. Did you mean “female”?"),
    (GENDERS, "plug", "“plug” is not a word of this field. Write it like “male” or “female”."),
    (GENDERS, "", "“” is empty. Write it like “male” or “female”."),
    (YESNO, "maybe", "“maybe” is neither yes nor no. Write it like yes or no."),
    (HOLES, "46,0; 0,46", f"“46,0; 0,46” does not give x and y of every hole. {HOLE_ADVICE}"),
    (HOLES, "46 0 8", f"“46 0 8” does not give x and y of every hole. {HOLE_ADVICE}"),
    (HOLES, "46 0;; 0 46", f"“46 0;; 0 46” does not give x and y of every hole. {HOLE_ADVICE}"),
    (HOLES, "46 0 -8 90", f"“46 0 -8 90” has a slot shorter than nothing. {HOLE_ADVICE}"),
    (HOLES, "46 nan", f"“46 nan” holds “nan”, which is not a decimal number. {HOLE_ADVICE}"),
    (HOLES, "3/4 0", f"“3/4 0” holds “3/4”, which is not a decimal number. {HOLE_ADVICE}"),
    (HOLES, "1,250 0", f"“1,250 0” holds “1,250”, which can mean thousands. {HOLE_ADVICE}"),
    (HOLES, "1 1;" * 101, f"“{('1 1;' * 101)[:40]}…” has more than 400 characters. {HOLE_ADVICE}"),
    (HEIGHTS, "0 0; 2", "“0 0; 2” does not give one height for every seat. Write it like 0; 0; 0; -2."),
    (SECTORS, "0", "“0” does not give a start and an end of every sector. Write it like 0 90; 180 360."),
    (SECTORS, "90 90", "“90 90” does not give a start and an end of every sector. Write it like 0 90; 180 360."),
    (SECTORS, "0 400", "“0 400” leaves the turn from 0 to 360 degrees. Write it like 0 90; 180 360."),
    (SHAFT, "19.05 ±", "“19.05 ±” has a side of the ± that is empty. Write it like 19.05 ± 0.02 mm."),
    (
        SHAFT,
        "19.05 ± x",
        "“19.05 ± x” has a side of the ± that is not a length with a unit. Write it like 19.05 ± 0.02 mm.",
    ),
    (WATER, "60 ± -2 °C", "“60 ± -2 °C” has a doubt below zero. Write it like 19.05 ± 0.02 mm."),
    (NOZZLE, "3.5 bar", "“3.5 bar” is a pressure, not a number. Write it like 3.5."),
]


@pytest.mark.parametrize(("form", "text", "sentence"), REFUSED)
def test_field_is_refused_in_one_sentence(form: FieldForm, text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        read_field(form, text)
    assert str(refusal.value) == sentence
