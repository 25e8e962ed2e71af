"""Pages of which one is in front; those behind it hold the window up no more than they are seen."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QStackedWidget


class PageStack(QStackedWidget):
    """As little room as the page in front can do with."""

    def minimumSizeHint(self) -> QSize:
        """Return the least room of the page in front."""
        page = self.currentWidget()
        return super().minimumSizeHint() if page is None else page.minimumSizeHint()
