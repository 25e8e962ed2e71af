"""Numbers one slip away."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from tests.search.plates import fold, index_of
from xref_app.search.ranking import RankClass

_short = st.text("AB80O1-", min_size=3, max_size=7).filter(lambda text: len(text.replace("-", "")) >= 3)
SLIPS = ("wrong", "dropped", "doubled", "swapped")


def slipped(text: str, slip: str, place: int) -> str:
    """Return ``text`` with one slip at ``place``."""
    return {
        "wrong": text[:place] + "X" + text[place + 1 :],
        "dropped": text[:place] + text[place + 1 :],
        "doubled": text[: place + 1] + text[place:],
        "swapped": text[:place] + text[place + 1 : place + 2] + text[place : place + 1] + text[place + 2 :],
    }[slip]


@st.composite
def typed_and_catalog(draw: st.DrawFn) -> tuple[str, list[str]]:
    """Return what is typed, and numbers none to three slips and some look-alikes away that do not hold it."""
    typed = draw(_short)
    numbers = draw(st.lists(_short, max_size=5))
    for slips in draw(st.lists(st.lists(st.sampled_from(SLIPS), min_size=1, max_size=3), min_size=1, max_size=12)):
        number = typed
        for slip in slips:
            number = slipped(number, slip, draw(st.integers(0, max(0, len(number) - 1))))
        misread = str.maketrans("80O1", "BO0I") if draw(st.booleans()) else {}
        numbers.append(number.translate(misread))
    return typed, [number for number in numbers if fold(typed) not in fold(number)]


@pytest.mark.parametrize(
    ("slip", "typed", "matched", "guessed"),
    [
        ("wrong", "K47-31", (0, 1, 2, 3, 5), (4,)),
        ("dropped", "K7-21", (0, 2, 3, 4, 5), (1,)),
        ("doubled", "K477-21", (0, 1, 2, 3, 4, 5), ()),
        ("swapped", "K74-21", (0, 3, 4, 5), (1, 2)),
        ("first dropped and last wrong", "47-2X", (1, 2, 3, 4), (5,)),
        ("last wrong", "K47-2X", (0, 1, 2, 3, 4), (5,)),
        ("first wrong", "X47-21", (1, 2, 3, 4, 5), (0,)),
        ("wrong and one unreadable", "K4?-31", (0, 1, 3, 5), (2, 4)),
        ("swapped over the dash", "K42-71", (0, 1, 3, 5), (2, 4)),
        ("wrong and a look-alike", "K47-3I", (0, 1, 2, 3), (4, 5)),
    ],
)
def test_each_slip_is_found_and_marked(
    slip: str, typed: str, matched: tuple[int, ...], guessed: tuple[int, ...]
) -> None:
    (hit,) = index_of(["K47-21"]).find(typed).hits
    assert (hit.rank, hit.matched, hit.guessed) == (RankClass.EDIT, matched, guessed), slip


def test_slips_are_tried_only_when_nothing_matches() -> None:
    assert [hit.number for hit in index_of(["K47-21", "K47-31"]).find("K47-21").hits] == ["K47-21"]


@pytest.mark.parametrize(("typed", "number"), [("K7", "K4"), ("K?7?", "K41-2"), ("K4*", "A7-2"), ("????", "K47")])
def test_too_little_to_go_by_gives_no_slips(typed: str, number: str) -> None:
    assert index_of([number]).find(typed).total == 0


def fewest_slips(typed: str, number: str) -> int:
    """Return the least optimal string alignment distance (rapidfuzz) between what is typed and a part of the number."""
    places = range(len(number) + 1)
    return min(OSA.distance(typed, number[start:stop]) for start in places for stop in places[start:])


@given(typed_and_catalog())
def test_slips_are_those_of_a_full_scan(case: tuple[str, list[str]]) -> None:
    """Oracle: rapidfuzz over every part of every number, look-alikes folded; two slips from five characters on."""
    typed, numbers = case
    allowed = 1 if len(fold(typed)) < 5 else 2
    found = index_of(numbers).find(typed, limit=100)
    near = sorted(number for number in numbers if fewest_slips(fold(typed), fold(number)) <= allowed)
    assert sorted(hit.number for hit in found.hits) == near
    assert found.total == len(near)


@given(typed_and_catalog())
def test_marks_of_slips_are_true(case: tuple[str, list[str]]) -> None:
    """What is marked as matched was typed, in order but for swapped characters, and is never guessed as well."""
    typed, numbers = case
    for hit in index_of(numbers).find(typed, limit=100).hits:
        assert not set(hit.matched) & set(hit.guessed)
        kept = [hit.number[place] for place in hit.matched if hit.number[place] != "-"]
        typed_in_order = iter(typed)
        assert all(char in typed_in_order for char in kept)
        assert len(kept) >= len(fold(typed)) - 2 * 2 - sum(char in "B8O01IL" for char in typed)


@given(_short.filter(lambda text: "8" in text and "B" not in text))
def test_a_slip_alone_comes_before_the_same_slip_with_a_look_alike(number: str) -> None:
    bare = number.replace("-", "")
    assume(len(bare) >= 4 and bare[0] != "8")
    typed = "X" + bare[1:]
    assert index_of([number.replace("8", "B"), number]).find(typed).hits[0].number == number


@given(_short, st.sampled_from(SLIPS), st.data())
def test_any_single_slip_is_found(number: str, slip: str, data: st.DataObject) -> None:
    bare = number.replace("-", "")
    assume(len(bare) >= 4)
    typed = slipped(bare, slip, data.draw(st.integers(0, len(bare) - 2)))
    assert [hit.number for hit in index_of([number]).find(typed).hits] == [number]
