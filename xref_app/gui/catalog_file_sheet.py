"""The sheet "Catalog file": what a supplier's file would do as a list, and beside it the file and the chosen line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QPushButton, QWidget

from xref_app.gui.catalog_file_details import CatalogFileDetails
from xref_app.gui.catalog_file_list import FileLinesModel, FileLinesView, KindFilter
from xref_app.gui.catalog_file_words import (
    EMPTY,
    EMPTY_TITLE,
    about_text,
    state_text,
    title_text,
    told,
)
from xref_app.gui.folding_sheet import FoldingSheet
from xref_app.gui.labels import heading_label, quiet_label, warning_label
from xref_app.gui.rows import DOMAIN_ROLE, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.catalog_file_lines import FileLine
from xref_app.services.catalog_files import LookedAt

# House rules: a line and a half is always seen; where the sheet is lower, the file is told of beside the list.
_LIST_PX, _ABOUT_FROM_PX = 66, 500


class CatalogFileSheet(FoldingSheet):
    """Shows a file and holds nothing but the chosen line; every act is done by the part that owns it.

    Where both sides have no room beside each other, the one in work is shown alone.
    """

    job_chosen = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "catalog_file_page", self.tr("Catalog file"))
        self._lines: tuple[FileLine, ...] = ()
        self._model = FileLinesModel(self)
        self._title = heading_label(self, "catalog_title_label", "")
        self._about = quiet_label(self, "catalog_about_label")
        self._more = ""
        self._state = warning_label(self, "catalog_state_label")
        self.filter = KindFilter(self)
        self.list = named(FileLinesView(look, self._model, self), "catalog_lines_table", self.tr("What the file does"))
        self.on_button = named(
            QPushButton(self.tr("On to the chosen line and the acts  F6"), self),
            "catalog_on_button",
            self.tr("On to the chosen line"),
        )
        self.on_button.setProperty("small", "true")
        self._shows_details = False
        self.details = CatalogFileDetails(look, self)
        self._lay_out()
        self.filter.chosen.connect(self._refilter)
        self.list.selectionModel().currentChanged.connect(self._show_current)
        self.list.activated.connect(self.job_chosen)
        self.on_button.clicked.connect(self._go_on)
        self.details.back_button.clicked.connect(self.focus_first)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_nothing(told(EMPTY))

    def _lay_out(self) -> None:
        pane = self._left = QFrame(self)
        pane.setObjectName("catalog_lines_frame")
        pane.setProperty("pane", "true")
        above, below = column_above_column(pane, "catalog_lines_area")
        for widget in (self._title, self._about, self._state, self.filter):
            above.addWidget(widget)
        above.addWidget(self.list, 1)
        below.addWidget(self.on_button)
        self.on_button.hide()
        self.details.back_button.hide()
        self._put_side_by_side(pane, self.details)

    # -- what is shown

    @property
    def line(self) -> FileLine | None:
        """Return the chosen line."""
        found = self.list.currentIndex().data(DOMAIN_ROLE)
        return found if isinstance(found, FileLine) else None

    @property
    def shown(self) -> tuple[FileLine, ...]:
        """Return the lines that the filter lets through."""
        return self._model.rows

    @property
    def title(self) -> str:
        """Return the heading."""
        return self._title.text()

    @property
    def state(self) -> str:
        """Return the sentence above the list; empty where there is none."""
        return self._state.text()

    @property
    def about(self) -> str:
        """Return what is told of the file as a whole."""
        return self._more

    def show_nothing(self, state: str, more: str = "", *, can_trust: bool = True) -> None:
        """Show no file, and why in one sentence; ``more`` is beside the point, ``can_trust`` offers to trust one."""
        self._title.setText(told(EMPTY_TITLE))
        self._show_lines(())
        self.say_state(state)
        self._say_about("")
        self.details.view.show_more(more)
        self._offer(take=False, although=False, trust=can_trust)

    def show_file(self, looked: LookedAt) -> None:
        """Show a good file, and what it would do."""
        self._title.setText(title_text(looked))
        self._show_lines(looked.lines)
        self.say_state(state_text(looked))
        self._say_about(about_text(looked))
        can_take = not looked.too_old and not looked.is_known
        self._offer(take=can_take, although=bool(looked.too_old), trust=False)

    def show_taken(self, state: str) -> None:
        """Say what became of the file; it cannot be taken again."""
        self.say_state(state)
        self._offer(take=False, although=False, trust=False)

    def say_state(self, words: str) -> None:
        """Say one sentence above the list; empty takes it away."""
        self._state.setText(words)
        self._state.setVisible(bool(words))

    def _say_about(self, words: str) -> None:
        """Tell of the file above the list; where that has no room, below the chosen line."""
        self._more = words
        self._about.setText(words)
        self._place_about()

    def _place_about(self) -> None:
        is_high = not self._is_narrow and self.height() >= self._look.px(_ABOUT_FROM_PX)
        self._about.setVisible(bool(self._more) and is_high)
        if self._more:
            self.details.view.show_more("" if is_high else self._more)

    def _offer(self, *, take: bool, although: bool, trust: bool) -> None:
        self.details.take_button.setEnabled(take)
        self.details.although_button.setVisible(although)
        self.details.trust_button.setVisible(trust)

    def _show_lines(self, lines: tuple[FileLine, ...]) -> None:
        self._lines = lines
        self.filter.show_counts(lines)
        self.filter.setVisible(bool(lines))
        self._refilter()

    @Slot()
    def _refilter(self) -> None:
        self._show_rows(self.filter.filtered(self._lines))

    def _show_rows(self, rows: Sequence[FileLine]) -> None:
        self._model.show_rows(rows)
        self.list.setCurrentIndex(self._model.index(0 if rows else -1))
        if not rows:
            self.details.show_line(None)

    @Slot(QModelIndex, QModelIndex)
    def _show_current(self, _current: QModelIndex, _previous: QModelIndex) -> None:
        self.details.show_line(self.line)

    # -- going about

    def step_pane(self, step: int) -> None:
        """Go round the list, the chosen line in full and the acts."""
        stops: tuple[QWidget, ...] = (self.list, self.details.view, *self.details.acts[:1])
        focus = self.window().focusWidget()
        # From a button one goes on as from what stands on its side.
        here = stops.index(focus) if focus in stops else int(self.details.isAncestorOf(focus))
        self._go_to(stops[(here + step) % len(stops)])

    @Slot()
    def focus_first(self) -> None:
        """Put the keys into the list; without one where a file is chosen or a supplier trusted."""
        if self.shown or not self.details.acts:
            self._go_to(self.list)
        elif self._is_narrow:
            self._go_to(self.on_button)
        else:
            self._go_to(self.details.acts[0])

    @Slot()
    def _go_on(self) -> None:
        self._go_to(self.details.view if self.shown else next(iter(self.details.acts), self.details.view))

    def _go_to(self, place: QWidget) -> None:
        self._shows_details = self.details.isAncestorOf(place)
        self._fold()
        place.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold, and tell of the file where there is room for it."""
        super().resizeEvent(event)
        self._place_about()

    def _fold(self) -> None:
        is_narrow = self._is_narrow
        self.on_button.setVisible(is_narrow)
        self.details.set_folded(is_folded=is_narrow)
        self._left.setVisible(not (is_narrow and self._shows_details))
        self.details.setVisible(not is_narrow or self._shows_details)

    @Slot()
    def _resize_to_text(self) -> None:
        self.filter.fit()
        self.list.setMinimumHeight(self._look.px(_LIST_PX))
        self.list.fit_to_text()
        self._fold()
        self._place_about()
