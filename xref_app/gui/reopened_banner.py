"""The line above the work sheet of a job that was reopened: when it was kept, and what has changed since."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QTextBrowser, QVBoxLayout, QWidget

from xref_app.gui.labels import heading_label
from xref_app.gui.rows import named
from xref_app.gui.theme import Look

# So many changes stand in the line itself; more are folded. House rule.
_MOST_IN_LINE = 2
_LEAST_ROOM_PX, _MOST_ROOM_PX = 60, 150


class ReopenedBanner(QFrame):
    """Hidden while no job was reopened; stays until it is closed or the job is left."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "reopened_banner_frame", self.tr("Reopened job"))
        self.setProperty("notice", "true")
        self._look = look
        self._kept = ""
        self._changes: tuple[str, ...] = ()
        self.line = heading_label(self, "reopened_line_label", "")
        self.more_button = self._button("more", self.tr("More"))
        self.close_button = self._button("close", self.tr("Close"))
        self.all = named(QTextBrowser(self), "reopened_changes_view", self.tr("All that has changed since"))
        self.all.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self._lay_out()
        self.more_button.clicked.connect(self.switch_fold)
        self.close_button.clicked.connect(self.leave)
        look.changed.connect(self._resize_to_text)
        self.leave()

    def _button(self, name: str, text: str) -> QPushButton:
        return named(QPushButton(text, self), f"reopened_{name}_button", text)

    def _lay_out(self) -> None:
        first = QHBoxLayout()
        first.addWidget(self.line, 1)
        first.addWidget(self.more_button, 0, Qt.AlignmentFlag.AlignTop)
        first.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(10, 4, 6, 4)
        whole.setSpacing(4)
        whole.addLayout(first)
        whole.addWidget(self.all)

    @property
    def is_open(self) -> bool:
        """Say whether there is something to read."""
        return not self.isHidden()

    def show_changes(self, kept: str, changes: Sequence[str]) -> None:
        """Say when the job was kept, and what has changed since, gravest first."""
        self._kept, self._changes = kept, tuple(changes)
        self.all.setPlainText("\n".join(self._changes))
        self.all.hide()
        self._tell()
        self.show()

    @Slot()
    def leave(self) -> None:
        """Close the banner."""
        self.hide()

    @Slot()
    def switch_fold(self) -> None:
        """Show all changes one below the other, or fold them again."""
        self.all.setVisible(self.all.isHidden())
        self._tell()

    def _tell(self) -> None:
        is_long = len(self._changes) > _MOST_IN_LINE
        is_unfolded = not self.all.isHidden()
        in_line = () if is_unfolded else self._changes[:_MOST_IN_LINE]
        self.line.setText(" ".join((self._kept, *in_line)))
        self.setAccessibleDescription(" ".join((self._kept, *self._changes)))
        more = self.tr("{count} more").format(count=len(self._changes) - _MOST_IN_LINE)
        words = self.tr("Fold") if is_unfolded else more
        self.more_button.setText(words)
        self.more_button.setAccessibleName(self.tr("What has changed since: {words}").format(words=words))
        self.more_button.setVisible(is_long)
        self._resize_to_text()

    @Slot()
    def _resize_to_text(self) -> None:
        wanted = int(self.all.document().size().height()) + 8
        px = self._look.px
        self.all.setFixedHeight(min(max(wanted, px(_LEAST_ROOM_PX)), px(_MOST_ROOM_PX)))
