"""The byte that stands for each compared character, so that numpy can compare thousands of numbers at once.

A code is the character's plain form (see ``folding``); several may share a worn code. Letters of other scripts share
codes by their remainder: what is found by codes is always judged again on the text itself.
"""

from __future__ import annotations

import string
from functools import lru_cache
from typing import Final

from xref_app.search.folding import SEPARATOR, glyphs, worn

READABLE: Final = string.digits + string.ascii_lowercase
END: Final = 0  # stands behind a number, and for a separator
_FIRST_OTHER: Final = 1 + len(READABLE)
_OTHERS: Final = 256 - _FIRST_OTHER

CODE_OF: Final = {char: code for code, char in enumerate(READABLE, start=1)}
_WORN_CHARS: Final = sorted({worn(char) for char in READABLE})
WORN_OTHER: Final = 1 + len(_WORN_CHARS)
WORN_CODES: Final = WORN_OTHER + 1  # how many there are, END included

_WORN_OF_CODE: Final = bytes(
    [END, *(1 + _WORN_CHARS.index(worn(char)) for char in READABLE), *[WORN_OTHER] * _OTHERS],
)
_CODE_OF_ASCII: Final = bytes(CODE_OF.get(chr(byte).lower(), END) for byte in range(128)) + bytes(128)


def code_of(plain: str) -> int:
    """Return the code of one plain character that is no separator."""
    return CODE_OF.get(plain) or _FIRST_OTHER + ord(plain) % _OTHERS


def worn_table() -> bytes:
    """Return 256 bytes: the worn code of each code."""
    return _WORN_OF_CODE


def ascii_table() -> bytes:
    """Return 256 bytes: the code of each ASCII byte, ``END`` for what is no letter or digit."""
    return _CODE_OF_ASCII


@lru_cache(maxsize=512)
def worn_codes(chars: str) -> tuple[int, ...]:
    """Return the worn codes of plain characters, each once, ascending."""
    return tuple(sorted({_WORN_OF_CODE[code_of(char)] for char in chars}))


def codes_of(text: str) -> bytes:
    """Return the codes of the letters and digits of ``text``, in order."""
    if text.isascii():
        return text.encode().translate(_CODE_OF_ASCII, _NO_CODE)
    return bytes(code_of(glyph.plain) for glyph in glyphs(text) if glyph.plain != SEPARATOR)


_NO_CODE: Final = bytes(byte for byte in range(128) if _CODE_OF_ASCII[byte] == END)
