"""The three panes side by side, folded by need: the text size decides, not the size of the screen."""

from __future__ import annotations

from enum import IntEnum

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QButtonGroup, QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.candidates_pane import CandidatesPane
from xref_app.gui.facts_pane import FactsPane
from xref_app.gui.fit_pane import FitPane
from xref_app.gui.rows import named
from xref_app.gui.theme import Look

_GAP_PX = 8
_NO_LIMIT_PX = 16777215
_LEAST_HEIGHT_PX = 300


class Fold(IntEnum):
    """How the panes lie: three in a row, two with the facts as a strip above, or one at a time."""

    THREE = 0
    STRIP = 1
    SINGLE = 2


class PaneArea(QWidget):
    """Holds the panes; tells which of them is worked in."""

    folded = Signal(int)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.facts = FactsPane(look, self)
        self.candidates = CandidatesPane(look, self)
        self.fit = FitPane(look, self)
        self._fold = Fold.THREE
        self._shown = 1
        self._chooser = self._build_chooser()
        self._strip = QVBoxLayout()
        self._row = QHBoxLayout()
        self._row.setSpacing(_GAP_PX)
        self._row.addWidget(self.facts)
        self._row.addWidget(self.candidates)
        self._row.addWidget(self.fit, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(_GAP_PX)
        layout.addWidget(self._chooser)
        layout.addLayout(self._strip)
        layout.addLayout(self._row, 1)
        look.changed.connect(self.refold)
        self._apply()

    def _build_chooser(self) -> QWidget:
        chooser = named(QWidget(self), "panes_chooser_row", self.tr("Panes"))
        self._buttons = QButtonGroup(self)
        layout = QHBoxLayout(chooser)
        layout.setContentsMargins(0, 0, 0, 0)
        for number, (kind, text) in enumerate(
            (
                ("facts", self.tr("Pump coming off")),
                ("candidates", self.tr("Could go on")),
                ("fit", self.tr("Does it fit")),
            )
        ):
            button = named(
                QPushButton(text, chooser), f"panes_{kind}_button", self.tr("Show: {pane}").format(pane=text)
            )
            button.setCheckable(True)
            button.setToolTip(self.tr("Next pane: F6"))
            self._buttons.addButton(button, number)
            layout.addWidget(button, 1)
        self._buttons.idClicked.connect(self.focus_pane)
        chooser.hide()
        return chooser

    @property
    def fold(self) -> Fold:
        """Return how the panes lie."""
        return self._fold

    @property
    def panes(self) -> tuple[QFrame, ...]:
        """Return the panes from left to right."""
        return (self.facts, self.candidates, self.fit)

    def _views(self) -> tuple[QAbstractItemView, ...]:
        return (self.facts.view, self.candidates.view, self.fit.table)

    def pane_with_focus_or_none(self) -> int | None:
        """Return which pane holds the focus, from 0; None while it is elsewhere."""
        focus = self.window().focusWidget()
        if focus is None:
            return None
        return next((number for number, pane in enumerate(self.panes) if pane.isAncestorOf(focus)), None)

    @Slot(int)
    def focus_pane(self, number: int) -> None:
        """Show pane ``number`` (from 0) and put the focus into it."""
        self.show_pane(number)
        self._views()[number].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_pane(self, number: int) -> None:
        """Show pane ``number`` where only one has room."""
        self._shown = number
        if self._fold is Fold.SINGLE:
            self._apply()

    def minimumSizeHint(self) -> QSize:
        """Return the room for the widest pane alone: folding must be able to happen before the window resists."""
        widest = max(self.facts.wanted_width, self.candidates.wanted_width)
        return QSize(widest, _LEAST_HEIGHT_PX)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold."""
        super().resizeEvent(event)
        self.refold()

    @Slot()
    def refold(self) -> None:
        """Choose how the panes lie for the width there is."""
        wanted = self._wanted_fold()
        if wanted is not self._fold:
            self._fold = wanted
            self._apply()
            self.folded.emit(int(wanted))
        else:
            self._limit_widths()

    def _wanted_fold(self) -> Fold:
        widths = [self.facts.wanted_width, self.candidates.wanted_width, self.fit.wanted_width]
        if sum(widths) + 2 * _GAP_PX <= self.width():
            return Fold.THREE
        return Fold.STRIP if sum(widths[1:]) + _GAP_PX <= self.width() else Fold.SINGLE

    def _apply(self) -> None:
        is_strip, is_single = self._fold is Fold.STRIP, self._fold is Fold.SINGLE
        self._row.removeWidget(self.facts)
        self._strip.removeWidget(self.facts)
        if is_strip:
            self._strip.addWidget(self.facts)
        else:
            self._row.insertWidget(0, self.facts)
        self.facts.set_folded(is_folded=is_strip, is_alone=is_single)
        self.candidates.set_alone(is_alone=is_single)
        self._chooser.setVisible(is_single)
        for number, pane in enumerate(self.panes):
            pane.setVisible(not is_single or number == self._shown)
        button = self._buttons.button(self._shown)
        if button is not None:
            button.setChecked(True)
        self._limit_widths()

    def _limit_widths(self) -> None:
        is_single = self._fold is Fold.SINGLE
        stands = self._fold is Fold.THREE
        self.facts.setMaximumWidth(self.facts.wanted_width if stands else _NO_LIMIT_PX)
        self.candidates.setMaximumWidth(_NO_LIMIT_PX if is_single else self.candidates.wanted_width)
