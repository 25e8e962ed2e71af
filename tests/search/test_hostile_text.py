"""Text that nobody types off a plate: it is answered or refused, and does no harm."""

from __future__ import annotations

import pytest

from tests.search.plates import index_of
from xref_app.search.index import NumberHits
from xref_app.search.pattern import PatternError

INDEX = index_of([f"K{place:05}-{place % 97}" for place in range(3000)])


@pytest.mark.parametrize(
    "text",
    [
        "K4-7" * 250_000,
        "\u202eK00042\u200b",
        "КОТ47" * 13,
        "?" * 64,
        "*?" * 32,
        "[38]" * 16,
        "K" + "\u0301" * 1_000_000,
        "?K" * 32,
        "*K?" * 21,
        "[0123456789ABCDEFGH]" * 3,
        "[ABCDEFGHJKLMNPQRSTUVWXYZ0123456789]?[3456789]*[38]",
        "K0" * 32,
        "K00042\x00\u2066\u202e\u2069-\u200d42",
        "\U0001d5da\u0416\uff2b０００４２",
        "K" + "".join(map(chr, range(0x300, 0x330))) + "00042",
    ],
)
def test_odd_text_is_answered(text: str) -> None:
    assert isinstance(INDEX.find(text), NumberHits)


def test_invisible_characters_and_other_scripts_do_not_hide_a_number() -> None:
    found = INDEX.find("\u202eК00042\u200b\x00").hits[0]
    assert (found.number, found.guessed) == ("K00042-42", ())


@pytest.mark.parametrize("text", ["[" * 1_000_000, " " * 1_000_000, "]", "\u202e\u200b"])
def test_text_without_a_number_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(PatternError) as refused:
        INDEX.find(text)
    assert len(str(refused.value)) < 250


LONG = index_of(
    ["K0" * 46 + str(place) for place in range(900)] + [f"K{place:05}-{place % 97}" for place in range(3000)]
)


@pytest.mark.parametrize("text", ["K0" * 32, "K0?" * 21, "0K*0" * 16, "KO" * 10 + "X" + "K0" * 10])
def test_long_numbers_and_long_text_are_answered_with_true_marks(text: str) -> None:
    """The widest tables there are: every mark is checked against the characters that were typed."""
    hits = LONG.find(text).hits
    for hit in hits:
        assert not set(hit.matched) & set(hit.guessed)
        assert set(hit.matched) | set(hit.guessed) <= set(range(len(hit.number)))
        assert {hit.number[place] for place in hit.matched} <= set(text.upper()) | {"-"}
