"""Text broken into lines of a width."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

# Where a line may be broken: what no-break spaces hold together stays on one line.
_BLANKS = re.compile("[ \t\n]+")

TextWidth = Callable[[str, float], float]
"""Tells how wide a text of a height is, both mm."""


def wrapped(text: str, height_mm: float, width_mm: float, text_width: TextWidth) -> Iterator[str]:
    """Yield ``text`` in lines of at most ``width_mm``, broken at blanks; a longer word is broken inside itself."""
    line = ""
    for whole in filter(None, _BLANKS.split(text)):
        for word in _pieces(whole, height_mm, width_mm, text_width):
            longer = f"{line} {word}".strip()
            if line and text_width(longer, height_mm) > width_mm:
                yield line
                line = word
            else:
                line = longer
    if line:
        yield line


def _pieces(word: str, height_mm: float, width_mm: float, text_width: TextWidth) -> Iterator[str]:
    """Yield a word whole where it goes into a line, else as much of it as does, letter by letter."""
    piece = ""
    for letter in word:
        if piece and text_width(piece + letter, height_mm) > width_mm:
            yield piece
            piece = ""
        piece += letter
    yield piece
