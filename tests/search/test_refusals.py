"""A refusal can be read: nothing in it breaks or turns the sentence round, and it says what is really wrong."""

from __future__ import annotations

import unicodedata

import pytest

from tests.search.hostile_texts import HOSTILE_TEXTS
from tests.search.plates import index_of
from xref_app.search.pattern import PatternError, parse_number


def refusal_or_none(text: str) -> PatternError | None:
    try:
        parse_number(text)
    except PatternError as refused:
        return refused
    return None


@pytest.mark.parametrize("kind", [kind for kind, text in HOSTILE_TEXTS.items() if refusal_or_none(text)])
def test_a_refusal_shows_no_character_that_disturbs_the_sentence(kind: str) -> None:
    refused = str(refusal_or_none(HOSTILE_TEXTS[kind]))
    assert {unicodedata.category(char) for char in refused}.isdisjoint({"Cc", "Cf", "Cs", "Zl", "Zp"})


@pytest.mark.parametrize("text", ["[" + "38" * 40 + "]", "[" + "38" * 40])
def test_a_long_set_is_not_said_to_hold_no_digit(text: str) -> None:
    refused = refusal_or_none(text)
    assert refused is None or refused.why != "has no letter or digit"


@pytest.mark.parametrize("text", ["\u200b" * 64 + "K00042", "-" * 64 + "K00042"])
def test_a_number_behind_64_empty_characters_is_found(text: str) -> None:
    assert [hit.number for hit in index_of(["K00042"]).find(text).hits] == ["K00042"]
