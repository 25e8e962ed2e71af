"""What to mind before anybody touches a machine, in few words with their sources, on every sheet that leads there."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QLabel, QWidget

from xref_app.core.sentence import marked
from xref_app.gui.labels import quiet_label

# The work sheet says the same at length, beside its verdict.
MIND_FIRST = marked(
    "cautions",
    "Mind first: spark-plug lead off or plug out, no pressure left (OSHA 29 CFR 1910.147); a jet goes through skin: to "
    "hospital at once (CDC pressure-washer guidance); the maker's manual and local codes go before anything said here.",
)


def mind_first_text() -> str:
    """Return the words of the line."""
    return str(QCoreApplication.translate("cautions", MIND_FIRST))


def mind_first_label(parent: QWidget, object_name: str) -> QLabel:
    """Return the line where it stands back."""
    return quiet_label(parent, object_name, mind_first_text())
