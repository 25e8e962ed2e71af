"""What can be chosen below the measure field."""

from __future__ import annotations

from xref_app.core.sentence import Sentence
from xref_app.gui.messages import say
from xref_app.gui.rows import RowsModel
from xref_app.services.card_session import Choice


class CardChoicesModel(RowsModel[Choice]):
    """One line per choice, in the words of the card."""

    def words(self, row: Choice) -> str:
        """Return the choice in words."""
        return say(row.label) if isinstance(row.label, Sentence) else row.label
