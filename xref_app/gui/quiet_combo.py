"""A box of choices that wheel and letters pass over: who scrolls the side must not change what a list lists."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget

from xref_app.gui.rows import named


class QuietCombo(QComboBox):
    """Named, and its list as well; ``object_name`` ends in ``_combo``."""

    def __init__(self, parent: QWidget, object_name: str, title: str) -> None:
        super().__init__(parent)
        named(self, object_name, title)
        named(self.view(), object_name.replace("_combo", "_list"), title)
        self.setToolTip(title)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(1)

    def show_choices(self, choices: Iterable[tuple[object, str]], chosen: object) -> None:
        """Offer these values with their words, ``chosen`` in front; tells nobody."""
        self.blockSignals(True)  # noqa: FBT003 - Qt's own
        self.clear()
        for value, words in choices:
            self.addItem(words, value)
            if value == chosen:
                self.setCurrentIndex(self.count() - 1)
        self.blockSignals(False)  # noqa: FBT003 - Qt's own

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave letters and digits alone: none is a command. Arrow keys choose, Space opens the list."""
        if event.text().isprintable() and event.text().strip():
            event.ignore()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to what scrolls."""
        event.ignore()
