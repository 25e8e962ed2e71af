"""What is wrong with a text that should have been a size, a word or a thread."""

from __future__ import annotations

from xref_app.core.errors import XrefError

# House rule: enough to recognise what was typed, short enough for one line of the window.
LONGEST_SHOWN = 40


class MeasureError(XrefError):
    """A text that cannot be taken as it stands.

    Attributes:
        found: The text as typed.
        why: What is the matter, so that "“found” why." is a sentence.
        instead: How to write it, so that "Write it like instead." is a sentence.
    """

    def __init__(self, found: str, why: str, instead: str) -> None:
        super().__init__(found, why, instead)
        self.found = found
        self.why = why
        self.instead = instead

    def __str__(self) -> str:
        return f"“{shown(self.found)}” {self.why}. Write it like {self.instead}."


class WordError(MeasureError):
    """A word that is not on the closed list of its field, close to one that is."""

    def __str__(self) -> str:
        return f"“{shown(self.found)}” {self.why}. Did you mean “{self.instead}”?"


def shown(text: str) -> str:
    """Return ``text`` fit for one line: cut to ``LONGEST_SHOWN`` characters, invisible characters spelled out."""
    cut = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "…"
    return "".join(one if one.isprintable() else f"\\u{ord(one):04x}" for one in cut)
