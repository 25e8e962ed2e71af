"""The many ways to write the same characters, brought to one."""

from __future__ import annotations

import re
import unicodedata

from xref_app.core.quantity.errors import MeasureError

# House rule: nothing anybody measures takes more characters; longer is a slip of the clipboard.
LONGEST_TEXT = 64

_SAME = {
    "′′": '"',
    "''": '"',
    "″": '"',
    "”": '"',
    "“": '"',
    "−": "-",
    "–": "-",
    "‐": "-",
    "‑": "-",
    "×": "x",
    "⁄": "/",
    "∕": "/",
    "⋅": "·",
    "º": "°",
    "⁻¹": "-1",
}
# NFKC would turn a raised, lowered or circled digit into a plain one: 3² is not 32.
_NOT_PLAIN = ("<super>", "<sub>", "<circle>")
_SPACES = re.compile(r"\s+")


def tidy(text: str, *, instead: str, longest: int = LONGEST_TEXT) -> str:
    """Return ``text`` in plain characters: one kind of inch mark, minus, cross, fraction and space.

    Args:
        text: As typed.
        instead: How such a text is written, for the sentence of a refusal.
        longest: How many characters are read at most.

    Raises:
        MeasureError: the text is empty, too long, or holds raised, lowered or circled characters.
    """
    if len(text) > longest:
        raise MeasureError(text, f"has more than {longest} characters", instead)
    plain = _SPACES.sub(" ", _replaced(unicodedata.normalize("NFKC", _fractions_apart(_replaced(text))))).strip()
    if not plain:
        raise MeasureError(text, "is empty", instead)
    if any(unicodedata.decomposition(one).startswith(_NOT_PLAIN) for one in _replaced(text)):
        raise MeasureError(text, "has raised or lowered characters", instead)
    return plain


def _replaced(text: str) -> str:
    for odd, plain in _SAME.items():
        text = text.replace(odd, plain)
    return text


def _fractions_apart(text: str) -> str:
    """Set a space before each one-character fraction, or NFKC would read 1½ as 11/2."""
    return "".join(f" {one}" if unicodedata.decomposition(one).startswith("<fraction>") else one for one in text)
