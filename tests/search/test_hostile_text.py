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
