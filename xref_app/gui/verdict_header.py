"""The head of the right pane: frame, mark and word of the verdict, which pump it is about, and the counts."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import QRectF, Slot
from PySide6.QtGui import QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from xref_app.core.fit.finding import Finding, Judgement, Outcome
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.marks import MARK_OF_VERDICT, paint_border, paint_mark
from xref_app.gui.messages import field_title, verdict_word
from xref_app.gui.rows import named
from xref_app.gui.theme import BODY_POINTS, Look
from xref_app.services.answers import Candidate

_WORD_SHARE = 1.3
_MARK_PX = 40

# The header names so many claims and counts the rest; 'Why' names those under each check (house rule).
_NAMED_CLAIMS = 4


class VerdictHeader(QFrame):
    """Says the verdict in every way there is; empty while no pump is chosen."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fit_verdict_frame", self.tr("Does it fit"))
        self._look = look
        self._candidate: Candidate | None = None
        self._word = heading_label(self, "fit_verdict_label", "")
        self._counts = quiet_label(self, "fit_counts_label")
        self._claims = heading_label(self, "fit_claims_label", "")
        self._layout = QVBoxLayout(self)
        self._layout.setSpacing(0)
        for label in (self._word, self._counts, self._claims):
            self._layout.addWidget(label)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_candidate(None)

    @property
    def counts_label(self) -> QLabel:
        """Return the line with the counts."""
        return self._counts

    def show_candidate(self, candidate: Candidate | None, waiting: str = "") -> None:
        """Show the verdict on ``candidate``; with None the heading of the pane and ``waiting``."""
        self._candidate = candidate
        self._claims.setVisible(False)
        if candidate is None:
            self._word.setText(self.tr("Does it fit"))
            self._counts.setText(waiting)
        else:
            judgement = candidate.judgement
            pump = " ".join(word for word in (candidate.number, candidate.maker, candidate.name) if word)
            self._word.setText(f"{verdict_word(judgement.verdict)}: {pump}")
            self._counts.setText(self._count_text(judgement))
            self._show_claims(judgement)
        self.setAccessibleDescription(f"{self._word.text()}. {self._counts.text()}. {self._claims.text()}")
        self._resize_to_text()

    def _show_claims(self, judgement: Judgement) -> None:
        titles = [field_title(one) for one in judgement.claims]
        named, more = ", ".join(titles[:_NAMED_CLAIMS]), len(titles) - _NAMED_CLAIMS
        text = self.tr("Only if the claims hold: {claims}").format(claims=named)
        if more > 0:
            text = self.tr("{said} and {count} more").format(said=text, count=more)
        self._claims.setText(text if titles else "")
        self._claims.setToolTip(", ".join(titles))
        self._claims.setVisible(bool(titles))

    def _count_text(self, judgement: Judgement) -> str:
        counts = Counter(_kind(finding) for finding in judgement.findings)
        said = self.tr("{passed} pass, {parts} by parts, {unknown} not known, {failed} fail").format(
            passed=counts["pass"], parts=counts["by parts"], unknown=counts["unknown"], failed=counts["fail"]
        )
        look_later = counts["on arrival"]
        return (
            self.tr("{said}; {look} to look at on arrival").format(said=said, look=look_later) if look_later else said
        )

    @Slot()
    def _resize_to_text(self) -> None:
        px = self._look.px
        font = QFont(self.font())
        font.setPointSizeF(BODY_POINTS * _WORD_SHARE * self._look.text_percent / 100)
        font.setWeight(QFont.Weight.DemiBold)
        self._word.setFont(font)
        left = px(_MARK_PX + 26) if self._candidate is not None else px(10)
        self._layout.setContentsMargins(left, px(9), px(10), px(9))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the frame and the mark."""
        super().paintEvent(event)
        if self._candidate is None:
            return
        painter = QPainter(self)
        mark, px = MARK_OF_VERDICT[self._candidate.judgement.verdict], self._look.px
        paint_border(painter, QRectF(self.rect()), mark, self._look.colours, self._look.text_percent / 100)
        side = px(_MARK_PX)
        paint_mark(painter, QRectF(px(14), (self.height() - side) / 2, side, side), mark, self._look.colours)
        painter.end()


def _kind(finding: Finding) -> str:
    is_later = finding.outcome is Outcome.UNKNOWN and finding.on_arrival
    return "on arrival" if is_later else finding.outcome.word
