"""'Why': the reason of one check, its source, what it rests on, and what would have to change."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtWidgets import QTextBrowser, QWidget

from xref_app.core.fit.finding import Finding
from xref_app.core.sentence import Sentence
from xref_app.gui.messages import check_title, field_title, outcome_word, say
from xref_app.gui.rows import named


class WhyView(QTextBrowser):
    """Plain reading text, reachable by keyboard so that a screen reader can read it line by line."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fit_why_text", self.tr("Why"))
        self.setOpenLinks(False)
        self.setTabChangesFocus(True)
        self.document().setDocumentMargin(6)

    def show_finding(self, finding: Finding | None) -> None:
        """Show why this check came out as it did."""
        if finding is None:
            self.clear()
            return
        title = self.tr("Why {check}: {outcome}").format(
            check=check_title(finding.check).lower(), outcome=outcome_word(finding.outcome)
        )
        lines = [_heading(title), _paragraph(say(finding.reason))]
        lines += [_paragraph(say(note)) for note in finding.notes]
        if finding.change is not None:
            lines.append(_paragraph(say(finding.change), self.tr("What would have to change")))
        if finding.measure:
            fields = ", ".join(field_title(one) for one in finding.measure)
            lines.append(_paragraph(fields, self.tr("Measure to decide")))
        if finding.used:
            used = ", ".join(f"{field_title(field)} ({how.word})" for field, how in finding.used)
            lines.append(_paragraph(used, self.tr("Rests on")))
        lines.append(_paragraph(finding.source, self.tr("Source")))
        self._show("".join(lines))

    def show_cautions(self, cautions: Sequence[Sentence]) -> None:
        """Show what to mind before touching the machine."""
        points = "".join(f"<li>{escape(say(one))}</li>" for one in cautions)
        self._show(_heading(self.tr("Before you start")) + f"<ul style='margin:0 0 0 -22px'>{points}</ul>")

    def _show(self, html: str) -> None:
        self.setHtml(html)
        self.setAccessibleDescription(self.toPlainText())


def _heading(text: str) -> str:
    return f"<p style='margin:0 0 3px 0; font-weight:600'>{escape(text)}</p>"


def _paragraph(text: str, lead: str = "") -> str:
    begin = f"<b>{escape(lead)}:</b> " if lead else ""
    return f"<p style='margin:0 0 3px 0'>{begin}{escape(text)}</p>"
