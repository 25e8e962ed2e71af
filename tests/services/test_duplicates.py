"""Entries that may be one, numbers that are nearly the same, and letters that deceive."""

from __future__ import annotations

import copy
import unicodedata
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.sample.troubles import LOOK_ALIKES
from tests.services.tiny import entry, reading, tiny, tiny_rows
from xref_app.core.model.catalog import MachineRow, Number, Observation
from xref_app.core.model.known import Dimension, Fact, Known
from xref_app.services.catalog import Catalog
from xref_app.services.duplicates import InvisibleCharacterError, duplicates, mixed_script, refuse_invisible

ROWS = tiny_rows()
SAMPLE = catalog_of(sample_rows())
FOUR = {"bore_depth_mm": 65.0, "bore_diameter_mm": 22.225, "flange_thickness_mm": 20.0, "flange_hole_mm": 9.5}
SIZES: dict[str, Known] = {field: Dimension(value, 0.05) for field, value in FOUR.items()}
NONE: dict[str, Known] = {}


def catalog_with(number: str, *, like: float = 0.0) -> Catalog:
    """Return the tiny catalog with one more pump P9: its number, and the four sizes each ``like`` mm larger."""
    return tiny(
        entries=(*ROWS.entries, entry("P9", "pump")),
        numbers=(*ROWS.numbers, Number("P9", number, "maker", "sheet")),
        observations=tuple(reading("P9", field, value + like) for field, value in FOUR.items()),
    )


def near(stored: str, typed: str) -> str:
    """Return the number of P9 that ``typed`` is near to, or an empty text."""
    found = [one for one in duplicates(catalog_with(stored), "pump", NONE, [typed]) if one.entry_id == "P9"]
    return found[0].near_number if found else ""


def test_four_sizes_that_agree_make_a_duplicate() -> None:
    (found,) = duplicates(catalog_with("QX 7"), "pump", SIZES, [])
    assert (found.entry_id, found.number, found.maker, found.near_number) == ("P9", "QX 7", "Lowmarsh", "")
    assert found.agreeing == ("Bore depth", "Bore diameter", "Flange thickness", "Bolt hole of the pump")


def test_three_sizes_and_a_word_do_not() -> None:
    three = {field: size for field, size in SIZES.items() if field != "flange_hole_mm"}
    catalog = catalog_with("QX 7")
    rows = {**catalog.observations, "P9": (*catalog.observations["P9"], reading("P9", "bore_form", "hollow keyed"))}
    assert duplicates(catalog_of_rows(catalog, rows), "pump", {**three, "bore_form": Fact("hollow keyed")}, []) == ()


def catalog_of_rows(catalog: Catalog, rows: Mapping[str, tuple[Observation, ...]]) -> Catalog:
    """Return the catalog with other observations."""
    flat = tuple(one for of_entry in rows.values() for one in of_entry)
    return tiny(entries=tuple(catalog.entries.values()), numbers=(), observations=flat)


def test_one_size_that_differs_makes_another_pump() -> None:
    assert duplicates(catalog_with("QX 7"), "pump", {**SIZES, "bore_depth_mm": Dimension(80.0, 0.05)}, []) == ()
    five = {**SIZES, "pump_length_mm": Dimension(140.0, 1.0)}
    catalog = catalog_with("QX 7")
    rows = {**catalog.observations, "P9": (*catalog.observations["P9"], reading("P9", "pump_length_mm", 200.0))}
    assert duplicates(catalog_of_rows(catalog, rows), "pump", five, []) == ()


def test_a_nearly_same_number_is_told_whatever_the_sizes_say() -> None:
    (found,) = duplicates(catalog_with("QX-7081", like=9.0), "pump", SIZES, ["qx 7081"])
    assert (found.entry_id, found.agreeing, found.near_number) == ("P9", (), "QX-7081")


@pytest.mark.parametrize(
    ("stored", "typed"),
    [
        ("QX-7081", "qx7081"),  # case and separators
        ("QX-70810", "QX-7O8l0"),  # worn look-alikes: 0 and O, 1 and l
        ("KM-7081", "КМ-7081"),  # Cyrillic КМ
        ("QX-7081", "QX-7091"),  # one wrong
        ("KM-7081", "КМ-7091"),  # Cyrillic and one wrong
        ("QX-7081", "QX-708"),  # one dropped
        ("QX-7081", "QX-70814"),  # one added
        ("QX-7081", "QX-7801"),  # two swapped
    ],
)
def test_numbers_that_are_nearly_the_same(stored: str, typed: str) -> None:
    assert near(stored, typed) == stored
    assert near(typed, stored) == typed


@pytest.mark.parametrize("typed", ["QX-7397", "QX-70", "QX", "", " ", "-", "QX-7081-33"])
def test_numbers_that_are_not(typed: str) -> None:
    assert near("QX-7081", typed) == ""


def test_marks_of_the_search_stand_for_themselves_in_a_number() -> None:
    assert near("QX-7081", "QX-7???") == ""
    assert near("QX-7081", "*") == ""
    assert near("--", "-") == ""
    assert near("QX[7081", "qx[7081") == "QX[7081"


def test_a_number_too_short_for_a_slip_is_only_the_same_or_not() -> None:
    # house rule of the search: with fewer than three characters one slip is nearly everything
    assert near("Q7", "Q9") == ""
    assert near("Q7", "q-7") == "Q7"


