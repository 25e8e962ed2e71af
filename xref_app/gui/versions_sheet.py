"""Both versions of one size side by side: who said which, and what each would mean; settled with a reason."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.length_rows import LengthRowsModel
from xref_app.gui.messages import say, verdict_word
from xref_app.gui.rows import QuietListView, named
from xref_app.gui.theme import Look
from xref_app.services.both_versions import Version, Versions

_LONGEST_TEXT = 400


class VersionsModel(LengthRowsModel[Version]):
    """One line per version."""

    def words(self, row: Version) -> str:
        """Return the value, who said it, and what it would mean."""
        lines = [self.in_order(row.shown), row.known_by, self._meaning(row)]
        return "\n".join(line for line in lines if line)

    def _meaning(self, row: Version) -> str:
        counts = self.tr("of all pumps {fits} fit, {open} not known yet, {fails} do not fit").format(
            fits=row.fits, open=row.open, fails=row.fails
        )
        if row.verdict is None:
            return counts if row.fits or row.open or row.fails else ""
        chosen = self.tr("The chosen pump then: {verdict}").format(verdict=verdict_word(row.verdict))
        return f"{chosen}; {counts}"


class VersionsSheet(QWidget):
    """Never averages and never prefers the newer: a person keeps one, says why, and the other stays in the record."""

    settled = Signal(object, int, str)
    left = Signal()
    measure_pressed = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "versions_sheet_page", self.tr("Both versions"))
        self.setProperty("pane", "true")
        self._versions: Versions | None = None
        self._model = VersionsModel(self)
        self._title = heading_label(self, "versions_title_label", "")
        self._note = quiet_label(self, "versions_note_label")
        self.list = named(QuietListView(self), "versions_rows_list", self.tr("The versions"))
        self.list.setModel(self._model)
        self.list.setSpacing(6)
        self.reason = named(QLineEdit(self), "versions_reason_line", self.tr("Why the chosen one is right"))
        self.reason.setMaxLength(_LONGEST_TEXT)
        self.reason.setPlaceholderText(self.tr("why the chosen one is right, such as: measured again on the bench"))
        self._trouble = heading_label(self, "versions_trouble_label", "")
        self.keep_button = self._button("versions_keep_button", self.tr("Keep the chosen one"))
        self.measure_button = self._button("versions_measure_button", self.tr("Measure it again  F7"))
        self.leave_button = self._button("versions_leave_button", self.tr("Leave  Esc"))
        self._lay_out(look)
        self.keep_button.clicked.connect(self._keep)
        self.measure_button.clicked.connect(self.press_measure)
        self.leave_button.clicked.connect(self.left)

    def _button(self, name: str, text: str) -> QPushButton:
        return named(QPushButton(text, self), name, text)

    def _lay_out(self, look: Look) -> None:
        body = QVBoxLayout(self)
        body.setContentsMargins(12, 10, 12, 10)
        body.setSpacing(8)
        label = QLabel(self.tr("Reason"), self)
        label.setBuddy(self.reason)
        why = QHBoxLayout()
        why.addWidget(label)
        why.addWidget(self.reason, 1)
        buttons = QHBoxLayout()
        for button in (self.keep_button, self.measure_button, self.leave_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        body.addWidget(self._title)
        body.addWidget(self._note)
        body.addWidget(self.list, 1)
        body.addLayout(why)
        body.addWidget(self._trouble)
        body.addLayout(buttons)
        self.reason.setMinimumHeight(look.px(34))

    @property
    def versions(self) -> Versions | None:
        """Return what is shown."""
        return self._versions

    def show_first(self, first: LengthFirst) -> None:
        """Show lengths in this unit first."""
        self._model.show_first(first)

    def show_versions(self, versions: Versions) -> None:
        """Show the versions of one field; which is chosen can always be seen."""
        self._versions = versions
        self._title.setText(self.tr("{title}: {count} versions").format(title=versions.title, count=len(versions.rows)))
        self._note.setText(say(versions.note))
        self._model.show_rows(versions.rows)
        self.reason.setText("")
        self._say("")
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)
        self.list.setCurrentIndex(self._model.index(0))

    @Slot()
    def press_measure(self) -> None:
        """Ask for the size to be measured again."""
        if self._versions is not None:
            self.measure_pressed.emit(self._versions)

    @Slot()
    def _keep(self) -> None:
        row = self.list.currentIndex().row()
        if self._versions is None or row < 0:
            self._say(self.tr("Choose the version that is right with Up and Down first."))
        elif not self.reason.text().strip():
            self._say(self.tr("Say why it is right: the reason goes into the record."))
        elif any(not one.observation_ids for place, one in enumerate(self._versions.rows) if place != row):
            self._say(self.tr("The other one stands in the catalog's own row of a port; it cannot be set aside here."))
        else:
            self.settled.emit(self._versions, row, self.reason.text().strip())

    def _say(self, sentence: str) -> None:
        self._trouble.setText(sentence)
        self._trouble.setVisible(bool(sentence))
