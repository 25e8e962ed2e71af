"""The rows of a supplier's list that were not taken, as a file to send back: safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

from xref_app.exchange.whole_file import write_whole

# A cell that begins so is a formula, or part of one, to some spreadsheet program (OWASP, "CSV Injection").
_BEGINS_FORMULA: Final = frozenset("=+-@\t\r\n\x00")


def safe_cell(text: str) -> str:
    """Return a text that no spreadsheet program takes for a formula: with an apostrophe before it where one might."""
    first = text.lstrip(" ")[:1]
    is_formula = first in _BEGINS_FORMULA or text[:1] in _BEGINS_FORMULA
    is_wide = any(one in _BEGINS_FORMULA for one in unicodedata.normalize("NFKC", first))
    return f"'{text}" if text and (is_formula or is_wide) else text


def write_refused(path: Path, rows: Iterable[Sequence[str]]) -> None:
    """Write ``rows`` of texts as CSV, every cell in quotes, in UTF-8 with the mark by which spreadsheets know it.

    Raises:
        NotWrittenError: it could not be written; what was there before is there still.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, quoting=csv.QUOTE_ALL)
    for row in rows:
        writer.writerow([safe_cell(one).replace("\x00", "\ufffd") for one in row])
    write_whole(path, text.getvalue().encode("utf-8-sig", "replace"))