def test_the_entry_being_changed_is_no_duplicate_of_itself() -> None:
    assert duplicates(catalog_with("QX 7"), "pump", SIZES, ["QX 7"], leaving_out="P9") == ()


def test_only_entries_of_the_kind_are_looked_at() -> None:
    assert duplicates(catalog_with("QX-7081"), "driver", SIZES, ["QX-7081"]) == ()


def test_a_machine_goes_by_its_model_too() -> None:
    machine = MachineRow("M1", "Heron 27", "D1", "P1")
    (found,) = duplicates(tiny(machines=(machine,)), "machine", NONE, ["HERON-27"])
    assert found.near_number == "Heron 27"


def test_nearly_same_numbers_come_before_sizes_that_agree() -> None:
    catalog = catalog_with("QX-7081")
    both = duplicates(catalog, "pump", SIZES, ["LM100-B"])
    # "LM 100" lacks one character of what was typed, "LM100-A" has one other: the first listed is named
    assert [(one.entry_id, one.near_number) for one in both] == [("P1", "LM 100"), ("P9", "")]


@pytest.mark.parametrize(("one", "its_number", "other", "other_number"), LOOK_ALIKES)
def test_the_look_alikes_put_into_the_sample_are_found(
    one: str, its_number: str, other: str, other_number: str
) -> None:
    assert {one, other} <= {found.entry_id for found in duplicates(SAMPLE, "pump", NONE, [its_number])}
    assert other in {found.entry_id for found in duplicates(SAMPLE, "pump", NONE, [its_number], leaving_out=one)}
    assert one in {found.entry_id for found in duplicates(SAMPLE, "pump", NONE, [other_number])}


def test_every_pump_of_the_sample_is_found_by_its_own_number_and_sizes() -> None:
    for pump in SAMPLE.pumps():
        known = {field: values[0] for field, values in SAMPLE.known(pump.entry_id).items()}
        found = {one.entry_id for one in duplicates(SAMPLE, "pump", known, [SAMPLE.number_of(pump.entry_id)])}
        assert pump.entry_id in found


# Letters by their names in the Unicode charts: U+041A CYRILLIC CAPITAL LETTER KA, U+039A GREEK CAPITAL LETTER KAPPA.
def test_letters_of_two_scripts_are_told_in_one_sentence() -> None:
    assert str(mixed_script("LM\u041a-100")) == (
        "“LM\u041a-100” mixes Latin and Cyrillic letters: “\u041a” at place 3 may only look like the one meant. "
        "Type it again if so."
    )
    assert mixed_script("\u039a-100A") is not None
    # the script with fewer letters is the odd one, wherever it stands
    said = mixed_script("\u041aLM-100")
    assert said is not None
    assert (said.values["odd"], said.values["place"]) == ("\u041a", 1)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "LM100-A",
        "\u041d\u0428-10",  # all Cyrillic
        "\uff2c\uff2d100 A",  # full-width Latin is Latin
        "100 \u00b5m A",  # the micro sign is a unit
        "\u2116 10 \u041d",  # the numero sign is no letter
        "\u65e5\u672c\u30dd\u30f3\u30d7",  # Han and Katakana are written together
        "Stra\u00dfe \u00e9t\u00e9",
        "\u043f\u02bc\u044f\u0442\u044c",  # a modifier apostrophe belongs to no script
    ],
)
def test_honest_writing_is_left_alone(text: str) -> None:
    assert mixed_script(text) is None
    refuse_invisible(text)


# UAX #9 bidi controls, UTR #36 invisible characters, Default_Ignorable_Code_Point of DerivedCoreProperties.txt.
@pytest.mark.parametrize(
    "char",
    list("\u200b\u200c\u200d\u2060\ufeff\u00ad\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
    + list("\u061c\u034f\u115f\u1160\u3164\uffa0\ufe0f\u180e\u17b4\u2028\u2029\t\n\x00\x1b\U000e0100\U000e0041\ud800"),
)
def test_what_nobody_can_see_is_refused(char: str) -> None:
    text = f"LM{char}100"
    with pytest.raises(InvisibleCharacterError) as refused:
        refuse_invisible(text)
    assert refused.value.place == 3
    assert str(refused.value) == str(mixed_script(text))
    assert char not in str(refused.value)
    assert str(copy.copy(refused.value)) == str(refused.value)


def test_the_refusal_names_the_character_and_its_place() -> None:
    assert str(mixed_script("LM\u202e100")) == (
        "“LM\ufffd100” holds a character that nobody can see (right-to-left override) at place 3: "
        "delete it and type the text by hand."
    )


@given(st.text(alphabet=st.characters(categories=["Lu", "Ll"], max_codepoint=0x24F), max_size=12))
def test_latin_letters_of_any_kind_never_mix(text: str) -> None:
    latin = "".join(char for char in text if "LATIN" in unicodedata.name(char) or char.isascii())
    assert mixed_script(latin) is None


@given(
    st.text(alphabet="ABCXYZ019- ", max_size=8), st.sampled_from("АВЕКМНОРСТХ"), st.text("ABC", min_size=1, max_size=3)
)
def test_one_cyrillic_letter_among_latin_ones_is_always_told(before: str, odd: str, after: str) -> None:
    said = mixed_script(before + odd + after)
    assert said is not None
    assert said.values["text"] == before + odd + after


def test_the_same_number_is_looked_for_anew_in_another_catalog() -> None:
    assert near("QX 7", "QX 7") == "QX 7"
    assert near("ZZ 90", "QX 7") == ""
    assert near("QX 7", "QX 7") == "QX 7"
