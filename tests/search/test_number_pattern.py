"""What somebody types for a number."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.errors import XrefError
from xref_app.search.pattern import LONGEST_TYPED, PatternError, Token, TokenKind, parse_number

ONE_OF = "Write the characters that it could be between square brackets, like [38]."


def spelled(text: str) -> list[str]:
    return [str(token) for token in parse_number(text).tokens]


def test_each_character_becomes_a_token_and_separators_none() -> None:
    pattern = parse_number(" k4?7-[3,8] * ")
    assert pattern.tokens == (
        Token(TokenKind.LITERAL, "k"),
        Token(TokenKind.LITERAL, "4"),
        Token(TokenKind.UNREADABLE),
        Token(TokenKind.LITERAL, "7"),
        Token(TokenKind.EITHER, "38"),
        Token(TokenKind.RUN),
    )
    assert (pattern.typed, pattern.note) == ("k4?7-[3,8] *", None)


def test_doubled_runs_are_one_and_a_set_of_one_is_a_literal() -> None:
    assert spelled("K**[8][88]*-*") == ["K", "*", "8", "8", "*"]


def test_wide_forms_of_the_marks_are_the_marks() -> None:
    assert spelled("Ｋ？＊［３８］") == ["K", "?", "*", "[38]"]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("K4[38", f"“K4[38” opens a bracket that is not closed. {ONE_OF}"),
        ("K4]8", f"“K4]8” closes a bracket that was not opened. {ONE_OF}"),
        ("K[]8", f"“K[]8” has brackets with nothing between them. {ONE_OF}"),
        ("K[ . ]8", f"“K[ . ]8” has brackets with nothing between them. {ONE_OF}"),
        ("K[3[8]]", f"“K[3[8]]” has “[” between its brackets. {ONE_OF}"),
        ("K[3?]", f"“K[3?]” has “?” between its brackets. {ONE_OF}"),
        ("K[3*]", f"“K[3*]” has “*” between its brackets. {ONE_OF}"),
        ("K[3-8]", f"“K[3-8]” has “-” between its brackets. {ONE_OF}"),
        (" -/ ", "“-/” has no letter or digit. Type what can be read, with ? for each lost character."),
        ("", "“” has no letter or digit. Type what can be read, with ? for each lost character."),
    ],
)
def test_what_cannot_be_understood_is_refused_in_one_sentence(typed: str, sentence: str) -> None:
    with pytest.raises(XrefError) as refused:
        parse_number(typed)
    assert str(refused.value) == sentence
    assert isinstance(refused.value, PatternError)
    assert refused.value.typed == typed.strip()


def test_text_beyond_the_longest_is_left_out_with_a_note() -> None:
    exactly = parse_number("7" * LONGEST_TYPED)
    assert (len(exactly.tokens), exactly.note) == (LONGEST_TYPED, None)
    longer = parse_number("7" * (LONGEST_TYPED + 1) + "]")
    assert len(longer.tokens) == LONGEST_TYPED
    assert str(longer.note) == "Only the first 64 characters were read."


def test_a_set_that_the_cut_goes_through_is_left_out_not_refused() -> None:
    pattern = parse_number("7" * (LONGEST_TYPED - 2) + "[38]")
    assert [token.chars for token in pattern.tokens] == ["7"] * (LONGEST_TYPED - 2)


def test_characters_that_fold_to_many_do_not_pass_the_limit() -> None:
    assert len(parse_number("ﷺ" * LONGEST_TYPED).tokens) <= LONGEST_TYPED


@given(st.text(st.one_of(st.characters(), st.sampled_from("?*[]38-")), max_size=80))
def test_any_text_is_read_or_refused_with_a_sentence(text: str) -> None:
    refused = None
    try:
        assert 0 < len(parse_number(text).tokens) <= LONGEST_TYPED
    except PatternError as error:
        refused = str(error)
    assert refused is None or refused.endswith(".")


def test_a_pasted_page_costs_no_more_than_its_start() -> None:
    page = "K4?7-2 " * 150_000
    assert parse_number(page).note is not None
    assert parse_number(page).tokens == parse_number(page[: 2 * LONGEST_TYPED]).tokens
