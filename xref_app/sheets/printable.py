"""Words that any file can hold."""

from __future__ import annotations

import re

# What XML 1.0 forbids even when escaped (section 2.2), and what breaks a line where one is one value.
_FORBIDDEN = re.compile("[^\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def printable(text: str) -> str:
    """Return ``text`` in one line, what no file can hold replaced by the character that says so."""
    return _FORBIDDEN.sub("\N{REPLACEMENT CHARACTER}", " ".join(text.split()))
