"""Numbers one slip away."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from tests.search.plates import fold, index_of
from xref_app.search.ranking import RankClass, score

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
        ("first dropped", "47-2X", None, None),
        ("last wrong", "K47-2X", (0, 1, 2, 3, 4), (5,)),
        ("first wrong", "X47-21", (1, 2, 3, 4, 5), (0,)),
        ("wrong and one unreadable", "K4?-31", (0, 1, 3, 5), (2, 4)),
        ("swapped over the dash", "K42-71", (0, 1, 3, 5), (2, 4)),
        ("wrong and a look-alike", "K47-3I", (0, 1, 2, 3), (4, 5)),
    ],
)
def test_each_slip_is_found_and_marked(
    slip: str, typed: str, matched: tuple[int, ...] | None, guessed: tuple[int, ...] | None
) -> None:
    found = index_of(["K47-21"]).find(typed).hits
    if matched is None:
        assert found == (), slip
        return
    (hit,) = found
    assert (hit.rank, hit.matched, hit.guessed) == (RankClass.EDIT, matched, guessed)


def test_slips_are_tried_only_when_nothing_matches() -> None:
    assert [hit.number for hit in index_of(["K47-21", "K47-31"]).find("K47-21").hits] == ["K47-21"]


@pytest.mark.parametrize(("typed", "number"), [("K7", "K4"), ("K?7?", "K41-2"), ("K47*X", "K47-2"), ("????", "K47")])
def test_too_little_to_go_by_gives_no_slips(typed: str, number: str) -> None:
    assert index_of([number]).find(typed).total == 0


@given(typed_and_catalog())
def test_slips_are_those_of_a_full_scan(case: tuple[str, list[str]]) -> None:
    """Oracle: optimal string alignment distance of rapidfuzz over every number, look-alikes folded."""
    typed, numbers = case
    found = index_of(numbers).find(typed, limit=100)
    near = sorted(number for number in numbers if OSA.distance(fold(typed), fold(number)) == 1)
    assert sorted(hit.number for hit in found.hits) == near
    assert found.total == len(near)


@given(typed_and_catalog())
def test_a_slip_alone_comes_before_a_slip_with_look_alikes(case: tuple[str, list[str]]) -> None:
    """Oracle: the same distance without folding, only separators left out: more than 1 means look-alikes besides.

    How many look-alikes cannot be read off it: swapped characters that are look-alikes too count two, not three.
    """
    typed, numbers = case
    hits = index_of(numbers).find(typed, limit=100).hits
    distances = [OSA.distance(typed.replace("-", ""), hit.number.replace("-", "")) for hit in hits]
    needs_look_alikes = [distance > 1 for distance in distances]
    assert needs_look_alikes == sorted(needs_look_alikes)
    assert needs_look_alikes == [hit.score < score(RankClass.EDIT, 0) for hit in hits]


@given(_short, st.sampled_from(SLIPS), st.data())
def test_any_single_slip_is_found(number: str, slip: str, data: st.DataObject) -> None:
    bare = number.replace("-", "")
    assume(len(bare) >= 4)
    typed = slipped(bare, slip, data.draw(st.integers(0, len(bare) - 2)))
    assert [hit.number for hit in index_of([number]).find(typed).hits] == [number]
