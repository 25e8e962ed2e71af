"""Which numbers a pattern matches, and which characters it says it matched or guessed."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.search.plates import (
    LOOK_ALIKES,
    READABLE,
    SEPARATORS,
    as_regex,
    crowded_catalogs,
    crowded_plates,
    index_of,
    plates,
    typed_patterns,
)
from xref_app.search.filed import FiledNumber, NumberRow
from xref_app.search.folding import glyphs
from xref_app.search.matching import Match, Matcher
from xref_app.search.pattern import parse_number
from xref_app.search.ranking import RankClass, score

WHOLE = (RankClass.EXACT, RankClass.SEPARATORS, RankClass.LOOK_ALIKE, RankClass.UNREADABLE)


def match(typed: str, number: str) -> Match | None:
    return Matcher(parse_number(typed)).match(FiledNumber.of(NumberRow(number, "entry", "pump")))


def sure_match(typed: str, number: str) -> Match:
    found = match(typed, number)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("typed", "number", "rank", "matched", "guessed"),
    [
        ("k47-21", "K47-21", RankClass.EXACT, "######", ""),
        ("K4721", "K47-21", RankClass.SEPARATORS, "######", ""),
        ("K47-2I", "K47-21", RankClass.LOOK_ALIKE, "#####", "     #"),
        ("K4?-21", "K47-21", RankClass.UNREADABLE, "## ###", "  #"),
        ("K47?21", "K47-21", RankClass.UNREADABLE, "### ##", "   #"),
        ("K4[37]-21", "K47-21", RankClass.UNREADABLE, "## ###", "  #"),
        ("K4*1", "K47-21", RankClass.UNREADABLE, "##   #", "  ###"),
        ("*21", "K47-21", RankClass.UNREADABLE, "   ###", "###"),
        ("K47-21*", "K47-21", RankClass.UNREADABLE, "######", ""),
        ("K4*1", "K4721-1", RankClass.UNREADABLE, "##   ##", "  ###"),
        ("K47", "K47-21", RankClass.PREFIX, "###", ""),
        ("KA7", "K47-21", None, "", ""),
        ("7-2", "K47-21", RankClass.MIDDLE, "  ###", ""),
        ("7?1", "K47-21", RankClass.MIDDLE, "  ## #", "    #"),
        ("4?2", "K47-21", RankClass.MIDDLE, " # ##", "  #"),
        ("4*7", "K47-21", RankClass.MIDDLE, " ##", ""),
        ("4*2", "K4721", RankClass.MIDDLE, " # #", "  #"),
        ("A?i", "Aﬁ", RankClass.UNREADABLE, "#", " #"),
        ("0-1", "OO-10-1", RankClass.MIDDLE, "    ###", ""),
    ],
)
def test_examples_worked_by_hand(typed: str, number: str, rank: RankClass | None, matched: str, guessed: str) -> None:
    found = match(typed, number)
    if rank is None:
        assert found is None
        return
    assert found is not None
    marks = [tuple(place for place, mark in enumerate(line) if mark == "#") for line in (matched, guessed)]
    assert (found.rank, found.matched, found.guessed) == (rank, *marks)


def _is_typeable(text: str) -> bool:
    folded = glyphs(text)
    has_marks = any(glyph.char in "?*[]" for glyph in folded)
    return text == text.strip() and len(folded) <= 64 and not has_marks and not all(g.is_separator for g in folded)


@given(st.text(min_size=1, max_size=40).filter(_is_typeable))
def test_every_number_is_found_by_itself(number: str) -> None:
    (hit,) = index_of([number]).find(number).hits
    assert (hit.rank, hit.score, hit.guessed) == (RankClass.EXACT, 100, ())
    assert hit.matched == tuple(range(len(number)))


@given(plates, st.data())
def test_unreadable_characters_are_found_and_guessed_where_they_stand(number: str, data: st.DataObject) -> None:
    places = [place for place, char in enumerate(number) if char in READABLE]
    lost = data.draw(st.sets(st.sampled_from(places), min_size=1))
    found = sure_match("".join("?" if place in lost else char for place, char in enumerate(number)), number)
    assert (found.rank, found.guessed) == (RankClass.UNREADABLE, tuple(sorted(lost)))


@given(plates, st.data())
def test_an_unreadable_character_may_have_been_a_separator(number: str, data: st.DataObject) -> None:
    lost = data.draw(st.sets(st.integers(0, len(number) - 1), min_size=1))
    found = sure_match("".join("?" if place in lost else char for place, char in enumerate(number)), number)
    assert found.rank is RankClass.UNREADABLE
    assert len(found.guessed) == len(lost)  # which of two neighbouring separators it was cannot be told


@given(plates, st.data())
def test_look_alikes_are_found_and_guessed_where_they_stand(number: str, data: st.DataObject) -> None:
    places = [place for place, char in enumerate(number) if char in LOOK_ALIKES]
    assume(places)
    misread = data.draw(st.sets(st.sampled_from(places), min_size=1))
    typed = "".join(
        data.draw(st.sampled_from(LOOK_ALIKES[char].replace(char, ""))) if place in misread else char
        for place, char in enumerate(number)
    )
    found = sure_match(typed, number)
    assert (found.rank, found.guessed) == (RankClass.LOOK_ALIKE, tuple(sorted(misread)))


@given(plates, st.data())
def test_a_run_stands_for_any_stretch(number: str, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(number)))
    stop = data.draw(st.integers(start, len(number)))
    found = sure_match(f"{number[:start]}*{number[stop:]}", number)
    assert found.rank is RankClass.UNREADABLE
    lost = {place for place in range(start, stop) if number[place] in READABLE}
    assert len([place for place in found.guessed if number[place] in READABLE]) == len(lost)


@given(plates, st.text(SEPARATORS, max_size=3), st.data())
def test_separators_do_not_count(number: str, separators: str, data: st.DataObject) -> None:
    place = data.draw(st.integers(1, len(number)))
    found = sure_match(f"{number[:place]}{separators}{number[place:]}".lower(), number)
    assert found.rank in (RankClass.EXACT, RankClass.SEPARATORS)
    assert found.matched == tuple(range(len(number)))


@given(typed_patterns, crowded_catalogs)
def test_whole_matches_are_those_of_a_regular_expression(typed: str, numbers: list[str]) -> None:
    regex = as_regex(typed)
    for number in numbers:
        found = match(typed, number)
        is_whole = found is not None and found.rank in WHOLE
        assert is_whole == (regex.fullmatch(number) is not None), number


@given(typed_patterns, crowded_catalogs)
def test_prefixes_and_middles_are_those_of_a_regular_expression(typed: str, numbers: list[str]) -> None:
    regex = as_regex(typed)
    for number in numbers:
        found = match(typed, number)
        if regex.fullmatch(number):
            continue
        expected = RankClass.PREFIX if regex.match(number) else RankClass.MIDDLE if regex.search(number) else None
        assert (found and found.rank) == expected, number


@given(typed_patterns, crowded_plates)
def test_marks_never_overlap_and_cover_a_whole_match(typed: str, number: str) -> None:
    found = match(typed, number)
    assume(found is not None)
    assert found is not None
    assert not set(found.matched) & set(found.guessed)
    if found.rank in WHOLE:
        assert sorted(found.matched + found.guessed) == list(range(len(number)))


@given(typed_patterns, crowded_plates)
def test_what_is_marked_as_matched_was_typed(typed: str, number: str) -> None:
    """The matched letters and digits, read in order, are some of the typed ones in order."""
    found = match(typed, number)
    assume(found is not None)
    assert found is not None
    typed_in_order = iter(typed.upper())
    assert all(number[place] in typed_in_order for place in found.matched if number[place] in READABLE)


@given(typed_patterns, crowded_plates)
def test_an_outline_never_promises_less_than_the_match(typed: str, number: str) -> None:
    matcher, filed = Matcher(parse_number(typed)), FiledNumber.of(NumberRow(number, "entry", "pump"))
    outline, found = matcher.outline(filed), matcher.match(filed)
    assert (outline is None) == (found is None)
    if outline and found:
        assert (outline.rank, outline.cost) <= (found.rank, found.cost)


def test_scores_fall_with_class_and_cost() -> None:
    scores = [score(rank, cost) for rank in RankClass for cost in (0, 1, 5, 50, 500)]
    assert scores == sorted(scores, reverse=True)
    assert (max(scores), min(scores) >= 0) == (100, True)


def test_classes_are_ordered_as_the_cost_model_says() -> None:
    """Design section 6 and issue 2: exact, separators, look-alike, unreadable, prefix, middle, edit."""
    index = index_of(["K47-21", "K4721", "K47-2I", "K47-28", "K47-215", "5K47-21"])
    found = index.find("K47-21").hits
    assert [(hit.number, hit.rank.name) for hit in found] == [
        ("K47-21", "EXACT"),
        ("K4721", "SEPARATORS"),
        ("K47-2I", "LOOK_ALIKE"),
        ("K47-215", "PREFIX"),
        ("5K47-21", "MIDDLE"),
    ]
    assert [hit.number for hit in index.find("K47-2[18]").hits][-2:] == ["K47-215", "5K47-21"]
    assert [hit.score for hit in found] == sorted((hit.score for hit in found), reverse=True)
