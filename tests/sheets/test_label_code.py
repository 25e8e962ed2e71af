"""Codes of shelf labels: made of a place's number, read back however they are typed, wrong ones noticed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.sheets.label_code import ReadLabel, label_code, label_read_or_none, plain_characters, readable


@given(st.text(min_size=1).filter(plain_characters))
def test_a_code_is_of_capitals_and_digits_and_reads_back_as_its_place(shelf_id: str) -> None:
    code = label_code(shelf_id)
    assert code.isascii()
    assert code.isalnum()
    assert code == code.upper()
    for typed in (code, readable(code), readable(code).lower(), f"  {code} "):
        assert label_read_or_none(typed) == ReadLabel(typed.strip(), plain_characters(shelf_id), is_right=True)


def test_a_code_reads_as_people_read_it() -> None:
    assert readable(label_code("S-025")) == "SHELF-S-025-K"
    assert readable(label_code("550e8400e29b41d4")).startswith("SHELF-550E-8400-E29B-41D4-")


@pytest.mark.parametrize("text", ["", "SHELF", "SHELFA", "K4872-20", "0812345", "S-025", "BIN S-025 K"])
def test_a_number_that_is_no_label_is_left_to_the_search(text: str) -> None:
    assert label_read_or_none(text) is None


def test_two_neighbours_changed_about_are_noticed() -> None:
    label = label_read_or_none("SHELF-S-052-K")
    assert label is not None
    assert not label.is_right
