"""Words from a closed list, and yes or no."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches

from xref_app.core.quantity.errors import MeasureError, WordError
from xref_app.core.quantity.written import tidy

_YES = frozenset({"yes", "y", "true"})
_NO = frozenset({"no", "n", "false"})
_GAPS = re.compile(r"[ _-]+")


def read_word(text: str, words: Sequence[str]) -> str:
    """Return the one of ``words`` that ``text`` spells, in any letter case, hyphens and underlines as spaces.

    Raises:
        WordError: no such word, but one close to it.
        MeasureError: no such word and none close.
    """
    instead = " or ".join(f"“{word}”" for word in words)
    by_fold = {_folded(word): word for word in words}
    folded = _folded(tidy(text, instead=instead))
    if folded in by_fold:
        return by_fold[folded]
    why = "is not a word of this field"
    close = get_close_matches(folded, by_fold, n=1)
    if close:
        raise WordError(text, why, by_fold[close[0]])
    raise MeasureError(text, why, instead)


def read_yes_no(text: str) -> bool:
    """Return whether ``text`` says yes.

    Raises:
        MeasureError: it says neither yes nor no.
    """
    word = tidy(text, instead="yes or no").casefold()
    if word not in _YES | _NO:
        raise MeasureError(text, "is neither yes nor no", "yes or no")
    return word in _YES


def _folded(word: str) -> str:
    return _GAPS.sub(" ", word.casefold()).strip()
