"""Numbers one slip away."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from tests.search.plates import fold, index_of
from xref_app.search.ranking import RankClass

_short = st.text("AB80O1-", min_size=3, max_size=7).filter(lambda text: len(text.replace("-", "")) >= 3)
_catalogs = st.lists(_short, min_size=1, max_size=25)


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


@given(_short, _catalogs)
def test_slips_are_those_of_a_full_scan(typed: str, numbers: list[str]) -> None:
    """Oracle: optimal string alignment distance of rapidfuzz over every number, look-alikes folded."""
    numbers = [number for number in numbers if fold(typed) not in fold(number)]
    found = index_of(numbers).find(typed, limit=100)
    near = sorted(number for number in numbers if OSA.distance(fold(typed), fold(number)) == 1)
    assert sorted(hit.number for hit in found.hits) == near
    assert found.total == len(near)


@given(_short, _catalogs)
def test_the_nearest_slip_on_the_raw_text_comes_first(typed: str, numbers: list[str]) -> None:
    """Oracle: the same distance without folding; only separators are left out."""
    numbers = [number for number in numbers if fold(typed) not in fold(number)]

    def raw_distance(number: str) -> int:
        return OSA.distance(typed.replace("-", ""), number.replace("-", ""))

    found = [hit.number for hit in index_of(numbers).find(typed, limit=100).hits]
    if not found:
        return
    assert raw_distance(found[0]) == min(map(raw_distance, found))


@given(_short, st.data())
def test_any_single_slip_is_found(number: str, data: st.DataObject) -> None:
    bare = number.replace("-", "")
    assume(len(bare) >= 4)
    place = data.draw(st.integers(0, len(bare) - 2))
    slips = {
        "wrong": bare[:place] + "X" + bare[place + 1 :],
        "dropped": bare[:place] + bare[place + 1 :],
        "doubled": bare[: place + 1] + bare[place:],
        "swapped": bare[:place] + bare[place + 1] + bare[place] + bare[place + 2 :],
    }
    typed = slips[data.draw(st.sampled_from(sorted(slips)))]
    assert [hit.number for hit in index_of([number]).find(typed).hits] == [number]
