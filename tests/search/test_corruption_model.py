"""The corruption model of the benches does what it says: seeded, each fault as often as meant, each as it claims."""

from __future__ import annotations

import random
import re
from collections import Counter

import pytest

from tests.bench import plate_wear as wear
from tests.bench import typing_slips as slips
from tests.bench.corruption import FAULTS, HOW_MANY_FAULTS, Fault, bare, corrupted, typed_off
from tests.bench.plate_wear import FEWEST_LEFT, LOOK_ALIKES, ONE_STROKE_APART, taken_for
from tests.bench.readable import readable_places
from xref_app.search.pattern import TokenKind, parse_number

QUERIES = 6000
ROUNDS = 200
SHORT = ("A", "7", "K-1", "00", "A1B2C", "1.1.1")


def _number(rng: random.Random) -> str:
    shape = rng.choice(
        ("LD DDD-DDDD", "DDD DDDDDD", "LLDDDDDD-L", "DD.DDD.DDDD", "LLDDDDD", "DDD-DD/DDL", "LDDDDDDDDL")
    )
    letters, digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZ", "0123456789"
    return "".join(rng.choice({"L": letters, "D": digits}.get(char, char)) for char in shape)


NUMBERS = [_number(random.Random(seed)) for seed in range(QUERIES)]
TYPED = [typed_off(number, random.Random(seed)) for seed, number in enumerate(NUMBERS)]


def _after(fault: Fault) -> list[tuple[str, str]]:
    """Return numbers before and after ``fault``, where it could happen."""
    pairs = [(number, fault(number, random.Random(seed))) for seed, number in enumerate(NUMBERS[:ROUNDS])]
    changed = [(number, typed) for number, typed in pairs if number != typed]
    assert len(changed) > ROUNDS / 2
    return changed


def _differing(number: str, typed: str) -> list[tuple[str, str]]:
    return [(true, char) for true, char in zip(number, typed, strict=True) if true != char]


def test_the_same_seed_gives_the_same_text() -> None:
    assert [corrupted(number, random.Random(seed)) for seed, number in enumerate(NUMBERS)] == [
        typed.text for typed in TYPED
    ]


def test_another_seed_gives_other_texts() -> None:
    texts = {corrupted("KD 407-2358", random.Random(seed)) for seed in range(ROUNDS)}
    assert len(texts) > ROUNDS / 2


def test_every_kind_of_fault_is_met_in_two_percent_of_the_queries_at_least() -> None:
    met = Counter(fault for typed in TYPED for fault in typed.faults)
    assert met.keys() == FAULTS.keys()
    assert min(met.values()) >= 0.02 * QUERIES


def test_wear_is_met_about_as_often_as_its_weight_says() -> None:
    met = Counter(fault in wear.WEAR for typed in TYPED for fault in typed.faults)
    assert sum(FAULTS.values()) == 100
    assert met[True] / met.total() == pytest.approx(0.7, abs=0.05)


def test_one_two_and_three_faults_are_met_as_often_as_the_weights_say() -> None:
    met = Counter(len(typed.faults) for typed in TYPED)
    assert {count: met[count] / QUERIES * 100 for count in met} == pytest.approx(HOW_MANY_FAULTS, abs=3)


def test_each_habit_of_case_and_separators_is_met_in_several_percent() -> None:
    with_both = [typed for number, typed in zip(NUMBERS, TYPED, strict=True) if bare(number) != number]
    small = sum(typed.text == typed.text.lower() for typed in TYPED)
    mixed = sum(typed.text not in {typed.text.lower(), typed.text.upper()} for typed in TYPED)
    without = sum(re.search(r"[ ./-]", typed.text) is None for typed in with_both)
    assert 0.4 < small / QUERIES < 0.75
    assert mixed / QUERIES > 0.03
    assert 0.3 < without / len(with_both) < 0.7
    assert sum(typed.text.count(" ") for typed in TYPED) > 0.05 * QUERIES


def test_no_query_equals_its_number_even_but_for_case_and_separators() -> None:
    assert [number for number, typed in zip(NUMBERS, TYPED, strict=True) if bare(typed.text) == bare(number)] == []


def test_five_readable_characters_are_left_at_least() -> None:
    assert min(len(readable_places(typed.text)) for typed in TYPED) == FEWEST_LEFT


@pytest.mark.parametrize("number", SHORT)
def test_a_short_number_is_corrupted_too_and_loses_none_of_its_readable_characters(number: str) -> None:
    for seed in range(ROUNDS):
        typed = corrupted(number, random.Random(seed))
        assert len(readable_places(typed)) >= len(readable_places(number))
        assert bare(typed) != bare(number)


def test_a_fault_that_cannot_happen_is_not_said_to_have_happened() -> None:
    faults = {fault for seed in range(ROUNDS) for fault in typed_off("WWWWWWW", random.Random(seed)).faults}
    assert faults.isdisjoint({wear.look_alike, wear.stroke_lost, wear.doubtful})
    assert {wear.unreadable, wear.beginning, slips.dropped} <= faults


def test_a_number_without_letter_or_digit_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^“-/-” has no letter or digit. Give a number that has one.$"):
        corrupted("-/-", random.Random(1))


