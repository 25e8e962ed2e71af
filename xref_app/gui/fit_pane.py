"""The right pane, 'Does it fit': verdict, dangers, checks, what you need, why, and the face drawing."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHeaderView,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from xref_app.core.fit.finding import Finding, Judgement, Outcome, Verdict
from xref_app.core.sentence import Sentence
from xref_app.gui.drawings import Drawings
from xref_app.gui.face_panel import FacePanel
from xref_app.gui.face_view import Zoom
from xref_app.gui.findings_model import FindingDelegate, FindingsColumn, FindingsModel, is_told_in_words
from xref_app.gui.labels import danger_label, quiet_label
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.mark_meanings import MarkMeanings
from xref_app.gui.messages import say
from xref_app.gui.needs_model import NeedsModel
from xref_app.gui.needs_view import NeedsView
from xref_app.gui.remarks_view import RemarksView
from xref_app.gui.rows import DOMAIN_ROLE, QuietTableView, named
from xref_app.gui.theme import Look
from xref_app.gui.verdict_header import VerdictHeader
from xref_app.gui.why_view import WhyView
from xref_app.services.answers import Candidate

_LEAST_WIDTH_PX, _SIDE_BY_SIDE_PX = 540, 620
_ROW_PX, _LEAST_ROWS, _MOST_ROWS, _LEAST_WHY_PX = 30, 3, 6, 96


class FitPane(QFrame):
    """Shows one judged pump. Verdict, danger and what happened before stand above whatever scrolls."""

    zoomed = Signal(int)
    reserve_pressed = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fit_pane_frame", self.tr("Does it fit"))
        self.setProperty("pane", "true")
        self._look = look
        self._candidate: Candidate | None = None
        self._dangers: list[QLabel] = []
        self._findings = FindingsModel(self)
        self._needs = NeedsModel(self)
        self.header = VerdictHeader(look, self)
        self._danger_box = QVBoxLayout()
        self.remarks = RemarksView(self)
        self._table = self._build_table(look)
        self.needs_view = NeedsView(self._needs, look, self)
        self._reserve = named(
            QPushButton(self.tr("Reserve these for a job  Ctrl+R"), self),
            "fit_reserve_button",
            self.tr("Reserve these"),
        )
        self._reserve.setProperty("small", "true")
        self._reserve.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self._reserve.clicked.connect(self.reserve_pressed)
        self._nothing_needed = quiet_label(self, "fit_nothing_needed_label", self.tr("Nothing else is needed."))
        self._nothing_needed.setContentsMargins(8, 0, 0, 0)
        self.why = WhyView(self)
        self.face = FacePanel(look, self)
        self._meanings = MarkMeanings(look, self)
        self._cautions = named(QPushButton(self), "fit_cautions_button", self.tr("Before you start"))
        self._cautions.setProperty("small", "true")
        self._cautions.clicked.connect(self.show_cautions)
        self.face.zoomed.connect(self._give_room)
        self._lay_out()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_candidate(None)

    def _build_table(self, look: Look) -> QTableView:
        table = named(QuietTableView(self), "fit_checks_table", self.tr("Checks"))
        table.setModel(self._findings)
        table.setItemDelegate(FindingDelegate(look, table))
        header = table.horizontalHeader()
        named(header, "fit_checks_header", self.tr("Columns of the checks"))
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(FindingsColumn.CHECK, QHeaderView.ResizeMode.ResizeToContents)
        table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        table.selectionModel().currentChanged.connect(self._show_why)
        return table

    def _lay_out(self) -> None:
        self._left = QWidget(self)
        self._reasons = QVBoxLayout(self._left)
        self._reasons.setContentsMargins(0, 0, 0, 0)
        self._reasons.setSpacing(4)
        for above in (self.needs_view, self._reserve, self._nothing_needed):
            self._reasons.addWidget(above)
        self._reasons.addWidget(self.why, 1)
        self._reasons.addWidget(self._cautions, 0, Qt.AlignmentFlag.AlignLeft)
        self._lower = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._lower.setSpacing(10)
        self._lower.addWidget(self._left, 5)
        self._lower.addWidget(self.face, 4)
        self._content = QWidget(self)
        content = QVBoxLayout(self._content)
        content.setContentsMargins(0, 0, 4, 0)
        content.setSpacing(8)
        content.addWidget(self._table, 3)
        content.addLayout(self._lower, 5)
        self._scroll = named(QScrollArea(self), "fit_scroll_area", self.tr("Does it fit, details"))
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidget(self._content)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 6, 8)
        layout.setSpacing(6)
        layout.addWidget(self.header)
        layout.addLayout(self._danger_box)
        layout.addWidget(self.remarks)
        layout.addWidget(self._meanings, 1)
        layout.addWidget(self._scroll, 1)

    @property
    def table(self) -> QTableView:
        """Return the table of checks."""
        return self._table

    @property
    def wanted_width(self) -> int:
        """Return the least width in which no word is cut, px."""
        return self._look.px(_LEAST_WIDTH_PX)

    def show_candidate(self, candidate: Candidate | None, waiting: str = "") -> None:
        """Show the judgement on ``candidate``; with None clear the pane and say ``waiting``."""
        self._candidate = candidate
        judgement = None if candidate is None else candidate.judgement
        self.header.show_candidate(candidate, waiting)
        self._show_dangers(() if judgement is None else judgement.danger)
        self.remarks.show_remarks(() if candidate is None else candidate.remarks)
        self._findings.show_findings(() if judgement is None else judgement.findings)
        self._show_needs(judgement)
        self._nothing_needed.setVisible(judgement is not None and judgement.verdict is Verdict.FITS)
        self._scroll.setVisible(judgement is not None)
        self._meanings.setVisible(judgement is None)
        self.face.show_drawings(None)
        count = 0 if judgement is None else len(judgement.cautions)
        self._cautions.setText(self.tr("Before you start: {count} cautions").format(count=count))
        self._cautions.setVisible(count > 0)
        self._span_reasons()
        self._resize_to_text()
        if self._findings.findings:
            self._table.setCurrentIndex(self._findings.index(0, 0))
            self._table.scrollToTop()
        else:
            self.why.show_finding(None)
        self._scroll_to_top()

    def _show_needs(self, judgement: Judgement | None) -> None:
        """Show what has to be bought; of a pump that does not fit only below the reason, and named accordingly."""
        needs = () if judgement is None else judgement.needs
        is_ruled_out = judgement is not None and judgement.verdict is Verdict.DOES_NOT_FIT
        self._needs.show_needs(needs, is_ruled_out=is_ruled_out)
        first, second = (self.why, self.needs_view) if is_ruled_out else (self.needs_view, self.why)
        self._reasons.removeWidget(self.needs_view)
        self._reasons.insertWidget(self._reasons.indexOf(self.why) + (1 if is_ruled_out else 0), self.needs_view)
        self._reasons.removeWidget(self._reserve)
        self._reasons.insertWidget(self._reasons.indexOf(self.needs_view) + 1, self._reserve)
        self.needs_view.setVisible(bool(needs))
        self._reserve.setVisible(bool(needs) and not is_ruled_out)
        QWidget.setTabOrder(self._table, first)
        QWidget.setTabOrder(first, self._reserve)
        QWidget.setTabOrder(self._reserve, second)
        QWidget.setTabOrder(second, self._cautions)

    def _scroll_to_top(self) -> None:
        """Begin at the top of what scrolls, whatever was looked at before."""
        self._scroll.verticalScrollBar().setValue(0)

    def _span_reasons(self) -> None:
        """Let the reason of a check without sizes run across the columns."""
        self._table.clearSpans()
        width = len(FindingsColumn) - FindingsColumn.NEEDED
        for row, finding in enumerate(self._findings.findings):
            if is_told_in_words(finding):
                self._table.setSpan(row, FindingsColumn.NEEDED, 1, width)

    def _show_dangers(self, dangers: tuple[Sentence, ...]) -> None:
        for label in self._dangers:
            self._danger_box.removeWidget(label)
            label.hide()
            label.deleteLater()
        self._dangers = []
        for place, danger in enumerate(dangers):
            label = danger_label(self, f"fit_danger_{place}_label", danger_text(danger))
            label.setAccessibleName(label.text())
            self._danger_box.addWidget(label)
            self._dangers.append(label)

    @Slot(object)
    def show_drawings(self, drawings: Drawings) -> None:
        """Show the drawings of the pump that is looked at."""
        number = "" if self._candidate is None else self._candidate.number
        self.face.show_drawings(drawings, number)

    def show_first(self, first: LengthFirst) -> None:
        """Show lengths in this unit."""
        self._findings.show_first(first)
        self._needs.show_first(first)
        self.face.view.show_first(first)
        self._table.resizeRowsToContents()

    @Slot()
    def focus_why(self) -> None:
        """Bring the reason of the selected check into view, with the focus."""
        if self.face.view.zoom is Zoom.BIGGER:
            self.face.set_zoom(Zoom.FIT)
        self._show_why(self._table.currentIndex())
        self.why.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._scroll.ensureWidgetVisible(self.why)

    @Slot()
    def show_cautions(self) -> None:
        """Show what to mind before touching the machine, where the reasons stand."""
        if self._candidate is not None:
            self.why.show_cautions(self._candidate.judgement.cautions)

    @Slot(QModelIndex)
    def _show_why(self, current: QModelIndex) -> None:
        finding = current.data(DOMAIN_ROLE)
        self.why.show_finding(finding if isinstance(finding, Finding) else None)

    @Slot(int)
    def _give_room(self, zoom: int) -> None:
        """Let the drawing have the place of checks, needs and reasons while it is 'bigger'."""
        is_bigger = Zoom(zoom) is Zoom.BIGGER
        self._table.setVisible(not is_bigger)
        self._left.setVisible(not is_bigger)
        if is_bigger:
            self._scroll_to_top()
        self.zoomed.emit(zoom)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the drawing below the reasons where both would be too narrow side by side."""
        super().resizeEvent(event)
        is_narrow = self.width() < self._look.px(_SIDE_BY_SIDE_PX)
        flow = QBoxLayout.Direction.TopToBottom if is_narrow else QBoxLayout.Direction.LeftToRight
        self._lower.setDirection(flow)

    @Slot()
    def _resize_to_text(self) -> None:
        """Keep at least the rows that stand in the way, and one more, in sight."""
        open_rows = sum(finding.outcome is not Outcome.PASS for finding in self._findings.findings)
        rows = max(_LEAST_ROWS, min(open_rows + 1, _MOST_ROWS)) + 1
        self._table.setMinimumHeight(self._look.px(_ROW_PX * rows))
        self.why.setMinimumHeight(self._look.px(_LEAST_WHY_PX))
        self.setMinimumWidth(self.wanted_width)
        self._table.resizeRowsToContents()


def danger_text(danger: Sentence) -> str:
    """Return a line of danger, which always begins with that word."""
    said = say(danger)
    return said if said.startswith("Danger:") else f"Danger: {said}"
