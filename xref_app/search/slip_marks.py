"""The positions in a number's text that were typed, and those that had to be guessed, some slips away."""

from __future__ import annotations

from xref_app.search.folding import SEPARATOR, glyphs
from xref_app.search.slips import Laid


def slip_marks(text: str, laid: Laid) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the matched and the guessed positions of ``text``.

    Separators inside the typed part agree, unless an unreadable character or a run stood for them. What lies outside
    of it is neither.
    """
    matched: set[int] = set()
    guessed: set[int] = set()
    count = 0
    for glyph in glyphs(text):
        if glyph.plain == SEPARATOR:
            is_inside = (
                laid.first < count < laid.last or (count == laid.first == 0) or (count == laid.last and laid.is_whole)
            )
            marked = guessed if count in laid.blurred else matched if is_inside else None
        else:
            is_inside = laid.first <= count < laid.last
            marked = (matched if count in laid.agreeing else guessed) if is_inside else None
            count += 1
        if marked is not None:
            marked.update(range(glyph.start, glyph.stop))
    return tuple(sorted(matched - guessed)), tuple(sorted(guessed))
