"""The fix-or-replace sheet: what comes out and a chart on top, the ways side by side below, the shop's own figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

from PySide6.QtCore import QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from xref_app.core.economics.lines import Way
from xref_app.core.economics.totals import Total
from xref_app.gui.fix_chart import Bar, BarLook, FixChart
from xref_app.gui.fix_column import FixColumn
from xref_app.gui.fix_line import FixLine
from xref_app.gui.fix_shop import FixShop
from xref_app.gui.fix_words import legend_text, result_lines, short_total_text
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.messages import say
from xref_app.gui.mind_first import mind_first_label
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.fix_or_replace import Entries, Worked
from xref_app.services.fix_plan import FixPlan

_COLUMN_PX, _SHOP_PX = 300, 150
_LEAST_WIDTH_PX, _LEAST_HEIGHT_PX = 320, 230
# Below this height what comes out scrolls along with the columns.
_STANDING_PX = 330
_MOST_COLUMNS = 4


class FixSheet(QWidget):
    """Tells what is typed; what it comes to is told from outside, at once."""

    typed = Signal(str, str)
    ticked = Signal(object)
    confirmed = Signal(object)
    other_asked = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fix_sheet_page", self.tr("Fix or replace"))
        self._look = look
        self._title = heading_label(self, "fix_title_label", self.tr("Fix or replace"))
        self._result = heading_label(self, "fix_result_label", "")
        self._further = plain_label(self, "fix_further_label")
        self._remarks = plain_label(self, "fix_remarks_label")
        self.chart = FixChart(look, self)
        self._legend = quiet_label(self, "fix_legend_label")
        self.columns = {way: FixColumn(look, way, self) for way in Way}
        self.shop = FixShop(look, self)
        self._mind_first = mind_first_label(self, "fix_cautions_label")
        self.leave_button = named(QPushButton(self.tr("Leave  Esc"), self), "fix_leave_button", self.tr("Leave"))
        self.leave_button.setProperty("small", "true")
        self._settling = QTimer(self)
        self._settling.setSingleShot(True)
        self._settling.timeout.connect(self._keep_in_sight)
        self._lay_out()
        for column in self.columns.values():
            column.changed.connect(self._tell_typed)
            column.entered.connect(self.go_to_next_open)
            column.ticked.connect(self.ticked)
            column.confirmed.connect(self.confirmed)
            column.other_asked.connect(self.other_asked)
        self.shop.entered.connect(self.go_to_next_open)
        look.changed.connect(self._fold)

    def _lay_out(self) -> None:
        top = self._top_frame = QFrame(self)
        top.setObjectName("fix_result_frame")
        top.setProperty("pane", "true")
        heading = QHBoxLayout()
        heading.addWidget(self._title, 1)
        heading.addWidget(self.leave_button)
        words = QVBoxLayout()
        words.setSpacing(3)
        words.addLayout(heading)
        for label in (self._result, self._further, self._remarks):
            words.addWidget(label)
        words.addStretch(1)
        pictured = QVBoxLayout()
        pictured.addWidget(self.chart)
        pictured.addWidget(self._legend)
        pictured.addWidget(self._mind_first)
        pictured.addStretch(1)
        self._top = QBoxLayout(QBoxLayout.Direction.LeftToRight, top)
        self._top.setContentsMargins(10, 7, 10, 7)
        self._top.setSpacing(16)
        self._top.addLayout(words, 1)
        self._top.addLayout(pictured, 1)
        whole = self._whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(8)
        whole.addWidget(top)
        whole.addWidget(self._scrolled(), 1)

    def _scrolled(self) -> QScrollArea:
        self._area = QScrollArea(self)
        self._area.setObjectName("fix_columns_area")
        self._area.setWidgetResizable(True)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        page = QWidget(self._area)
        page.setObjectName("fix_columns_page")
        self._grid = QGridLayout(page)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(8)
        self._area.setWidget(page)
        self._fold()
        # The words above a field may grow after it got the focus.
        self._area.verticalScrollBar().rangeChanged.connect(self._settle)
        return self._area

    # -- what is shown

    @property
    def result(self) -> str:
        """Return what comes out, in words."""
        return "\n".join(one.text() for one in (self._result, self._further) if one.text())

    @property
    def remarks(self) -> str:
        """Return what is said of the engine."""
        return self._remarks.text()

    def show_plan(self, plan: FixPlan, entries: Entries) -> None:
        """Show the blanks of a job with what was typed into them before."""
        title = self.tr("Fix or replace: {job}").format(job=plan.title) if plan.title else self.tr("Fix or replace")
        self._title.setText(title)
        for planned in plan.columns(entries.used_place):
            self.columns[planned.way].show_planned(planned)
        self.columns[Way.USED].other_button.setVisible(len(plan.used) > 1)
        for line in self._lines():
            typed = entries.typed.get(line.figure)
            line.put_text(line.suggested if typed is None else typed.text)
        self._order_tab()

    def show_worked(self, worked: Worked, entries: Entries, today: date) -> None:
        """Show what the figures come to."""
        sign = entries.shop.sign
        for way, column in self.columns.items():
            column.show_worked(worked, is_ticked=way.name in entries.ticked, sign=sign, today=today)
        first, *further = result_lines(worked, sign)
        self._result.setText(first)
        self._further.setText("\n".join(further))
        self._further.setVisible(bool(further))
        self._remarks.setText(" ".join(say(one) for one in worked.remarks))
        self.shop.show_faults(worked.faults)
        self._show_chart(worked, sign)
        self._settling.start()

    def _show_chart(self, worked: Worked, sign: str) -> None:
        found = worked.comparison
        names = {one.way: say(one.title) for one in worked.planned}
        bars = [_bar(one, names[one.way], sign, is_cheapest=one.way in found.cheapest) for one in found.totals]
        limit = _limit(worked)
        self.chart.show_bars(bars, limit)
        self._legend.setText(legend_text(bars, worked.rules.share_of_new, has_limit=limit is not None))
        self._legend.setVisible(bool(self._legend.text()))

    # -- going about

    def _lines(self) -> Iterator[FixLine]:
        for column in self.columns.values():
            yield from column.lines

    def _stops(self) -> list[QLineEdit]:
        return [*(line.field for line in self._lines()), self.shop.lines["rate"]]

    @Slot()
    def go_to_next_open(self) -> None:
        """Go to the next field in which nothing stands, round and round; where there is none, to the next field."""
        stops = self._stops()
        focus = self.window().focusWidget()
        here = stops.index(focus) if focus in stops else -1
        order = [*stops[here + 1 :], *stops[: here + 1]]
        target = next((one for one in order if not one.text().strip()), order[0])
        self._go_to(target)

    def go_to_first_open(self) -> None:
        """Go to the first field in which nothing stands."""
        stops = self._stops()
        target = next((one for one in stops if not one.text().strip()), stops[0])
        self._go_to(target)

    def go_on(self) -> None:
        """Go to whatever comes next: what has the focus is about to go."""
        self.focusNextChild()

    def step_pane(self, step: int) -> None:
        """Go round the columns and the shop's figures."""
        firsts = [column.lines[0].field for column in self.columns.values() if column.lines]
        firsts.append(self.shop.lines["rate"])
        frames: list[QWidget] = [*(column for column in self.columns.values() if column.lines), self.shop]
        focus: QWidget | None = self.window().focusWidget()
        here = next((place for place, one in enumerate(frames) if focus is not None and one.isAncestorOf(focus)), -1)
        self._go_to(firsts[(here + step) % len(firsts)])

    def _go_to(self, target: QLineEdit) -> None:
        target.setFocus(Qt.FocusReason.TabFocusReason)
        target.selectAll()
        self._settling.start()

    def _order_tab(self) -> None:
        order: list[QWidget] = []
        for column in self.columns.values():
            order += [*(line.field for line in column.lines), column.holds_button]
            order += [column.sound_button, column.other_button]
        order += [*self.shop.lines.values(), self.shop.compression_button, self.leave_button]
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    @Slot(str, str)
    def _tell_typed(self, figure: str, text: str) -> None:
        """Put what is typed into all fields of one figure, then tell of it."""
        for line in self._lines():
            if line.figure == figure:
                line.put_text(text)
        self.typed.emit(figure, text)

    # -- room

    def minimumSizeHint(self) -> QSize:
        """Return the least room: folding must be able to happen before the window resists."""
        return QSize(self._look.px(_LEAST_WIDTH_PX), _LEAST_HEIGHT_PX)

    def hasHeightForWidth(self) -> bool:
        """Say no: the words above scroll where they have no room, so they must not hold the window up."""
        return False

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold."""
        super().resizeEvent(event)
        self._fold()

    @Slot()
    def _fold(self) -> None:
        """Lay the columns side by side, as many as have room."""
        columns = max(1, min(_MOST_COLUMNS, self.width() // self._look.px(_COLUMN_PX)))
        columns = 2 if columns == 3 else columns
        for place, column in enumerate(self.columns.values()):
            self._grid.addWidget(column, 1 + place // columns, place % columns)
        for place in range(_MOST_COLUMNS):
            self._grid.setColumnStretch(place, 1 if place < columns else 0)
        is_low = self.height() < self._look.px(_STANDING_PX)
        flow = QBoxLayout.Direction.TopToBottom if is_low else QBoxLayout.Direction.LeftToRight
        self._top.setDirection(flow)
        if is_low:
            self._grid.addWidget(self._top_frame, 0, 0, 1, columns)
        elif self._whole.indexOf(self._top_frame) < 0:
            self._whole.insertWidget(0, self._top_frame)
        self._grid.addWidget(self.shop, 1 + _MOST_COLUMNS, 0, 1, columns)
        self.shop.fold(max(1, self.width() // self._look.px(_SHOP_PX)))
        self._settling.start()

    @Slot(int, int)
    def _settle(self, _least: int, _most: int) -> None:
        self._settling.start()

    @Slot()
    def _keep_in_sight(self) -> None:
        focus: QWidget | None = self.window().focusWidget()
        if focus is not None and self._area.isAncestorOf(focus):
            self._area.ensureWidgetVisible(focus)


def _bar(total: Total, name: str, sign: str, *, is_cheapest: bool) -> Bar:
    figures = short_total_text(total, sign)
    if total.total is None:
        return Bar(name, figures, BarLook.NONE)
    look = BarLook.SET_ASIDE if total.is_set_aside else BarLook.CHEAPEST if is_cheapest else BarLook.COMPARED
    return Bar(name, figures, look, float(total.total.low), float(total.total.high))


def _limit(worked: Worked) -> float | None:
    """Return two thirds, or the shop's share, of a new machine's price with tax, where it is one known price."""
    shares: Sequence[object] = worked.comparison.shares
    new = worked.comparison.total(Way.NEW)
    tax = worked.rules.tax_percent
    if not shares or new is None or tax is None:
        return None
    price = new.lines[0].money
    if price is None or not price.is_exact:
        return None
    return float(price.low * (1 + tax / 100)) * float(worked.rules.share_of_new)
