"""Makes the pages of a sheet from what is asked (in a worker thread)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from xref_app.core.fit.finding import Verdict
from xref_app.core.progress import Progress
from xref_app.core.sentence import Sentence, marked
from xref_app.gui.desk import Desk
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import quantity_text, say
from xref_app.gui.paper_painter import text_width_mm
from xref_app.gui.paper_sheet import SheetKind
from xref_app.services.answers import Candidate, Job
from xref_app.sheets.blocks import Foot, Sheet, Wording
from xref_app.sheets.fit_sheet import FitCase, fit_sheet
from xref_app.sheets.page import Paper
from xref_app.sheets.question_card import CardCase, question_card
from xref_app.sheets.shapes import Drawing
from xref_app.sheets.sheet_page import SheetPage
from xref_app.sheets.sheet_pages import sheet_pages
from xref_app.sheets.shelf_label import LabelCase, label_page

NAMES = {
    SheetKind.FIT: marked("sheet", "Fit sheet"),
    SheetKind.GAUGE: marked("sheet", "Paper gauge"),
    SheetKind.CARD: marked("sheet", "Question card"),
    SheetKind.LABEL: marked("sheet", "Shelf label"),
}
JUDGED = marked("sheet", "Judged by what is known so far: {verdict}.")
ABOUT = marked("sheet", "{name} · {what}")


@dataclass(frozen=True, slots=True)
class Asked:
    """Which sheet of what: a candidate on a job, or a place of the shelf for its label."""

    kind: SheetKind
    paper: Paper
    day: str
    catalog: str
    is_sample: bool
    first: LengthFirst
    job: Job | None = None
    candidate: Candidate | None = None
    label: LabelCase | None = None

    @property
    def about(self) -> str:
        """Return what is printed in a few words: the sheet, and the pump's number or the bin."""
        what = self.label.bin if self.kind is SheetKind.LABEL and self.label is not None else self._number
        return say(Sentence(ABOUT, {"name": Sentence(NAMES[self.kind]), "what": what}))

    @property
    def _number(self) -> str:
        return "" if self.candidate is None else self.candidate.number or self.candidate.name


def pages_of(asked: Asked, desk: Desk, progress: Progress) -> tuple[SheetPage, ...]:
    """Return the pages, n ≥ 1; none where there is nothing to make them of."""
    wording = Wording(say, partial(quantity_text, first=asked.first))
    if asked.kind is SheetKind.LABEL:
        label = asked.label
        return () if label is None else (label_page(label, text_width_mm, wording, is_sample=asked.is_sample),)
    if asked.candidate is None or asked.job is None:
        return ()
    sheet = _sheet(asked, asked.candidate, asked.job, (desk, progress, wording))
    return sheet_pages(sheet, asked.paper, text_width_mm, wording)


def _sheet(asked: Asked, candidate: Candidate, job: Job, how: tuple[Desk, Progress, Wording]) -> Sheet:
    desk, progress, wording = how
    foot = Foot(asked.about, asked.catalog, asked.day, asked.is_sample)
    pump = " ".join(word for word in (candidate.number, candidate.maker, candidate.name) if word)
    if asked.kind is SheetKind.GAUGE:
        judged = Sentence(JUDGED, {"verdict": Sentence(candidate.judgement.verdict.value)})
        return Sheet(foot, gauge=desk.gauge(job, candidate.entry_id, progress).with_shapes(notes=(judged,)))
    if asked.kind is SheetKind.CARD:
        return question_card(CardCase(candidate.number, pump, candidate.judgement, job.reference), foot, wording)
    remarks = tuple(said for one in candidate.remarks for said in (one.line, one.further) if said is not None)
    case = FitCase(
        pump, job.title, candidate.judgement, job.reference, remarks, _drawings(candidate, job, desk, progress)
    )
    return fit_sheet(case, foot, wording)


def _drawings(candidate: Candidate, job: Job, desk: Desk, progress: Progress) -> tuple[Drawing, ...]:
    """Return what is built by: nothing where the pump is not known to go on."""
    if candidate.judgement.verdict not in {Verdict.FITS, Verdict.FITS_WITH_PARTS}:
        return ()
    asked = (job, candidate.entry_id, progress)
    drawn = (desk.face(*asked), desk.side(*asked), desk.plate(*asked), desk.spacer(*asked))
    return tuple(one for one in drawn if one is not None)
