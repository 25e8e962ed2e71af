"""The entry line and the hits that drop below it while one types."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPoint, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QFocusEvent, QFont, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from xref_app.gui.hits_model import HitDelegate, HitsModel
from xref_app.gui.labels import heading_label
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.theme import Look
from xref_app.services.answers import Hit

# A search starts when no key was pressed for this long, ms (house rule: below what is felt as waiting).
_PAUSE_MS = 90
_ENTRY_POINTS = 16.0
_MOST_ROWS, _LONGEST_TEXT = 8, 200


class EntryLine(QLineEdit):
    """A line of text that leaves the arrow keys to the list below it."""

    stepped = Signal(int)
    entered = Signal()
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand Up, Down and Enter on; everything else edits."""
        match event.key():
            case Qt.Key.Key_Down:
                self.stepped.emit(1)
            case Qt.Key.Key_Up:
                self.stepped.emit(-1)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self.entered.emit()
            case _:
                super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select all, so that the next number replaces the last."""
        super().focusInEvent(event)
        if event.reason() is not Qt.FocusReason.MouseFocusReason:
            self.selectAll()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Tell that the list below is not wanted any more."""
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.ActiveWindowFocusReason:
            self.left.emit()


class EntryBar(QWidget):
    """Enter takes the highlighted hit, or the text as typed where none is highlighted; it never guesses.

    Where the text leaves several hits, Enter says how to choose, in a line that stands above them until more is typed.
    The hits drop below ``above_hits``, the line that says how the text was understood.
    """

    asked = Signal(str)
    text_taken = Signal(str)
    hit_taken = Signal(object)
    went_down = Signal()
    unit_pressed = Signal()

    def __init__(self, look: Look, parent: QWidget, above_hits: QWidget) -> None:
        super().__init__(parent)
        self._look = look
        self._above_hits = above_hits
        self._hits = HitsModel(self)
        self.line = named(EntryLine(self), "entry_text_line", self.tr("Number or machine"))
        self.line.setPlaceholderText(self.tr("Number on the plate, or model of the machine"))
        self.line.setMaxLength(_LONGEST_TEXT)
        self.line.setClearButtonEnabled(False)
        self._label = QLabel(self.tr("Number or machine"), self)
        self._label.setObjectName("entry_text_label")
        self._label.setBuddy(self.line)
        self.unit = named(QPushButton(self), "entry_unit_button", self.tr("Unit of length shown first"))
        self.unit.setToolTip(self.tr("Unit of length shown first (Ctrl+U)"))
        self.list = self._build_list(look, parent)
        self._is_entered = False
        self.choose = self._build_choose(parent)
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(10)
        layout.addWidget(self._label)
        layout.addWidget(self.line, 1)
        layout.addWidget(self.unit)
        self._connect()
        self._resize_to_text()

    def _build_list(self, look: Look, parent: QWidget) -> QuietListView:
        view = named(QuietListView(parent), "entry_hits_list", self.tr("What the text could mean"))
        view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        view.setModel(self._hits)
        view.setItemDelegate(HitDelegate(self._hits, look, view))
        view.hide()
        return view

    def _build_choose(self, parent: QWidget) -> QLabel:
        label = heading_label(parent, "entry_choose_label", "")
        label.setAutoFillBackground(True)
        label.setContentsMargins(10, 4, 8, 4)
        label.hide()
        return label

    def _connect(self) -> None:
        self.line.textEdited.connect(self._start_pause)
        self.line.stepped.connect(self._step)
        self.line.entered.connect(self._take)
        self.line.left.connect(self.hide_hits)
        self.list.clicked.connect(self._take_index)
        self.unit.clicked.connect(self.unit_pressed)
        self._pause.timeout.connect(self._ask)
        self._look.changed.connect(self._resize_to_text)

    def show_hits(self, hits: tuple[Hit, ...], total: int = 0) -> None:
        """Drop the hits below the line, none highlighted; ``total`` is how many there are where not all are shown."""
        self._hits.show_rows(hits)
        self.list.setCurrentIndex(QModelIndex())
        is_dropped = bool(hits) and self.line.hasFocus()
        self.list.setVisible(is_dropped)
        self._show_choose(max(total, len(hits)) if is_dropped and self._is_entered else 0)
        self._is_entered = False
        self._place_list()

    def _show_choose(self, count: int) -> None:
        """Say how to choose among ``count`` entries; with 0 say nothing."""
        text = (
            self.tr("1 entry matches; choose it with Down and Enter.")
            if count == 1
            else self.tr("{count} entries match; choose with Down and Enter.").format(count=count)
        )
        self.choose.setText(text if count else "")
        self.choose.setVisible(count > 0)
        self.line.setAccessibleDescription(self.choose.text())

    @Slot()
    def hide_hits(self) -> None:
        """Fold the hits away."""
        self.list.hide()
        self._show_choose(0)

    @property
    def is_dropped(self) -> bool:
        """Say whether the hits are shown."""
        return self.list.isVisible()

    def show_taken(self, text: str) -> None:
        """Put the taken number into the line, ready to be replaced by the next."""
        self._pause.stop()
        self.hide_hits()
        self.line.setText(text)
        self.line.selectAll()

    @Slot(str)
    def take_scan(self, code: str) -> None:
        """Take what a scanner read, wherever the focus is."""
        self._pause.stop()
        self.hide_hits()
        self.line.setText(code)
        self.text_taken.emit(code)

    def clear(self) -> None:
        """Empty the line."""
        self.show_taken("")

    @Slot()
    def _start_pause(self) -> None:
        self._is_entered = False
        self._pause.start()

    @Slot()
    def _ask(self) -> None:
        self.asked.emit(self.line.text())

    @Slot(int)
    def _step(self, step: int) -> None:
        if not self.is_dropped:
            if step > 0:
                self.went_down.emit()
            return
        row = self.list.currentIndex().row() + step
        in_list = 0 <= row < self._hits.rowCount()
        if in_list or row < 0:
            self.list.setCurrentIndex(self._hits.index(row) if in_list else QModelIndex())

    @Slot()
    def _take(self) -> None:
        self._pause.stop()
        index = self.list.currentIndex()
        if self.is_dropped and index.isValid():
            self._take_index(index)
        else:
            self._is_entered = True
            self.text_taken.emit(self.line.text())

    @Slot(QModelIndex)
    def _take_index(self, index: QModelIndex) -> None:
        hit = index.data(DOMAIN_ROLE)
        if isinstance(hit, Hit):
            self.hide_hits()
            self.hit_taken.emit(hit)

    @Slot()
    def _resize_to_text(self) -> None:
        font = QFont(self.font())
        font.setPointSizeF(_ENTRY_POINTS * min(self._look.text_percent, 150) / 100)
        self.line.setFont(font)
        self.line.setMinimumHeight(self._look.px(36))
        self.unit.setMinimumWidth(self._look.px(84))
        self._place_list()

    def _place_list(self) -> None:
        rows = min(self._hits.rowCount(), _MOST_ROWS)
        height = sum(self.list.sizeHintForRow(row) for row in range(rows)) + 2 * self.list.frameWidth() + 2
        page = self.list.parentWidget()
        if page is None:
            return
        below = self.line.mapTo(page, QPoint(0, self.line.height() + 2))
        top = max(below.y(), self._above_hits.geometry().bottom() + 3)
        if self.choose.isVisibleTo(page):
            room = self.choose.heightForWidth(self.line.width())
            self.choose.setGeometry(below.x(), top, self.line.width(), room)
            self.choose.raise_()
            top += room
        self.list.setGeometry(below.x(), top, self.line.width(), height)
        self.list.raise_()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the list under the line."""
        super().resizeEvent(event)
        self._place_list()
