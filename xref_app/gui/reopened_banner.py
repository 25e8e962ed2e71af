"""The line above the work sheet of a job that was reopened: when it was kept, and what has changed since."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QMoveEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QTextBrowser, QVBoxLayout, QWidget

from xref_app.gui.labels import heading_label
from xref_app.gui.rows import named
from xref_app.gui.theme import Look

# So many changes stand in the line itself; more are folded. House rule.
_MOST_IN_LINE = 2
# Frames and margins round the words, px.
_ROUND_PX = 16
_MOST_ROOM_PX, _GAP_PX = 300, 2


class ReopenedBanner(QFrame):
    """Hidden while no job was reopened; stays until it is closed or the job is left.

    All changes drop over what stands below, which keeps its room.
    """

    def __init__(self, look: Look, page: QWidget) -> None:
        super().__init__(page)
        named(self, "reopened_banner_frame", self.tr("Reopened job"))
        self.setProperty("notice", "true")
        self._look = look
        self._kept = ""
        self._changes: tuple[str, ...] = ()
        self.line = heading_label(self, "reopened_line_label", "")
        self.more_button = self._button("more", self.tr("More"))
        self.close_button = self._button("close", self.tr("Close"))
        self._drop = named(QFrame(page), "reopened_changes_frame", self.tr("All that has changed since"))
        self._drop.setProperty("notice", "true")
        self.all = named(QTextBrowser(self._drop), "reopened_changes_view", self.tr("All that has changed since"))
        self.all.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self._lay_out()
        self.more_button.clicked.connect(self.switch_fold)
        self.close_button.clicked.connect(self.leave)
        look.changed.connect(self._place)
        QWidget.setTabOrder(self.more_button, self.all)
        QWidget.setTabOrder(self.all, self.close_button)
        self.leave()

    def _button(self, name: str, text: str) -> QPushButton:
        return named(QPushButton(text, self), f"reopened_{name}_button", text)

    def _lay_out(self) -> None:
        first = QHBoxLayout(self)
        first.setContentsMargins(10, 4, 6, 4)
        first.addWidget(self.line, 1)
        first.addWidget(self.more_button, 0, Qt.AlignmentFlag.AlignTop)
        first.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        dropped = QVBoxLayout(self._drop)
        dropped.setContentsMargins(6, 2, 2, 2)
        dropped.addWidget(self.all)

    @property
    def is_open(self) -> bool:
        """Say whether there is something to read."""
        return not self.isHidden()

    @property
    def is_unfolded(self) -> bool:
        """Say whether all changes are shown."""
        return not self._drop.isHidden()

    def show_changes(self, kept: str, changes: Sequence[str]) -> None:
        """Say when the job was kept, and what has changed since, gravest first."""
        self._kept, self._changes = kept, tuple(changes)
        self.all.setPlainText("\n".join(self._changes))
        self._drop.hide()
        self._tell()
        self.show()

    @Slot()
    def leave(self) -> None:
        """Close the banner."""
        self._drop.hide()
        self.hide()

    @Slot()
    def switch_fold(self) -> None:
        """Show all changes one below the other, or fold them again."""
        self._drop.setVisible(self._drop.isHidden())
        self._tell()
        self._place()

    def _tell(self) -> None:
        is_long = len(self._changes) > _MOST_IN_LINE
        self.line.setText(" ".join((self._kept, *self._changes[:_MOST_IN_LINE])))
        self.setAccessibleDescription(" ".join((self._kept, *self._changes)))
        more = self.tr("{count} more").format(count=len(self._changes) - _MOST_IN_LINE)
        words = self.tr("Fold") if self.is_unfolded else more
        self.more_button.setText(words)
        self.more_button.setAccessibleName(self.tr("What has changed since: {words}").format(words=words))
        self.more_button.setVisible(is_long)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the changes below the line."""
        super().resizeEvent(event)
        self._place()

    def moveEvent(self, event: QMoveEvent) -> None:
        """Keep the changes below the line."""
        super().moveEvent(event)
        self._place()

    @Slot()
    def _place(self) -> None:
        """Put the changes below the line, as high as they need and the page allows."""
        page = self.parentWidget()
        if page is None or not self.is_unfolded:
            return
        below = self.geometry().bottom() + _GAP_PX
        self.all.document().setTextWidth(self.width() - 2 * _ROUND_PX)
        wanted = int(self.all.document().size().height()) + _ROUND_PX
        most = min(self._look.px(_MOST_ROOM_PX), page.height() - below - _GAP_PX)
        self._drop.setGeometry(self.x(), below, self.width(), min(wanted, most))
        self._drop.raise_()
