"""What a hit marks as matched and as guessed is true character by character, over queries of the corruption model."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import pairwise
from math import inf

import pytest
from rapidfuzz.distance import OSA

from tests.bench.catalog_numbers import made_up_numbers
from tests.bench.corruption import bare, corrupted
from tests.search.plates import READABLE, WORN, index_of
from xref_app.search.hit import NumberHit
from xref_app.search.ranking import RankClass

ENTRIES, QUERIES, SEED = 130, 2000, 20
NUMBERS = made_up_numbers(ENTRIES, SEED).texts

Answer = tuple[str, NumberHit]


@pytest.fixture(scope="module")
def answers() -> list[Answer]:
    """Return every hit of every query, with what was typed."""
    rng = random.Random(SEED)
    index = index_of(NUMBERS)
    queries = [corrupted(rng.choice(NUMBERS), rng) for _ in range(QUERIES)]
    return [(typed, hit) for typed in queries for hit in index.find(typed).hits]


def typed_parts(typed: str) -> list[str]:
    """Return the letters, digits and marks of ``typed`` in order; a set is one part, in its brackets."""
    parts: list[str] = []
    for char in bare(typed):
        if parts and parts[-1].startswith("[") and not parts[-1].endswith("]"):
            parts[-1] += char
        else:
            parts.append(char)
    return parts


def readable(number: str, places: Sequence[int]) -> list[int]:
    return [place for place in places if number[place].upper() in READABLE]


def runs_between(number: str, hit: NumberHit) -> list[str]:
    """Return what is guessed before, between and behind the matched letters and digits, one more than there are."""
    stops = [-1, *readable(number, hit.matched), len(number)]
    guessed = readable(number, hit.guessed)
    return ["".join(number[place] for place in guessed if first < place < last) for first, last in pairwise(stops)]


def departures(run: str, gap: Sequence[str], *, may_match: bool) -> float:
    """Return by how many characters ``run`` departs from what was typed in ``gap``, an optimal string alignment.

    Wrong, missing, too many, a swapped pair, unreadable and one of several count 1 each; ``*`` 1 for each character
    that it stands for. With ``may_match`` a character as typed counts 0; otherwise none may stand where it was typed.
    """

    @cache
    def rest(at: int, to: int) -> float:
        if at == len(run) and to == len(gap):
            return 0
        ways = [inf]
        if to < len(gap):
            ways.append(rest(at, to + 1) + (gap[to] != "*"))
        if at < len(run):
            ways.append(rest(at + 1, to) + 1)
        if at < len(run) and to < len(gap):
            is_as_typed = run[at] == gap[to]
            ways.append(rest(at + 1, to + 1) + ((0 if may_match else inf) if is_as_typed else 1))
            if len(run) > at + 1 and list(run[at : at + 2]) == list(reversed(gap[to : to + 2])):
                ways.append(rest(at + 2, to + 2) + 1)
        return min(ways)

    return rest(0, 0)


def is_guesswork(run: str, gap: Sequence[str]) -> bool:
    """Return whether no reading of ``gap`` as ``run`` departs less by taking a character as it was typed.

    Not judged, thus true: a gap with ``*`` or with different look-alikes of one group; which of them stands for which
    is a matter of cost there.
    """
    both = {*run, *gap}
    if "*" in both or any(len(both & set(group)) > 1 for group in WORN.values()):
        return True
    return departures(run, gap, may_match=False) <= departures(run, gap, may_match=True)


def is_true(typed: str, hit: NumberHit) -> bool:
    """Return whether the matched characters stand in ``typed`` in order, with only guesswork between them."""
    parts = typed_parts(typed)
    kept = [hit.number[place].upper() for place in readable(hit.number, hit.matched)]
    runs = [run.upper() for run in runs_between(hit.number, hit)]

    @cache
    def holds_from(at: int, matched: int) -> bool:
        if matched == len(kept):
            return is_guesswork(runs[matched], parts[at:])
        return any(
            part == kept[matched]
            and is_guesswork(runs[matched], parts[at:place])
            and holds_from(place + 1, matched + 1)
            for place, part in enumerate(parts[at:], start=at)
        )

    return holds_from(0, 0)


def in_order(needle: str, hay: Sequence[str]) -> bool:
    left: Iterator[str] = iter(hay)
    return all(char in left for char in needle)


def test_departures_without_marks_are_those_of_rapidfuzz() -> None:
    rng = random.Random(SEED)
    for _ in range(2000):
        run, gap = ("".join(rng.choices("AB1", k=rng.randint(0, 6))) for _ in range(2))
        assert departures(run, gap, may_match=True) == OSA.distance(run, gap), (run, gap)


def test_the_queries_meet_every_class_of_hit(answers: list[Answer]) -> None:
    assert {hit.rank for _, hit in answers} >= set(RankClass) - {RankClass.EXACT, RankClass.SEPARATORS}


def test_positions_are_of_the_number_ascending_and_in_one_list_only(answers: list[Answer]) -> None:
    for typed, hit in answers:
        for places in (hit.matched, hit.guessed):
            assert list(places) == sorted(set(places)), (typed, hit)
            assert all(0 <= place < len(hit.number) for place in places), (typed, hit)
        assert not set(hit.matched) & set(hit.guessed), (typed, hit)


def test_no_letter_or_digit_is_passed_over_between_the_marked_ones(answers: list[Answer]) -> None:
    for typed, hit in answers:
        marked = readable(hit.number, sorted(hit.matched + hit.guessed))
        assert marked == readable(hit.number, range(marked[0], marked[-1] + 1)), (typed, hit)


def test_matched_characters_were_typed_in_order(answers: list[Answer]) -> None:
    false = [
        (typed, hit)
        for typed, hit in answers
        if not in_order(bare("".join(hit.number[place] for place in hit.matched)), typed_parts(typed))
    ]
    assert false == []


def test_guessed_characters_were_typed_differently_or_not_at_all(answers: list[Answer]) -> None:
    assert [(typed, hit) for typed, hit in answers if not is_true(typed, hit)] == []


def test_nothing_guessed_on_the_whole_number_means_that_it_was_typed(answers: list[Answer]) -> None:
    """But for case, separators, and characters typed beside those of the number: these hits are of the last class."""
    for typed, hit in answers:
        if hit.guessed or len(hit.matched) < len(hit.number):
            continue
        if hit.rank is RankClass.EDIT:
            assert len(typed_parts(typed)) > len(bare(hit.number)), (typed, hit)
        else:
            assert bare(typed).replace("*", "") == bare(hit.number), (typed, hit)
