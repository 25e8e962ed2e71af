"""The hits that drop below the entry line while one types, and how to choose among them."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QObject, QPoint, Qt, Signal, Slot
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from xref_app.gui.hits_model import HitDelegate, HitsModel
from xref_app.gui.labels import heading_label
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.theme import Look
from xref_app.services.answers import Hit

_MOST_ROWS = 8


class HitsDrop(QObject):
    """Where the text leaves several hits, a line above them says how to choose, once Enter was pressed.

    Lies on ``page``, below ``line`` and below ``above``, the words that say how the text was understood.
    """

    clicked = Signal(object)

    def __init__(self, look: Look, line: QLineEdit, page: QWidget, above: QWidget) -> None:
        super().__init__(page)
        self._line = line
        self._page = page
        self._above = above
        self._hits = HitsModel(self)
        self.list = self._build_list(look, page)
        self.choose = _built_choose(page)
        self.list.clicked.connect(self._click)

    def _build_list(self, look: Look, page: QWidget) -> QuietListView:
        view = named(QuietListView(page), "entry_hits_list", self.tr("What the text could mean"))
        view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        view.setModel(self._hits)
        view.setItemDelegate(HitDelegate(self._hits, look, view))
        view.hide()
        return view

    @property
    def is_dropped(self) -> bool:
        """Say whether the hits are shown."""
        return self.list.isVisible()

    def show(self, hits: tuple[Hit, ...], total: int, *, is_entered: bool) -> None:
        """Drop ``hits``, none highlighted, and say how to choose among ``total`` where the text was entered."""
        self._hits.show_rows(hits)
        self.list.setCurrentIndex(QModelIndex())
        is_dropped = bool(hits) and self._line.hasFocus()
        self.list.setVisible(is_dropped)
        self._show_choose(max(total, len(hits)) if is_dropped and is_entered else 0)
        self.place()

    def _show_choose(self, count: int) -> None:
        """Say how to choose among ``count`` entries; with 0 say nothing."""
        text = (
            self.tr("1 entry matches; choose it with Down and Enter.")
            if count == 1
            else self.tr("{count} entries match; choose with Down and Enter.").format(count=count)
        )
        self.choose.setText(text if count else "")
        self.choose.setVisible(count > 0)
        self._line.setAccessibleDescription(self.choose.text())

    def fold(self) -> None:
        """Fold the hits away."""
        self.list.hide()
        self._show_choose(0)

    def step(self, step: int) -> None:
        """Highlight the next hit, the one before where ``step`` is negative, or none above the first."""
        row = self.list.currentIndex().row() + step
        in_list = 0 <= row < self._hits.rowCount()
        if in_list or row < 0:
            self.list.setCurrentIndex(self._hits.index(row) if in_list else QModelIndex())

    def highlighted_or_none(self) -> Hit | None:
        """Return the hit that Enter would take; None where none is highlighted."""
        return _hit_at(self.list.currentIndex()) if self.is_dropped else None

    @Slot(QModelIndex)
    def _click(self, index: QModelIndex) -> None:
        hit = _hit_at(index)
        if hit is not None:
            self.clicked.emit(hit)

    def place(self) -> None:
        """Lie below the line, wherever it is now."""
        rows = min(self._hits.rowCount(), _MOST_ROWS)
        height = sum(self.list.sizeHintForRow(row) for row in range(rows)) + 2 * self.list.frameWidth() + 2
        below = self._line.mapTo(self._page, QPoint(0, self._line.height() + 2))
        top = max(below.y(), self._above.geometry().bottom() + 3)
        if self.choose.isVisibleTo(self._page):
            room = self.choose.heightForWidth(self._line.width())
            self.choose.setGeometry(below.x(), top, self._line.width(), room)
            self.choose.raise_()
            top += room
        self.list.setGeometry(below.x(), top, self._line.width(), height)
        self.list.raise_()


def _hit_at(index: QModelIndex) -> Hit | None:
    hit = index.data(DOMAIN_ROLE) if index.isValid() else None
    return hit if isinstance(hit, Hit) else None


def _built_choose(page: QWidget) -> QLabel:
    label = heading_label(page, "entry_choose_label", "")
    label.setAutoFillBackground(True)
    label.setContentsMargins(10, 4, 8, 4)
    label.hide()
    return label
