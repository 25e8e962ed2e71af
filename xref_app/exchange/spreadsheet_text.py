"""Texts that no spreadsheet takes for a formula, and back again.

A cell that begins with ``=``, ``+``, ``-``, ``@``, a tab, a line end or a NUL is run as a formula or a command by some
spreadsheet, and so are the full-width and small forms. Such a text is written with an apostrophe before it, which
spreadsheets themselves take for “this is text”; ours alone is taken off when it is read.

Source: OWASP, “CSV Injection” (the characters); the forms: Unicode Standard, blocks FE50 and FF00.
"""

from __future__ import annotations

import re
from typing import Final

GUARD: Final = "'"

STARTS: Final = "=+-@\t\r\n\0＝＋－＠﹦﹢﹣﹫"

# Apostrophes that stand there already are counted in, so that what a person wrote as '=1 comes back as '=1.
_RISKY: Final = re.compile(f"'*[{re.escape(STARTS)}]")
_GUARDED: Final = re.compile(f"'+[{re.escape(STARTS)}]")


def guarded(text: str) -> str:
    """Return ``text`` as it stands in a file: with one apostrophe before it where a spreadsheet would act on it."""
    return GUARD + text if _RISKY.match(text) else text


def unguarded(text: str) -> str:
    """Return the text that ``guarded`` was given."""
    return text[1:] if _GUARDED.match(text) else text
