"""The check character is that of ISO/IEC 7064 MOD 37,36: compared with python-stdnum, which knows nothing of ours."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from xref_app.core.standards.check_character import (
    check_character,
    has_right_check_character,
    with_check_character,
)

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
bodies = st.text(ALPHABET, min_size=1, max_size=24)


@given(bodies)
def test_it_is_the_character_an_independent_library_gives(body: str) -> None:
    assert check_character(body) == mod_37_36.calc_check_digit(body)


@given(bodies, st.data())
def test_every_single_wrong_character_is_noticed(body: str, data: st.DataObject) -> None:
    code = with_check_character(body)
    place = data.draw(st.integers(0, len(code) - 1))
    other = data.draw(st.sampled_from([one for one in ALPHABET if one != code[place]]))
    assert has_right_check_character(code)
    assert not has_right_check_character(code[:place] + other + code[place + 1 :])


@pytest.mark.parametrize("code", ["", "A", "s001k", "S-001", "S 01"])
def test_what_is_no_code_is_none(code: str) -> None:
    assert not has_right_check_character(code)
