"""A list from which one thing is chosen at once, by Enter or by one click; what came in under a click is not chosen."""

from __future__ import annotations

from PySide6.QtCore import QElapsedTimer, QModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from xref_app.gui.rows import QuietListView


class ChoiceView(QuietListView):
    """Tells what is chosen. A double click chooses once, also where the first click brought other choices."""

    chosen = Signal(QModelIndex)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._since_shown = QElapsedTimer()
        self.clicked.connect(self._tell_clicked)

    def begin_anew(self) -> None:
        """Choose nothing, and show the first choices; call after others are shown."""
        self._since_shown.start()
        self.setCurrentIndex(QModelIndex())
        self.doItemsLayout()
        self.scrollToTop()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose with Enter: the guard against scans hands on none that ends a scan."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            if self.currentIndex().isValid():
                self.chosen.emit(self.currentIndex())
            return
        super().keyPressEvent(event)

    @Slot(QModelIndex)
    def _tell_clicked(self, index: QModelIndex) -> None:
        is_settled = not self._since_shown.isValid() or self._since_shown.hasExpired(QApplication.doubleClickInterval())
        if is_settled and index.flags() & Qt.ItemFlag.ItemIsEnabled:
            self.chosen.emit(index)
