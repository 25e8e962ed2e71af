"""The positions in a number's text that were typed, and those that had to be guessed, some slips away."""

from __future__ import annotations

from xref_app.search.folding import SEPARATOR, glyphs
from xref_app.search.pattern import TokenKind
from xref_app.search.read_back import Laid


def slip_marks(text: str, laid: Laid) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the matched and the guessed positions of ``text``.

    Separators inside the typed part agree, unless an unreadable character or a run stood for them. What lies outside
    of it is neither.
    """
    if text.isascii() and not laid.blurred:
        return _ascii_marks(text.lower(), laid)
    matched: set[int] = set()
    guessed: set[int] = set()
    count = 0
    for glyph in glyphs(text):
        if glyph.plain == SEPARATOR:
            marked = guessed if count in laid.blurred else matched if _is_inside(count, laid) else None
        else:
            token = laid.token_at.get(count)
            is_same = token is not None and token.kind is TokenKind.LITERAL and token.chars == glyph.plain
            marked = (matched if is_same else guessed) if laid.first <= count < laid.last else None
            count += 1
        if marked is not None:
            marked.update(range(glyph.start, glyph.stop))
    return tuple(sorted(matched - guessed)), tuple(sorted(guessed))


def _is_inside(count: int, laid: Laid) -> bool:
    """Return whether a separator before the place ``count`` belongs to the typed part."""
    at_begin, at_end = count == laid.first == 0, count == laid.last and laid.is_whole
    return laid.first < count < laid.last or at_begin or at_end


def _ascii_marks(lower: str, laid: Laid) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the marks of a text of single characters, none of its separators guessed."""
    readable = [position for position, char in enumerate(lower) if char.isalnum()]
    first = readable[laid.first] if laid.first else 0
    last = len(lower) if laid.is_whole else readable[laid.last - 1] + 1 if laid.last > laid.first else first
    guessed = []
    for count in range(laid.first, laid.last):
        token = laid.token_at.get(count)
        if token is None or token.kind is not TokenKind.LITERAL or token.chars != lower[readable[count]]:
            guessed.append(readable[count])
    not_matched = set(guessed)
    return tuple(position for position in range(first, last) if position not in not_matched), tuple(guessed)
