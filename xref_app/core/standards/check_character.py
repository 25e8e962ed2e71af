"""The check character of a number on a label: one wrong character, or two neighbours changed about, is noticed.

ISO/IEC 7064 MOD 37,36 (a hybrid system): digits and capitals, one check character of the same alphabet at the end. It
finds every single wrong character and nearly all swaps of two neighbours.
"""

from __future__ import annotations

import string
from typing import Final

_ALPHABET: Final = string.digits + string.ascii_uppercase
_COUNT: Final = len(_ALPHABET)


def check_character(body: str) -> str:
    """Return the character that stands behind ``body`` (digits and capitals, n ≥ 0 of them).

    Raises:
        ValueError: another character is in it.
    Source: ISO/IEC 7064, MOD 37,36.
    """
    carried = _COUNT
    for letter in body:
        total = (carried + _ALPHABET.index(letter)) % _COUNT or _COUNT
        carried = total * 2 % (_COUNT + 1)
    return _ALPHABET[(1 - carried) % _COUNT]


def with_check_character(body: str) -> str:
    """Return ``body`` with its check character at the end."""
    return body + check_character(body)


def has_right_check_character(code: str) -> bool:
    """Say whether the last character of ``code`` is the one that belongs to those before it."""
    is_plain = len(code) > 1 and all(letter in _ALPHABET for letter in code)
    return is_plain and check_character(code[:-1]) == code[-1]
