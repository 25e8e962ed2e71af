"""A sheet with a list or table and, beside it, what is chosen of it: below it where both have no room side by side."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.rows import named
from xref_app.gui.theme import Look

_LEAST_HEIGHT_PX = 230
_LIST_PX = 420
_NO_LIMIT_PX = 16777215


class SideDetails(QFrame):
    """The right side: the chosen thing, and buttons for the acts on it, which ``_acts`` holds."""

    _acts: QWidget

    def __init__(self, look: Look, parent: QWidget | None, *, prefix: str, width_px: int) -> None:
        super().__init__(parent)
        self.setProperty("pane", "true")
        self._look, self._prefix, self._width_px = look, prefix, width_px
        self._is_folded = False

    @property
    def wanted_width(self) -> int:
        """Return the width in which no button is cut, px."""
        return self._look.px(self._width_px)

    def set_folded(self, *, is_folded: bool) -> None:
        """Take the whole width below the list, without buttons: keys and menu do their acts; or stand beside it."""
        self._is_folded = is_folded
        self._acts.setVisible(not is_folded)
        self._resize_to_text()

    def _button(self, name: str, text: str) -> QPushButton:
        button = named(QPushButton(text, self), f"{self._prefix}_{name}_button", text)
        button.setProperty("small", "true")
        return button

    @Slot()
    def _resize_to_text(self) -> None:
        self.setMinimumWidth(0 if self._is_folded else self.wanted_width)
        self.setMaximumWidth(_NO_LIMIT_PX if self._is_folded else self.wanted_width)


class FoldingSheet(QWidget):
    """The whole sheet; ``_put_side_by_side`` joins its two sides."""

    _whole: QBoxLayout
    _side: SideDetails
    # The least room beside the details, px at 100 % text.
    _list_px = _LIST_PX

    def __init__(self, look: Look, parent: QWidget | None) -> None:
        super().__init__(parent)
        self._look = look

    def minimumSizeHint(self) -> QSize:
        """Return the room for the details alone: folding must be able to happen before the window resists."""
        return QSize(self._side.wanted_width, _LEAST_HEIGHT_PX)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold."""
        super().resizeEvent(event)
        self._fold()

    def _put_side_by_side(self, left: QWidget, side: SideDetails) -> None:
        self._side = side
        self._whole = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._whole.setContentsMargins(0, 0, 0, 0)
        self._whole.setSpacing(8)
        self._whole.addWidget(left, 3)
        self._whole.addWidget(side, 2)

    def _step_through(self, places: Sequence[QWidget], step: int) -> None:
        """Put the keys into the next of ``places`` that can take them (the one before for -1)."""
        stops = [one for one in places if one.isEnabled()]
        focus = self.window().focusWidget()
        here = stops.index(focus) if focus in stops else -1
        stops[(here + step) % len(stops)].setFocus(Qt.FocusReason.ShortcutFocusReason)

    @property
    def _is_narrow(self) -> bool:
        return self.width() < self._side.wanted_width + self._look.px(self._list_px)

    def _fold(self) -> None:
        is_narrow = self._is_narrow
        flow = QBoxLayout.Direction.TopToBottom if is_narrow else QBoxLayout.Direction.LeftToRight
        if self._whole.direction() is not flow:
            self._whole.setDirection(flow)
            self._side.set_folded(is_folded=is_narrow)
            self._show_folded(is_narrow=is_narrow)

    def _show_folded(self, *, is_narrow: bool) -> None:
        """Do what else a sheet does when it is folded or unfolded."""


def list_pane(parent: QWidget, object_name: str, labels: Sequence[QWidget], view: QWidget) -> QFrame:
    """Return a left side: ``labels`` one below the other, and the list below them in all the room that is left."""
    pane = QFrame(parent)
    pane.setObjectName(object_name)
    pane.setProperty("pane", "true")
    column = QVBoxLayout(pane)
    column.setContentsMargins(1, 1, 1, 1)
    column.setSpacing(4)
    for label in labels:
        label.setContentsMargins(10, 4, 8, 0)
        column.addWidget(label)
    column.addWidget(view, 1)
    return pane