def test_every_query_is_in_the_syntax_of_the_search_with_as_many_marks_as_faults() -> None:
    for typed in TYPED:
        pattern = parse_number(typed.text)
        assert pattern.count(TokenKind.RUN) == (wear.stretch_lost in typed.faults)
        assert pattern.count(TokenKind.EITHER) == (wear.doubtful in typed.faults)
        assert pattern.count(TokenKind.UNREADABLE) in ({1, 2} if wear.unreadable in typed.faults else {0})


def test_question_marks_stand_only_where_a_readable_character_was() -> None:
    for number, typed in _after(wear.unreadable):
        assert {mark for _, mark in _differing(number, typed)} == {"?"}
        assert 1 <= len(_differing(number, typed)) <= 2
        assert all(true.isalnum() for true, _ in _differing(number, typed))


def test_question_marks_stand_for_readable_characters_in_mixtures_too() -> None:
    in_place = {wear.unreadable, wear.look_alike, wear.stroke_lost, slips.neighbour_key}
    queries = [
        (bare(number), bare(typed.text))
        for number, typed in zip(NUMBERS, TYPED, strict=True)
        if wear.unreadable in typed.faults and in_place.issuperset(typed.faults)
    ]
    assert len(queries) > 100
    for number, text in queries:
        assert all(number[place].isalnum() for place, char in enumerate(text) if char == "?")
        assert len(number) == len(text)


@pytest.mark.parametrize(
    ("fault", "groups", "most"), [(wear.look_alike, LOOK_ALIKES, 2), (wear.stroke_lost, ONE_STROKE_APART, 1)]
)
def test_misread_characters_are_of_one_group(fault: Fault, groups: tuple[str, ...], most: int) -> None:
    for number, typed in _after(fault):
        assert 1 <= len(_differing(number, typed)) <= most
        assert all(any({true, char} <= set(group) for group in groups) for true, char in _differing(number, typed))


def test_the_look_alikes_are_those_of_worn_plates() -> None:
    assert [taken_for(char, LOOK_ALIKES) for char in "0D1Z5G8K"] == ["OQD", "0OQ", "IL", "2", "S", "6", "B", ""]


def test_a_doubtful_character_is_one_of_its_set() -> None:
    for number, typed in _after(wear.doubtful):
        before, either, after = re.fullmatch(r"(.*)\[(\w\w)\](.*)", typed).groups()  # type: ignore[union-attr] # fails
        assert len(set(either)) == 2
        assert number in {before + char + after for char in either}


def test_a_lost_stretch_is_two_to_four_characters() -> None:
    for number, typed in _after(wear.stretch_lost):
        before, after = typed.split("*")
        assert number.startswith(before)
        assert number.endswith(after)
        assert 2 <= len(readable_places(number)) - len(readable_places(typed)) <= 4


def test_a_beginning_is_the_start_and_a_middle_is_not() -> None:
    for number, typed in _after(wear.beginning):
        assert number.startswith(typed)
        assert FEWEST_LEFT <= len(readable_places(typed)) < len(readable_places(number))
    for number, typed in _after(wear.middle):
        assert typed in number[1:]
        assert len(readable_places(typed)) >= FEWEST_LEFT


def test_a_middle_goes_to_the_end_about_as_often_as_not() -> None:
    pairs = _after(wear.middle)
    assert 0.5 < sum(number.endswith(typed) for number, typed in pairs) / len(pairs) < 0.9


def test_a_dropped_character_makes_the_text_one_shorter() -> None:
    for number, typed in _after(slips.dropped):
        assert len(typed) == len(number) - 1
        assert typed in {number[:place] + number[place + 1 :] for place in readable_places(number)}


def test_a_doubled_character_makes_the_text_one_longer() -> None:
    for number, typed in _after(slips.doubled):
        assert len(typed) == len(number) + 1
        assert typed in {number[:place] + number[place] + number[place:] for place in readable_places(number)}


def test_an_extra_key_lies_beside_the_one_meant() -> None:
    for number, typed in _after(slips.extra_key):
        assert len(typed) == len(number) + 1
        assert typed in {
            number[:place] + pair + number[place + 1 :]
            for place in readable_places(number)
            for near in slips.neighbours(number[place])
            for pair in (number[place] + near, near + number[place])
        }


def test_swapped_characters_are_neighbours() -> None:
    for number, typed in _after(slips.swapped):
        (first, second), (third, fourth) = _differing(number, typed)
        assert (first, second) == (fourth, third)
        assert first + third in number


def test_a_neighbour_key_lies_beside_the_one_meant() -> None:
    for number, typed in _after(slips.neighbour_key):
        ((true, char),) = _differing(number, typed)
        assert char in slips.neighbours(true)


@pytest.mark.parametrize(
    ("key", "beside"), [("G", "TYFHVB"), ("Q", "12WA"), ("M", "JKN"), ("5", "46RT8642"), ("0", "9OP1"), ("P", "0OL")]
)
def test_the_keys_beside_are_those_of_the_keyboard(key: str, beside: str) -> None:
    assert sorted(slips.neighbours(key)) == sorted(beside)


def test_slips_leave_marks_alone() -> None:
    for fault in slips.SLIPS:
        for seed in range(ROUNDS):
            typed = fault("K?4[38]7*215", random.Random(seed))
            assert re.sub(r"[A-Z0-9](?![^\[]*\])", "", typed) == "?[38]*"
