"""Which characters count as the same: letter case, separators, letters of other scripts, and worn plates."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

# Characters that a worn stamping or a scratched label lets one take for another; each group stands for its first
# member. Common practice, no published source; settled in design section 6.
WORN_LOOK_ALIKES: Final = ("0oqd", "1il", "2z", "5s", "6g", "8b")

# Capitals of other scripts drawn like a Latin capital, spelled here in pairs "theirs, ours". Folded for search only:
# what is shown stays as it was written. Checked against Unicode UTS #39 confusables in the tests.
_CYRILLIC_CAPITALS: Final = "АA ВB ЕE ЅS ІI ЈJ КK МM НH ОO РP СC ТT УY ХX"
_GREEK_CAPITALS: Final = "ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX"

# Stands for any one separator where only its place matters.
SEPARATOR: Final = " "

_WORN: Final = {char: group[0] for group in WORN_LOOK_ALIKES for char in group}
_WORN_TABLE: Final = str.maketrans(_WORN)
_OTHER_SCRIPTS: Final = {
    pair[0].casefold(): pair[1].casefold() for pair in f"{_CYRILLIC_CAPITALS} {_GREEK_CAPITALS}".split()
}


@dataclass(frozen=True, slots=True)
class Glyph:
    """One character as it is compared, and where it came from.

    ``char`` is case-folded and normalised (NFKC); ``plain`` is the same with letters of other scripts made Latin, or
    ``SEPARATOR``. The text positions ``start`` to ``stop`` (from 0, stop excluded) hold it in the original.
    """

    char: str
    plain: str
    start: int
    stop: int

    @property
    def is_separator(self) -> bool:
        """Return whether the character is dropped when numbers are compared."""
        return self.plain == SEPARATOR


def glyphs(text: str) -> tuple[Glyph, ...]:
    """Return what is compared of ``text``, in order; every position of the text belongs to at least one glyph."""
    if text.isascii():
        return tuple(map(_ascii_glyph, text, range(len(text))))
    return tuple(
        Glyph(char, _plain(char), start, stop)
        for start, stop in _clusters(text)
        for char in _normalised(text[start:stop])
    )


@lru_cache(maxsize=8192)  # a plate's worth of characters at a plate's worth of places
def _ascii_glyph(char: str, place: int) -> Glyph:
    lower = char.lower()
    return Glyph(lower, _plain(lower), place, place + 1)


def spelled(text: str) -> str:
    """Return ``text`` as it is compared with what was typed, separators and all."""
    return text.lower() if text.isascii() else "".join(glyph.char for glyph in glyphs(text))


def worn(plain: str) -> str:
    """Return ``plain`` with every character replaced by the one that stands for its worn look-alikes."""
    return plain.translate(_WORN_TABLE)


def _clusters(text: str) -> Iterator[tuple[int, int]]:
    """Yield the spans of the characters with the marks that combine with them."""
    start = 0
    for position in range(1, len(text) + 1):
        if position == len(text) or not unicodedata.combining(text[position]):
            yield start, position
            start = position


def _normalised(cluster: str) -> str:
    if cluster.isascii():
        return cluster.lower()
    folded = unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", cluster).casefold())
    return folded or SEPARATOR


def _plain(char: str) -> str:
    return _OTHER_SCRIPTS.get(char, char) if char.isalnum() else SEPARATOR
