"""The four marks and what they mean, shown where no pump is looked at yet."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Slot
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from xref_app.core.fit.finding import Verdict
from xref_app.core.sentence import Sentence, marked
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.marks import MARK_OF_VERDICT, Mark, paint_mark
from xref_app.gui.messages import say, verdict_word
from xref_app.gui.rows import named
from xref_app.gui.theme import Look

# Fixed words, ux.md 2.2.
MEANINGS = {
    Verdict.FITS: marked("findings", "every check passes with its doubt included"),
    Verdict.FITS_WITH_PARTS: marked("findings", "passes once the listed parts are fitted"),
    Verdict.NOT_KNOWN_YET: marked("findings", "at least one check cannot be decided; none fails"),
    Verdict.DOES_NOT_FIT: marked("findings", "at least one check fails for every value inside the doubt"),
}
_MARK_PX = 28


class _MarkIcon(QWidget):
    """One mark by itself."""

    def __init__(self, mark: Mark, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._mark = mark
        self._look = look

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(_MARK_PX), self._look.px(_MARK_PX))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        # Where the pane is low the mark is smaller, never cut.
        side = min(self._look.px(_MARK_PX), self.height())
        painter = QPainter(self)
        paint_mark(painter, QRectF(0, (self.height() - side) / 2, side, side), self._mark, self._look.colours)
        painter.end()


class MarkMeanings(QWidget):
    """A legend of four lines."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fit_meanings_page", self.tr("What the four marks mean"))
        layout = QGridLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        layout.setHorizontalSpacing(14)
        layout.setVerticalSpacing(12)
        layout.setColumnStretch(2, 1)
        self._icons = []
        for row, (verdict, meaning) in enumerate(MEANINGS.items()):
            icon = _MarkIcon(MARK_OF_VERDICT[verdict], look, self)
            self._icons.append(icon)
            word = heading_label(self, f"fit_meaning_{row}_word_label", verdict_word(verdict))
            word.setWordWrap(False)
            layout.addWidget(icon, row, 0)
            layout.addWidget(word, row, 1)
            layout.addWidget(quiet_label(self, f"fit_meaning_{row}_label", say(Sentence(meaning))), row, 2)
        layout.setAlignment(Qt.AlignmentFlag.AlignTop)
        look.changed.connect(self._resize_to_text)

    @Slot()
    def _resize_to_text(self) -> None:
        for icon in self._icons:
            icon.updateGeometry()
            icon.update()
