"""Scripts, invisible characters and heaps of marks: each is answered with true positions or refused in one sentence."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.search.hostile_texts import HOSTILE_TEXTS
from tests.search.plates import index_of
from xref_app.search.index import NumberHits
from xref_app.search.pattern import PatternError

INDEX = index_of([*(f"K{place:05}-{place % 97}" for place in range(500)), "\u202eK\x00\u0301[4]", "ﬁ?", "КΚＫ", "ß"])

_hostile_characters = st.one_of(
    st.sampled_from("?*[]K04-2O \u202e\u200b\u0301\x00КΚＫﬁß\ufdfa"),
    st.characters(),
    st.characters(categories=["Cs", "Cf", "Mn"]),
)


def answer_or_refusal(text: str) -> NumberHits | PatternError:
    try:
        return INDEX.find(text)
    except PatternError as refused:
        return refused


def assert_is_in_order(text: str) -> None:
    """Fail unless ``text`` is answered with positions of the numbers, or refused in one sentence and an advice."""
    found = answer_or_refusal(text)
    if isinstance(found, PatternError):
        assert str(found).startswith("“")
        assert str(found).endswith(f"” {found.why}. {found.advice}.")
        assert len(str(found)) < 250
        return
    for hit in found.hits:
        marked = [*hit.matched, *hit.guessed]
        assert len(marked) == len(set(marked))
        assert set(marked) <= set(range(len(hit.number)))


@pytest.mark.parametrize("kind", HOSTILE_TEXTS)
def test_hostile_text_is_answered_or_refused(kind: str) -> None:
    assert_is_in_order(HOSTILE_TEXTS[kind])


@given(st.text(_hostile_characters, max_size=90))
def test_any_text_is_answered_or_refused(text: str) -> None:
    assert_is_in_order(text)


@pytest.mark.parametrize(
    ("kind", "why"),
    [
        ("1 MB of dashes", "has no letter or digit"),
        ("1 MB of combining marks", "has no letter or digit"),
        ("bidirectional marks", "has no letter or digit"),
        ("bidirectional marks and an open bracket", "opens a bracket that is not closed"),
        ("a full-width open bracket", "opens a bracket that is not closed"),
        ("a thousand ]", "closes a bracket that was not opened"),
        ("a thousand []", "has brackets with nothing between them"),
        ("sets in sets", "has “[” between its brackets"),
    ],
)
def test_what_cannot_be_compared_is_refused_with_the_reason(kind: str, why: str) -> None:
    refused = answer_or_refusal(HOSTILE_TEXTS[kind])
    assert isinstance(refused, PatternError)
    assert refused.why == why


@pytest.mark.parametrize(
    "typed",
    [
        "Ｋ０００４２－４２",
        "К00042-42",
        "Κ00042-42",
        "𝐊𝟎𝟎𝟎𝟒𝟐",
        "K\u200b0\u200d0\u206004\ufeff2",
        "\u2067K00042\u2069",
        "K0\x000\x1b042",
        "k00042\ufe0f",
    ],
)
def test_the_script_and_invisible_characters_do_not_hide_a_number(typed: str) -> None:
    hit = INDEX.find(typed).hits[0]
    assert (hit.number, hit.guessed) == ("K00042-42", ())


def test_full_width_marks_are_marks() -> None:
    assert INDEX.find("K0004？［48］*").hits == INDEX.find("K0004?[48]*").hits
