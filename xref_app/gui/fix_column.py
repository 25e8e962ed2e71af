"""One way as a column: its figures, tax, total, what is sure, and the share of a new machine's price."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QFrame, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from xref_app.core.economics.compare import Share
from xref_app.core.economics.lines import Way
from xref_app.core.economics.totals import Total
from xref_app.gui.fix_line import FixLine
from xref_app.gui.fix_words import origin_text, share_text, span_text, state_text, total_text
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.messages import say
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.fix_or_replace import Worked
from xref_app.services.fix_plan import PlannedColumn


class FixColumn(QFrame):
    """Holds what is typed into it; what it comes to is told from outside."""

    changed = Signal(str, str)
    entered = Signal()
    ticked = Signal(object)
    confirmed = Signal(object)
    other_asked = Signal()

    def __init__(self, look: Look, way: Way, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.way = way
        self._look = look
        self._name = f"fix_{way.name.lower()}"
        named(self, f"{self._name}_frame", self.tr("One way"))
        self.setProperty("pane", "true")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._planned: PlannedColumn | None = None
        self.lines: tuple[FixLine, ...] = ()
        self._title = heading_label(self, f"{self._name}_title_label", "")
        self._tax = quiet_label(self, f"{self._name}_tax_label")
        self._total = heading_label(self, f"{self._name}_total_label", "")
        self._state = plain_label(self, f"{self._name}_state_label")
        self._share = quiet_label(self, f"{self._name}_share_label")
        self.sound_button = self._button("sound", "")
        self.holds_button = self._button("holds", self.tr("These old prices still hold"))
        self.other_button = self._button("other", self.tr("Another used pump"))
        self.other_button.setVisible(way is Way.USED)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(5)
        self._lay_out()
        self.sound_button.clicked.connect(self._tell_ticked)
        self.holds_button.clicked.connect(self._tell_confirmed)
        self.other_button.clicked.connect(self.other_asked)

    def _button(self, name: str, text: str) -> QPushButton:
        button = named(QPushButton(text, self), f"{self._name}_{name}_button", text or self.tr("Looked at"))
        button.setProperty("small", "true")
        return button

    def _lay_out(self) -> None:
        body = QVBoxLayout(self)
        body.setContentsMargins(10, 7, 10, 8)
        body.setSpacing(5)
        body.addWidget(self._title)
        body.addLayout(self._rows)
        for widget in (self.holds_button, self._tax, self._total, self._share, self._state):
            body.addWidget(widget)
        body.addWidget(self.sound_button)
        body.addWidget(self.other_button)
        body.addStretch(1)

    @property
    def title(self) -> str:
        """Return the heading."""
        return self._title.text()

    @property
    def total(self) -> str:
        """Return what stands as the total."""
        return self._total.text()

    def show_planned(self, planned: PlannedColumn) -> None:
        """Show these blanks; those before are gone."""
        if planned == self._planned:
            return
        self._planned = planned
        self._title.setText(say(planned.title))
        for line in self.lines:
            self._rows.removeWidget(line)
            line.hide()
            line.setParent(None)
            line.deleteLater()
        self.lines = tuple(
            FixLine(self._look, f"{self._name}_{place}", blank, say(planned.title), self)
            for place, blank in enumerate(planned.blanks)
        )
        for line in self.lines:
            line.changed.connect(self.changed)
            line.entered.connect(self.entered)
            self._rows.addWidget(line)
            # At once, not with the next layout: the keys may go on to it before.
            line.show()

    def show_worked(self, worked: Worked, *, is_ticked: bool, sign: str, today: date) -> None:
        """Show what the figures come to."""
        total = worked.comparison.total(self.way)
        planned = self._planned
        if total is None or planned is None:
            return
        for line, money in zip(self.lines, total.lines, strict=True):
            told = worked.faults.get(line.figure) or origin_text(money, today, sign)
            line.show_told(told, is_set_aside=money.is_set_aside)
        old = sum(one.is_set_aside for one in total.lines)
        self.holds_button.setVisible(old > 0)
        many = self.tr("These {count} old prices still hold").format(count=old)
        self.holds_button.setText(self.tr("This old price still holds") if old == 1 else many)
        self._show_total(total, sign)
        self._show_state(planned, is_ticked=is_ticked)
        share = next((one for one in worked.comparison.shares if one.way is self.way), None)
        self._show_share(share, worked)

    def _show_total(self, total: Total, sign: str) -> None:
        has_tax = total.tax is not None and total.tax.high > 0
        self._tax.setText(self.tr("Tax {tax}").format(tax=span_text(total.tax, sign)) if total.tax and has_tax else "")
        self._tax.setVisible(has_tax)
        told = total_text(total, sign)
        if total.total is None:
            self._total.setText(f"{told[:1].upper()}{told[1:]}")
            return
        text = self.tr("Total {money}").format(money=told)
        self._total.setText(self.tr("{total}, set aside: old price").format(total=text) if total.is_set_aside else text)
        self._total.setEnabled(not total.is_set_aside)

    def _show_state(self, planned: PlannedColumn, *, is_ticked: bool) -> None:
        state = state_text(planned, is_ticked=is_ticked)
        self._state.setText(state)
        self._state.setVisible(bool(state))
        self.sound_button.setVisible(planned.sound is not None)
        if planned.sound is not None:
            box = "[x]" if is_ticked else "[  ]"
            self.sound_button.setText(f"{box} {say(planned.sound)}")
            said = self.tr("yes") if is_ticked else self.tr("not looked at")
            self.sound_button.setAccessibleName(f"{say(planned.sound)}: {said}")

    def _show_share(self, share: Share | None, worked: Worked) -> None:
        self._share.setText("" if share is None else share_text(share, worked.rules.share_of_new))
        self._share.setVisible(share is not None)

    @Slot()
    def _tell_ticked(self) -> None:
        self.ticked.emit(self.way)

    @Slot()
    def _tell_confirmed(self) -> None:
        self.confirmed.emit(self.way)
