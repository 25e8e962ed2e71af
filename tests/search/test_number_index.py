"""The index as a whole: entries, kinds, limits, and changes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.search.plates import catalogs, crowded_plates, index_of, plates, typed_patterns
from xref_app.search.filed import FiledNumber, NumberRow
from xref_app.search.hit import NumberHit
from xref_app.search.index import NumberIndex
from xref_app.search.matching import Matcher
from xref_app.search.pattern import parse_number
from xref_app.search.ranking import RankClass
from xref_app.services.answers import Hit

ALL = 1000
rows = st.builds(NumberRow, crowded_plates, st.sampled_from(["1", "2", "3", "4"]), st.just("pump"))
row_lists = st.lists(rows, max_size=12)


def test_an_entry_under_several_numbers_is_one_hit_under_its_best() -> None:
    index = NumberIndex.build(
        [
            NumberRow("XX-K47-21", "a", "pump"),
            NumberRow("K47-21", "a", "pump"),
            NumberRow("K47-2I", "a", "pump"),
            NumberRow("K47-215", "b", "pump"),
        ]
    )
    found = index.find("K47-21")
    assert [(hit.entry_id, hit.number) for hit in found.hits] == [("a", "K47-21"), ("b", "K47-215")]
    assert (found.total, len(index)) == (2, 4)


def test_the_limit_cuts_the_hits_and_not_the_total() -> None:
    index = index_of(f"K47-{last:02}" for last in range(30))
    assert [len(index.find("K47", limit=limit).hits) for limit in (0, 1, 20, 50)] == [0, 1, 20, 30]
    assert (index.find("K47").total, len(index.find("K47").hits)) == (30, 20)


def test_only_the_kinds_asked_for_are_found() -> None:
    index = NumberIndex.build(NumberRow("K47-21", kind, kind) for kind in ("pump", "machine", "driver"))
    assert {hit.kind for hit in index.find("K47-21").hits} == {"pump", "machine", "driver"}
    assert [hit.kind for hit in index.find("K47-21", kinds={"machine"}).hits] == ["machine"]
    assert index.find("K47-21", kinds=()).total == 0
    assert index.count(parse_number("K47"), kinds={"pump", "driver"}) == 2


def test_a_removed_entry_is_gone_and_one_never_there_is_no_fault() -> None:
    index = index_of(["K47-21", "K47-22"])
    assert index.find("K47").total == 2
    index.remove("entry 0")
    index.remove("never there")
    assert [hit.number for hit in index.find("K47").hits] == ["K47-22"]


def test_an_added_number_is_found_at_once() -> None:
    index = index_of(["K47-21"])
    assert index.find("K47").total == 1
    index.add(NumberRow("K47-22", "new", "pump"))
    assert index.find("K47-22").hits[0].entry_id == "new"


def test_numbers_without_a_letter_or_digit_do_no_harm() -> None:
    index = index_of(["--", "", "K47-21"])
    assert [hit.number for hit in index.find("K47-31").hits] == ["K47-21"]
    assert index.find("*").total == 3


def test_a_hit_has_what_the_services_answer_with() -> None:
    hit = index_of(["K47-21"]).find("K47-2?").hits[0]
    answer = Hit(hit.entry_id, hit.kind, hit.number, "maker", "name", hit.matched, hit.guessed, hit.score)
    assert {position for position in range(6) if position in answer.matched + answer.guessed} == set(range(6))
    assert 0 <= answer.score <= 100


@given(typed_patterns, row_lists)
def test_the_order_of_building_does_not_matter(typed: str, filed: list[NumberRow]) -> None:
    assert NumberIndex.build(filed).find(typed) == NumberIndex.build(reversed(filed)).find(typed)


@given(typed_patterns, row_lists, rows)
def test_another_number_takes_no_hit_away(typed: str, filed: list[NumberRow], one_more: NumberRow) -> None:
    """Numbers one slip away are the exception: they are offered only while nothing matches."""
    index = NumberIndex.build(filed)
    before = {hit.entry_id for hit in index.find(typed, limit=ALL).hits if hit.rank is not RankClass.EDIT}
    index.add(one_more)
    assert before <= {hit.entry_id for hit in index.find(typed, limit=ALL).hits}


@given(typed_patterns, st.lists(st.tuples(st.booleans(), rows), max_size=12))
def test_adding_and_removing_gives_the_same_as_building_afresh(
    typed: str, changes: list[tuple[bool, NumberRow]]
) -> None:
    index, kept = NumberIndex(), list[NumberRow]()
    for is_added, row in changes:
        if is_added:
            index.add(row)
            kept.append(row)
        else:
            index.remove(row.entry_id)
            kept = [other for other in kept if other.entry_id != row.entry_id]
        assert index.find(typed) == NumberIndex.build(kept).find(typed)


@given(typed_patterns, row_lists, st.integers(0, 5))
def test_the_best_are_those_of_matching_every_number(typed: str, filed: list[NumberRow], limit: int) -> None:
    """Sorting all matches of all numbers, without sifting or outlines, gives the same list."""
    matcher = Matcher(parse_number(typed))
    matches = [(matcher.match(FiledNumber.of(row)), row) for row in filed]
    ranked = sorted((match.rank, match.cost, row.text, row.entry_id) for match, row in matches if match)
    expected = list(dict.fromkeys(entry_id for _, _, _, entry_id in ranked))
    found = NumberIndex.build(filed).find(typed, limit=limit)
    if expected:
        matching = [hit.entry_id for hit in found.hits if hit.rank is not RankClass.EDIT]
        assert matching == expected[:limit]
        assert found.total == len(expected) == NumberIndex.build(filed).count(parse_number(typed))


@pytest.mark.parametrize(("typed", "found"), [("0??", ["000"]), ("A?1", ["A-1"]), ("A??-1", ["A-2-1"])])
def test_two_unreadable_characters_are_not_one_separator(typed: str, found: list[str]) -> None:
    hits = index_of(["0-", "000", "A-1", "A-21", "A-2-1"]).find(typed).hits
    assert [hit.number for hit in hits if hit.rank is not RankClass.EDIT][: len(found)] == found


@given(catalogs, plates)
def test_every_number_of_a_catalog_finds_its_entry_first(numbers: list[str], number: str) -> None:
    best: NumberHit = index_of([*numbers, number]).find(number).hits[0]
    assert best.score == 100
    assert best.number.upper() == number
