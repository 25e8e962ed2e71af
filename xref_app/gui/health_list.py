"""What is not right with the catalog as rows, fits that failed first; and how a row is painted."""

from __future__ import annotations

from PySide6.QtGui import QFont

from xref_app.gui.health_words import SIGNS, kind_text, line_text, sizes_text
from xref_app.gui.messages import say
from xref_app.gui.painting import bold, small
from xref_app.gui.rows import RowsModel
from xref_app.gui.signed_rows import SignedDelegate, Words
from xref_app.services.health_lines import HealthLine


class HealthModel(RowsModel[HealthLine]):
    """The lines, in the order they came."""

    def words(self, row: HealthLine) -> str:
        """Return the whole row as one line."""
        return line_text(row)


class HealthDelegate(SignedDelegate[HealthLine]):
    """A sign for the kind and the kind in words; the sentence; below it the sizes, quiet."""

    def sign(self, row: HealthLine) -> tuple[str, str]:
        """Return the sign of the kind."""
        return SIGNS[row.kind], self._look.colours.fails

    def words_of(self, font: QFont, row: HealthLine) -> tuple[Words, ...]:
        """Return the kind, what is not right, and the sizes."""
        colours = self._look.colours
        return (
            (kind_text(row.kind), bold(font), colours.text),
            (say(row.told), font, colours.text),
            (sizes_text(row), small(font), colours.quiet_text),
        )
