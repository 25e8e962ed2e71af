"""Where the readable letters and digits of a typed number stand: those outside brackets."""

from __future__ import annotations

import re
from typing import Final

SEPARATORS: Final = " -./_,"
_SET_OR_CHARACTER: Final = re.compile(r"\[[^\]]*\]|[A-Za-z0-9]")


def readable_places(typed: str) -> list[int]:
    """Return the places of the letters and digits of ``typed`` that stand for themselves, ascending."""
    return [found.start() for found in _SET_OR_CHARACTER.finditer(typed) if not found[0].startswith("[")]


def written_at(typed: str, place: int, text: str) -> str:
    """Return ``typed`` with ``text`` in place of the one character at ``place``."""
    return typed[:place] + text + typed[place + 1 :]
