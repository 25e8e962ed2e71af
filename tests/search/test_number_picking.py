"""Picking by lists agrees with looking through every number, in a store large enough to have lists."""

from __future__ import annotations

import random
from statistics import fmean

import pytest

from xref_app.search import finding
from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberIndex

NUMBERS, QUERIES = 20_000, 200
LETTERS, DIGITS = "ABCDEFGHJKLMNPRSTVWXZ", "0123456789"
SHAPES = ("LD-DDDDDD", "DD.DDD.DDDD", "LLDDDDDL", "LDDDDDDDD", "DDDD-DDDD")
WORN = {"0": "OD", "1": "I", "2": "Z", "5": "S", "6": "G", "8": "B", "S": "5", "B": "8"}


def made_up(rng: random.Random) -> str:
    """Return a number of one of the shapes."""
    kinds = {"L": LETTERS, "D": DIGITS}
    return "".join(rng.choice(kinds.get(kind, kind)) for kind in rng.choice(SHAPES))


def typed_for(number: str, rng: random.Random) -> str:
    """Return the number as somebody might type it: whole or a part, worn, with a slip, a lost character, or a set."""
    place = rng.randrange(1, len(number) - 2)
    ways = (
        number,
        number[: rng.randint(5, len(number))],
        number[rng.randint(1, 3) :],
        number.replace("-", "").replace(".", ""),
        "".join(rng.choice(WORN[char]) if char in WORN and rng.random() < 0.5 else char for char in number),
        number[:place] + number[place + 1 :],
        number[: place + 1] + number[place:],
        number[:place] + number[place + 1] + number[place] + number[place + 2 :],
        number[:place] + rng.choice(DIGITS) + number[place + 1 :],
        number[:place] + "?" + number[place + 1 :],
        number[:place] + "*" + number[place + 2 :],
        number[:place] + "[38]" + number[place + 1 :],
    )
    return rng.choice(ways)


@pytest.fixture(scope="module")
def numbers() -> list[str]:
    rng = random.Random(20_000)
    return [made_up(rng) for _ in range(NUMBERS)]


@pytest.fixture(scope="module")
def index(numbers: list[str]) -> NumberIndex:
    return NumberIndex.build(NumberRow(text, f"entry {place}", "pump") for place, text in enumerate(numbers))


def test_the_first_ten_are_those_of_a_full_scan(
    index: NumberIndex, numbers: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    rng = random.Random(7)
    typed = [typed_for(rng.choice(numbers), rng) for _ in range(QUERIES)]
    picked = [index.find(text, limit=10).hits for text in typed]
    monkeypatch.setattr(finding, "FEW_ROWS", NUMBERS)
    scanned = [index.find(text, limit=10).hits for text in typed]
    shares = [
        len({hit.entry_id for hit in some} & {hit.entry_id for hit in all_}) / len(all_)
        for some, all_ in zip(picked, scanned, strict=True)
        if all_
    ]
    assert len(shares) > QUERIES * 0.9
    assert fmean(shares) >= 0.99


def test_what_matches_without_a_slip_is_counted_as_in_a_full_scan(
    index: NumberIndex, numbers: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    rng = random.Random(8)
    typed = [typed_for(rng.choice(numbers), rng) for _ in range(QUERIES)]
    picked = [index.find(text, limit=1) for text in typed]
    monkeypatch.setattr(finding, "FEW_ROWS", NUMBERS)
    scanned = [index.find(text, limit=1) for text in typed]
    compared = [
        (some.total, all_.total)
        for some, all_ in zip(picked, scanned, strict=True)
        if not some.total_is_least and all_.hits and all_.hits[0].rank < 6
    ]
    assert len(compared) > QUERIES / 3
    assert all(some == all_ for some, all_ in compared)
