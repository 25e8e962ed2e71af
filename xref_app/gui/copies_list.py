"""The copies as rows, newest first; and how a row is painted."""

from __future__ import annotations

from PySide6.QtGui import QFont

from xref_app.gui.copies_words import holds_text, line_text, state_text, when_of
from xref_app.gui.painting import bold, small
from xref_app.gui.rows import RowsModel
from xref_app.gui.signed_rows import SignedDelegate, Words
from xref_app.services.copies_told import CopyLine

# One silhouette each: they stay apart without colour.
WHOLE_SIGN, DAMAGED_SIGN = "●", "!"


class CopiesModel(RowsModel[CopyLine]):
    """The copies, in the order they came."""

    def words(self, row: CopyLine) -> str:
        """Return the whole row as one line."""
        return line_text(row)


class CopyDelegate(SignedDelegate[CopyLine]):
    """A sign for whole or damaged; when; what it holds; below it, quiet, why it was made."""

    def sign(self, row: CopyLine) -> tuple[str, str]:
        """Return whether the copy is whole."""
        colours = self._look.colours
        return (WHOLE_SIGN, colours.fits) if row.good else (DAMAGED_SIGN, colours.fails)

    def words_of(self, font: QFont, row: CopyLine) -> tuple[Words, ...]:
        """Return when, what it holds, and why it was made."""
        colours = self._look.colours
        return (
            (when_of(row), bold(font), colours.text),
            (holds_text(row), font, colours.text),
            (state_text(row), small(font), colours.quiet_text),
        )
