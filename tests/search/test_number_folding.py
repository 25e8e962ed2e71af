"""What counts as the same character."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.search.plates import READABLE, WORN, index_of
from xref_app.search.folding import SEPARATOR, glyphs, worn
from xref_app.search.ranking import RankClass

# Unicode Technical Standard #39, confusables.txt: letters with the same skeleton as a Latin capital (the skeleton of
# capital I is small l, of the Latin letter and of the two others alike). Read from the copy in confusable-homoglyphs
# 3.3.1.
SAME_SKELETON = {
    "A": "0410 0391", "B": "0412 0392", "C": "0421", "E": "0415 0395", "H": "041D 0397", "I": "0406 0399",
    "J": "0408", "K": "041A 039A", "M": "041C 039C", "N": "039D", "O": "041E 039F", "P": "0420 03A1",
    "S": "0405", "T": "0422 03A4", "X": "0425 03A7", "Y": "0423 03A5", "Z": "0396",
}  # fmt: skip


def plain(text: str) -> str:
    return "".join(glyph.plain for glyph in glyphs(text))


@pytest.mark.parametrize("group", WORN.values())
def test_characters_of_a_worn_group_count_as_one(group: str) -> None:
    assert len({worn(plain(char)) for char in group}) == 1


def test_characters_of_different_groups_never_count_as_one() -> None:
    apart = [*WORN, *(char for char in READABLE if not any(char in group for group in WORN.values()))]
    for one, other in combinations(apart, 2):
        assert worn(plain(one)) != worn(plain(other))


@pytest.mark.parametrize("group", WORN.values())
def test_a_worn_look_alike_finds_the_number_and_is_guessed(group: str) -> None:
    for stamped in group:
        for read in set(group) - {stamped}:
            (hit,) = index_of([f"K{stamped}-9"]).find(f"K{read}-9").hits
            assert (hit.rank, hit.matched, hit.guessed) == (RankClass.LOOK_ALIKE, (0, 2, 3), (1,))


@pytest.mark.parametrize(("latin", "others"), SAME_SKELETON.items())
def test_letters_drawn_like_a_latin_capital_are_read_as_it(latin: str, others: str) -> None:
    for code in others.split():
        theirs = chr(int(code, 16))
        assert plain(theirs) == plain(theirs.lower()) == latin.lower()
        (hit,) = index_of([f"{theirs}7"]).find(f"{latin}7").hits
        assert (hit.rank, hit.number, hit.matched) == (RankClass.SEPARATORS, f"{theirs}7", (0, 1))


def test_other_letters_of_those_scripts_stay_themselves() -> None:
    assert plain("ЖΩ") == "жω"


@pytest.mark.parametrize("mark", [*" -/._,:;#()+–·", "\t", "\u200b", "\u202e"])
def test_what_is_no_letter_or_digit_is_a_separator(mark: str) -> None:
    assert plain(f"a{mark}7") == f"a{SEPARATOR}7"


def test_compatibility_forms_are_compared_as_plain_characters() -> None:
    # Unicode Standard Annex #15, compatibility decomposition: full-width forms, superscripts, ligatures.
    assert plain("Ｋ４²ﬁ") == "k42fi"


@given(st.text(max_size=30))
def test_every_position_belongs_to_a_glyph(text: str) -> None:
    held = {position for glyph in glyphs(text) for position in range(glyph.start, glyph.stop)}
    assert held == set(range(len(text)))
