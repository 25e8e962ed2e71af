"""The entry bar: it takes keys from the first paint on; the hits drop from it once there is something to ask."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal, Slot
from PySide6.QtGui import QFont, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from xref_app.gui.entry_line import EntryLine
from xref_app.gui.rows import named
from xref_app.gui.theme import Look

if TYPE_CHECKING:  # named only: the first paint must not load what hits are made of
    from xref_app.gui.hits_drop import HitsDrop
    from xref_app.services.answers import Hit

# A search starts when no key was pressed for this long, ms (house rule: below what is felt as waiting).
_PAUSE_MS = 90
_ENTRY_POINTS = 16.0
_LONGEST_TEXT = 200


class EntryBar(QWidget):
    """Enter takes the highlighted hit, or the text as typed where none is highlighted; it never guesses.

    Where the text leaves several hits, Enter says how to choose, in a line that stands above them until more is typed.
    """

    asked = Signal(str)
    text_taken = Signal(str)
    hit_taken = Signal(object)
    went_down = Signal()
    unit_pressed = Signal()

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = look
        self._drop: HitsDrop | None = None
        self.line = named(EntryLine(self), "entry_text_line", self.tr("Number or machine"))
        self.line.setPlaceholderText(self.tr("Number on the plate, or model of the machine"))
        self.line.setMaxLength(_LONGEST_TEXT)
        self.line.setClearButtonEnabled(False)
        self._label = QLabel(self.tr("Number or machine"), self)
        self._label.setObjectName("entry_text_label")
        self._label.setBuddy(self.line)
        self.unit = named(QPushButton(self), "entry_unit_button", self.tr("Unit of length shown first"))
        self.unit.setToolTip(self.tr("Unit of length shown first (Ctrl+U)"))
        self._is_entered = False
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

    def _connect(self) -> None:
        self.line.textEdited.connect(self._start_pause)
        self.line.stepped.connect(self._step)
        self.line.entered.connect(self._take)
        self.line.left.connect(self.hide_hits)
        self.unit.clicked.connect(self.unit_pressed)
        self._pause.timeout.connect(self._ask)
        self._look.changed.connect(self._resize_to_text)

    def drop_with(self, drop: HitsDrop) -> None:
        """Let the hits drop from here; before this, nothing drops."""
        self._drop = drop
        drop.clicked.connect(self._take_hit)
        drop.place()

    def show_hits(self, hits: tuple[Hit, ...], total: int = 0) -> None:
        """Drop the hits below the line, none highlighted; ``total`` is how many there are where not all are shown."""
        if self._drop is not None:
            self._drop.show(hits, total, is_entered=self._is_entered)
        self._is_entered = False

    @Slot()
    def hide_hits(self) -> None:
        """Fold the hits away."""
        if self._drop is not None:
            self._drop.fold()

    @property
    def is_dropped(self) -> bool:
        """Say whether the hits are shown."""
        return self._drop is not None and self._drop.is_dropped

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
        if self._drop is not None and self._drop.is_dropped:
            self._drop.step(step)
        elif step > 0:
            self.went_down.emit()

    @Slot()
    def _take(self) -> None:
        self._pause.stop()
        hit = None if self._drop is None else self._drop.highlighted_or_none()
        if hit is not None:
            self._take_hit(hit)
        else:
            self._is_entered = True
            self.text_taken.emit(self.line.text())

    @Slot(object)
    def _take_hit(self, hit: Hit) -> None:
        self.hide_hits()
        self.hit_taken.emit(hit)

    @Slot()
    def _resize_to_text(self) -> None:
        font = QFont(self.font())
        font.setPointSizeF(_ENTRY_POINTS * min(self._look.text_percent, 150) / 100)
        self.line.setFont(font)
        self.line.setMinimumHeight(self._look.px(36))
        self.unit.setMinimumWidth(self._look.px(84))
        self._place_hits()

    def _place_hits(self) -> None:
        if self._drop is not None:
            self._drop.place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the list under the line."""
        super().resizeEvent(event)
        self._place_hits()
