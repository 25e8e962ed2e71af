"""What "Is it the pump?" comes to: the next thing to try with its cautions, the sums, and the causes."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QTextBrowser, QWidget

from xref_app.core.diagnose.ranking import RankedCause
from xref_app.core.diagnose.signs import Clue
from xref_app.core.diagnose.steps import Step
from xref_app.core.diagnose.words import Try, Verdict
from xref_app.core.sentence import marked
from xref_app.gui.messages import number_text, say
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.is_it_the_pump import Asked, PumpView

ANSWERS = {
    Verdict.PUMP: marked("diagnose", "It is the pump."),
    Verdict.NOT_PUMP: marked("diagnose", "Not the pump."),
    Verdict.CANNOT_TELL: marked("diagnose", "Cannot tell yet."),
}


def answer_line(view: PumpView) -> str:
    """Return the answer and what it rests on, in one line."""
    diagnosis = view.diagnosis
    answer = str(QCoreApplication.translate("diagnose", ANSWERS[diagnosis.answer]))
    return f"{answer} {say(diagnosis.because[-1])}"


class AnswerView(QTextBrowser):
    """Reading text, reachable by keyboard, so that a screen reader can read it line by line; cautions come first."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "is_it_answer_text", self.tr("What to try next, the sums and the causes"))
        self._look = look
        self._view: PumpView | None = None
        self.setOpenLinks(False)
        self.setTabChangesFocus(True)
        self.document().setDocumentMargin(8)
        look.changed.connect(self._show_again)

    def show_view(self, view: PumpView) -> None:
        """Show what follows from the answers; what was read stays where it was on the screen."""
        self._view = view
        scrolled = self.verticalScrollBar().value()
        parts = (self._next(view.diagnosis.next_step), self._cautions(view), self._because(view), self._sums(view))
        self.setHtml("".join((*parts, self._causes(view.diagnosis.causes))))
        self.verticalScrollBar().setValue(scrolled)
        self.setAccessibleDescription(self.toPlainText())

    def _show_again(self) -> None:
        if self._view is not None:
            self.show_view(self._view)

    def _next(self, step: Step) -> str:
        words = say(step.ask)
        if step.what is not Try.NOTHING:
            low, high = (number_text(float(one), 0) for one in (step.minutes.low, step.minutes.high))
            took = self.tr("About {low} to {high} minutes (House rule).").format(low=low, high=high)
            words = f"{words} {took}"
        return _heading(self.tr("Try next")) + _paragraph(words)

    def _cautions(self, view: PumpView) -> str:
        style = f"margin:4px 0 2px 0; font-weight:600; color:{self._look.colours.danger}"
        lines = (self._sourced(say(one.said), one.source) for one in view.cautions)
        return f"<p style='{style}'>{escape(self.tr('Mind first'))}</p>{_list(lines)}"

    def _because(self, view: PumpView) -> str:
        lines = [escape(say(one)) for one in view.diagnosis.because]
        told = "; ".join(self._told(one) for one in view.from_job)
        if told:
            lines.append(escape(self.tr("Told by the catalog, not read here: {what}.").format(what=told)))
        return _heading(self.tr("What the answer rests on")) + _list(lines)

    def _told(self, asked: Asked) -> str:
        title = str(QCoreApplication.translate("diagnose", asked.question.title))
        return "" if asked.told is None else f"{title} {asked.told.shown} ({asked.told.known_by})"

    def _sums(self, view: PumpView) -> str:
        sums = view.diagnosis.workings.sums()
        heading = _heading(self.tr("The sums"))
        if not sums:
            return heading + _paragraph(self.tr("Nothing is measured yet."))
        return heading + _list(self._sourced(say(one.said), one.source) for one in sums)

    def _causes(self, causes: Iterable[RankedCause]) -> str:
        ranked = [one for one in causes if one.evidence_for or one.evidence_against]
        heading = _heading(self.tr("What it can be, the likeliest first (the order is a house rule)"))
        if not ranked:
            return heading + _paragraph(self.tr("Nothing speaks for or against any cause yet."))
        return heading + "".join(self._cause(place, one) for place, one in enumerate(ranked, start=1))

    def _cause(self, place: int, ranked: RankedCause) -> str:
        title = str(QCoreApplication.translate("diagnose", ranked.cause.value))
        if ranked.in_the_pump:
            title = self.tr("{cause} (in the pump)").format(cause=title)
        lines = [f"<p style='margin:4px 0 0 0'><b>{place}. {escape(title)}</b></p>"]
        for lead, clues in (
            (self.tr("for"), ranked.evidence_for),
            (self.tr("against"), ranked.evidence_against),
        ):
            if clues:
                lines.append(f"<p style='margin:0 0 0 18px'>{escape(lead)}: {self._clues(clues)}</p>")
        return "".join(lines)

    def _clues(self, clues: tuple[Clue, ...]) -> str:
        """Return the clues with each source once, the source of the heaviest first."""
        by_source: dict[str, list[str]] = {}
        for one in clues:
            by_source.setdefault(one.source, []).append(say(one.said))
        return " ".join(self._sourced(" ".join(said), source) for source, said in by_source.items())

    def _sourced(self, words: str, source: str) -> str:
        return f"{escape(words)} <span style='color:{self._look.colours.quiet_text}'>[{escape(source)}]</span>"


def _heading(text: str) -> str:
    return f"<p style='margin:8px 0 2px 0; font-weight:600'>{escape(text)}</p>"


def _paragraph(text: str) -> str:
    return f"<p style='margin:0 0 3px 0'>{escape(text)}</p>"


def _list(lines: Iterable[str]) -> str:
    return "<ul style='margin:0 0 0 -22px'>" + "".join(f"<li>{one}</li>" for one in lines) + "</ul>"
