"""The code on a shelf label: what it is made of, how people read it, and what an entered text is as one."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from xref_app.core.standards.check_character import has_right_check_character, with_check_character

# What stands before the number of a place: it tells a label's code from a maker's number. House rule.
PREFIX = "SHELF"
# Longer numbers are written in fours. House rule.
_LONG = 12


def label_code(shelf_id: str) -> str:
    """Return the code of a place: SHELF, the letters and digits of its number, and the check character."""
    return with_check_character(PREFIX + plain_characters(shelf_id))


def plain_characters(text: str) -> str:
    """Return the ASCII letters and digits of ``text``, in capitals."""
    return "".join(one for one in text.upper() if one.isascii() and one.isalnum())


@dataclass(frozen=True, slots=True)
class ReadLabel:
    """What an entered text is as a label's code: which place, in plain characters, and whether it was read right."""

    code: str
    place: str
    is_right: bool


def label_read_or_none(text: str) -> ReadLabel | None:
    """Return ``text`` as the code of a label; None where it is no such code. Blanks and strokes do not matter."""
    code = plain_characters(text)
    if not code.startswith(PREFIX) or len(code) < len(PREFIX) + 2:
        return None
    return ReadLabel(text.strip(), code[len(PREFIX) : -1], has_right_check_character(code))


def readable(code: str) -> str:
    """Return a code as people read it: letters and digits apart, the check character for itself."""
    body, check = code[len(PREFIX) : -1], code[-1]
    runs = "-".join("".join(run) for _, run in groupby(body, str.isdigit)) if len(body) <= _LONG else _in_fours(body)
    return f"{PREFIX}-{runs}-{check}"


def _in_fours(body: str) -> str:
    return "-".join(body[place : place + 4] for place in range(0, len(body), 4))
