"""The fit sheet: what a verdict rests on, what is needed, and how it goes together: a new hand needs no more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from xref_app.core.fields.fields import field_for
from xref_app.core.fit.cautions import SOURCES
from xref_app.core.fit.finding import Finding, Judgement, Outcome, Verdict
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.assembly_steps import assembly_steps, first_run_checks
from xref_app.sheets.blocks import (
    Blank,
    Block,
    CautionBlock,
    DangerLine,
    Foot,
    Heading,
    NewPage,
    Paragraph,
    Row,
    Sheet,
    Steps,
    Table,
    Ticks,
    Title,
    VerdictBlock,
    Wording,
)
from xref_app.sheets.needs_rows import needs_table
from xref_app.sheets.question_card import blank_for
from xref_app.sheets.shapes import Drawing

FOR_JOB = marked("sheet", "for {job}")
REFERENCE = marked("sheet", "{job} – shop's number: {reference}")
NO_JOB = marked("sheet", "a job without a name")
VERDICT = marked("sheet", "{verdict}")
CLAIMS_FIRST = marked("sheet", "Only if what is claimed holds: measure it on arrival, before anything is bolted.")
DO_NOT_BOLT = marked("sheet", "Do not bolt this pump on: too little is known. Measure first what stands below.")
DO_NOT_BUILD = marked("sheet", "DO NOT BUILD FROM THIS SHEET. This pump does not go on this machine.")
NOTHING_NEEDED = marked("sheet", "Nothing is needed but the pump, the old bolts and the old hoses.")
NEEDS = marked("sheet", "What you need")
FAILS = marked("sheet", "What does not fit")
WHY = marked("sheet", "Why")
CHANGE = marked("sheet", "What would have to change: {change}")
MEASURE = marked("sheet", "Measure next, the most useful first")
AND_MORE = marked("sheet", "And {more} more: the question card has them all.")
FINDINGS = marked("sheet", "Every check")
CLAIMED = marked("sheet", "Only claimed: measure on arrival, before anything is bolted")
ON_ARRIVAL = marked("sheet", "Look when it is in your hands")
ASSEMBLY = marked("sheet", "Order of assembly")
FIRST_RUN = marked("sheet", "First run")
CAUTIONS = marked("sheet", "Before you start")
COLUMNS = (
    marked("sheet", "Check"),
    marked("sheet", "Needed"),
    marked("sheet", "Offered"),
    marked("sheet", "Gap"),
)
CHECK_NAME = marked("sheet", "{check}")
BEFORE = marked("sheet", "Comes off first: {what}.")
TELL_MEANING = marked("sheet", "Disc: passes. Square: by parts. Diamond: not known. Cross: does not fit.")
_WORST = {
    Verdict.FITS: Outcome.PASS,
    Verdict.FITS_WITH_PARTS: Outcome.BY_PARTS,
    Verdict.NOT_KNOWN_YET: Outcome.UNKNOWN,
    Verdict.DOES_NOT_FIT: Outcome.FAIL,
}
# Fields asked for on a sheet that is not known yet; the question card has all. House rule.
_MOST_ASKED = 6


@dataclass(frozen=True, slots=True)
class FitCase:
    """What a fit sheet is about: the pump in words, the job, the judgement, and what the records tell of the pump.

    ``drawings`` are the mating drawings: faces, side, and what has to be made.
    """

    pump: str
    job: str
    judgement: Judgement
    reference: str = ""
    remarks: tuple[Sentence, ...] = ()
    drawings: tuple[Drawing, ...] = ()


def fit_sheet(case: FitCase, foot: Foot, wording: Wording) -> Sheet:
    """Return the sheet. One whose verdict is no "Fits" tells nobody how to build, and shows no drawing to build by."""
    said = _FitWords(case, wording)
    blocks = tuple(said.blocks())
    fits = case.judgement.verdict in {Verdict.FITS, Verdict.FITS_WITH_PARTS}
    return Sheet(foot, blocks, case.drawings if fits else ())


@dataclass(frozen=True, slots=True)
class _FitWords:
    case: FitCase
    wording: Wording

    def say(self, template: str, **values: object) -> str:
        return self.wording.say(Sentence(template, values))

    @property
    def judgement(self) -> Judgement:
        return self.case.judgement

    def blocks(self) -> Iterator[Block]:
        job = self.case.job or self.say(NO_JOB)
        told = self.say(REFERENCE, job=job, reference=self.case.reference) if self.case.reference else job
        yield Title(self.case.pump, self.say(FOR_JOB, job=told))
        yield self._verdict()
        for one in self.judgement.danger:
            yield DangerLine(self.wording.say(one))
        for one in self.case.remarks:
            yield Paragraph(self.wording.say(one), is_bold=True)
        match self.judgement.verdict:
            case Verdict.DOES_NOT_FIT:
                yield from self._why_not()
            case Verdict.NOT_KNOWN_YET:
                yield from self._to_measure()
            case _:
                yield from self._to_build()

    def _verdict(self) -> VerdictBlock:
        verdict = self.judgement.verdict
        further = {Verdict.DOES_NOT_FIT: DO_NOT_BUILD, Verdict.NOT_KNOWN_YET: DO_NOT_BOLT}.get(verdict)
        if further is None and self.judgement.claims:
            further = CLAIMS_FIRST
        told = () if further is None else (self.say(further),)
        return VerdictBlock(_WORST[verdict], self.say(VERDICT, verdict=self.wording.say(Sentence(verdict.value))), told)

    def _why_not(self) -> Iterator[Block]:
        yield Heading(self.say(FAILS))
        headings = (self.say(COLUMNS[0]), self.say(WHY))
        yield Table(headings, tuple(map(self._failing, self._of(Outcome.FAIL))), (0.16, 0.84))
        yield from self._findings()

    def _failing(self, one: Finding) -> Row:
        change = self.say(CHANGE, change=self.wording.say(one.change)) if one.change is not None else ""
        return Row((self._name(one), self.wording.say(one.reason)), Outcome.FAIL, note=change)

    def _to_measure(self) -> Iterator[Block]:
        yield Heading(self.say(MEASURE))
        yield from map(self._blank, self.judgement.measure_next[:_MOST_ASKED])
        more = len(self.judgement.measure_next) - _MOST_ASKED
        if more > 0:
            yield Paragraph(self.say(AND_MORE, more=more))
        yield from self._claimed()
        yield self._cautions()
        yield from self._findings()

    def _to_build(self) -> Iterator[Block]:
        yield Heading(self.say(NEEDS))
        if self.judgement.needs:
            yield needs_table(self.judgement.needs, self.wording)
        else:
            yield Paragraph(self.say(NOTHING_NEEDED))
        yield from self._claimed()
        yield from self._on_arrival()
        yield self._cautions()
        yield NewPage()
        yield Heading(self.say(ASSEMBLY))
        yield Steps(tuple(map(self.wording.say, assembly_steps(self.judgement))))
        yield Heading(self.say(FIRST_RUN))
        yield Steps(tuple(map(self.wording.say, first_run_checks(self.judgement))))
        yield from self._findings()

    def _findings(self) -> Iterator[Block]:
        yield Heading(self.say(FINDINGS))
        yield Paragraph(self.say(TELL_MEANING), is_small=True, keeps_next=True)
        ordered = sorted(self.judgement.findings, key=lambda one: -int(one.outcome))
        headings = tuple(map(self.say, COLUMNS))
        yield Table(headings, tuple(map(self._row, ordered)), (0.16, 0.28, 0.28, 0.28))

    def _row(self, one: Finding) -> Row:
        shown = tuple(self.wording.quantity(each) for each in (one.needed, one.offered, one.gap))
        reason, *notes = map(self.wording.say, (one.reason, *one.notes))
        if not any(shown):
            return Row((self._name(one), reason), one.outcome, note=" ".join(notes))
        return Row((self._name(one), *shown), one.outcome, note=" ".join((reason, *notes)))

    def _claimed(self) -> Iterator[Block]:
        if self.judgement.claims:
            yield Heading(self.say(CLAIMED))
            fields = [field_for(one) for one in self.judgement.claims]
            yield Ticks(tuple((one.title, one.how_to_measure) for one in fields))

    def _on_arrival(self) -> Iterator[Block]:
        open_looks = [one for one in self._of(Outcome.UNKNOWN) if one.on_arrival]
        if open_looks:
            yield Heading(self.say(ON_ARRIVAL))
            yield Ticks(tuple((self.wording.say(one.reason), "") for one in open_looks))

    def _blank(self, field_id: str) -> Blank:
        one, blank = field_for(field_id), blank_for(field_for(field_id))
        before = self.say(BEFORE, what=one.comes_off_first) if one.comes_off_first else ""
        return replace(blank, how_to=" ".join(part for part in (blank.how_to, before) if part))

    def _cautions(self) -> CautionBlock:
        items = tuple(map(self.wording.say, self.judgement.cautions))
        return CautionBlock(self.say(CAUTIONS), items, self.say(SOURCES))

    def _of(self, outcome: Outcome) -> list[Finding]:
        return [one for one in self.judgement.findings if one.outcome is outcome]

    def _name(self, one: Finding) -> str:
        word = self.wording.say(Sentence(CHECK_NAME, {"check": one.check}))
        return word[:1].upper() + word[1:]
