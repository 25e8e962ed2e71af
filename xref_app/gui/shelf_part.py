"""Where the shelf meets the rest: its page, what each command asks, one act after another, and the open job."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.core.fit.finding import Need, Verdict
from xref_app.core.model.stock import spelled_job
from xref_app.gui.ask_bar import Answers, AskBar, Blank
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.shelf_desk import ShelfDesk
from xref_app.gui.shelf_sheet import ShelfSheet
from xref_app.gui.shelf_words import held_text
from xref_app.gui.somebody import Somebody
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate
from xref_app.services.shelf import LONGEST_BIN, LONGEST_JOB, PutBy, read_pieces
from xref_app.services.shelf_lines import ShelfLine
from xref_app.sheets.label_code import ReadLabel, plain_characters

_PIECES_PX, _JOB_PX, _BIN_PX = 76, 190, 120
_LONGEST_PIECES = 6


@dataclass(frozen=True, slots=True)
class _Seen:
    """The shelf as read: its lines, and the job something was put by for last."""

    lines: tuple[ShelfLine, ...]
    last_job: str


class ShelfPart(QObject):
    """Opens the shelf sheet beside the pages of the bench, and reserves what a verdict needs."""

    said = Signal(str)
    label_pressed = Signal(object)

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self, desk: ShelfDesk, job: JobFlow, panes: PaneArea, bench: BenchPart, *, look: Look, memory: WindowMemory
    ) -> None:
        super().__init__(panes)
        self._desk = desk
        self._job = job
        self._panes = panes
        self._bench = bench
        self._last_job = ""
        self._place_wanted: ReadLabel | None = None
        self._candidate: Candidate | None = None
        self._look_again_at = ""
        self._acts = OneAct(self)
        self.sheet = ShelfSheet(look)
        blanks = (
            ("pieces", self.tr("Pieces")),
            ("job", self.tr("Job")),
            ("bin", self.tr("Bin")),
            ("why", self.tr("Why")),
            ("who", self.tr("Who")),
        )
        self.bar = AskBar(look, blanks)
        self._somebody = Somebody(self.bar, memory, bench.flow, self)
        bench.pages.addWidget(self.sheet)
        self._connect()

    def _connect(self) -> None:
        self._acts.failed.connect(self.said)
        self._acts.crashed.connect(self._bench.flow.crashed)
        details = self.sheet.details
        details.reserve_button.clicked.connect(self.reserve)
        details.release_button.clicked.connect(self.release)
        details.take_button.clicked.connect(self.take_out)
        details.put_button.clicked.connect(self.put_in)
        details.count_button.clicked.connect(self.count_again)
        details.mark_button.clicked.connect(self.set_low_mark)
        details.move_button.clicked.connect(self.move)
        details.label_button.clicked.connect(self.press_label)
        details.leave_button.clicked.connect(self.leave)
        self._panes.fit.reserve_pressed.connect(self.reserve)
        self._panes.candidates.chosen.connect(self._note_candidate)
        self._job.judged.connect(self._choose_again)
        self._bench.page_changed.connect(self.bar.leave)
        self._bench.flow.taken_back.connect(self._read_again)

    @property
    def is_shown(self) -> bool:
        """Say whether the shelf sheet is in front."""
        return self._bench.pages.currentWidget() is self.sheet

    @property
    def is_working(self) -> bool:
        """Say whether an act or the list is still on its way."""
        return self._acts.is_working

    def shut_down(self) -> None:
        """Stop all work."""
        self._acts.shut_down()

    # -- the page

    def show(self) -> None:
        """Bring the shelf to the front, read anew."""
        self._bench.show_page(self.sheet)
        self._read()
        self.sheet.filter.setFocus()

    @Slot(object)
    def show_place(self, label: object) -> None:
        """Bring the place to the front whose label was scanned or typed; one that was read wrong is told."""
        if isinstance(label, ReadLabel) and label.is_right:
            self._place_wanted = label
            self.show()
        elif isinstance(label, ReadLabel):
            told = self.tr("“{code}” was read wrong: its characters do not belong together – scan the label again.")
            self.said.emit(told.format(code=label.code))

    @Slot()
    def leave(self) -> None:
        """Go back to the work sheet, or close what is asked first."""
        if self.bar.is_open:
            self.bar.leave()
        else:
            self._bench.show_work()

    def switch_low_only(self) -> None:
        """Show only the bins to fill up, or all again."""
        if self.is_shown:
            self.sheet.low_button.toggle()

    def _read(self) -> None:
        self._acts.read(lambda: _Seen(self._desk.lines(), self._desk.last_job()), self._show_seen)

    @Slot(str, bool)
    def _read_again(self, _name: str, _is_undo: bool) -> None:  # noqa: FBT001 - the signal's own arguments
        self._read()

    @Slot(object)
    def _show_seen(self, seen: object) -> None:
        if isinstance(seen, _Seen):
            self._last_job = seen.last_job
            self.sheet.show_lines(seen.lines)
            self._choose_wanted(seen.lines)

    def _choose_wanted(self, lines: Sequence[ShelfLine]) -> None:
        wanted, self._place_wanted = self._place_wanted, None
        if wanted is None:
            return
        ids = [one.place.shelf_id for one in lines if plain_characters(one.place.shelf_id) == wanted.place]
        if len(ids) == 1:
            self.sheet.choose(ids[0])
        elif ids:
            told = self.tr("Several places of this shelf have the label “{code}”: find the right one by its bin.")
            self.said.emit(told.format(code=wanted.code))
        else:
            told = self.tr("No place of this shelf has the label “{code}” – it was taken away, or is another shop's.")
            self.said.emit(told.format(code=wanted.code))

    @Slot()
    def press_label(self) -> None:
        """Ask for the label of the chosen place to be printed."""
        if (line := self._line()) is not None:
            self.label_pressed.emit(line)

    # -- the acts

    @Slot()
    def reserve(self) -> None:
        """Put pieces of the chosen place by for a job; on the work sheet, what the chosen pump needs."""
        if not self.is_shown:
            self._reserve_needs()
        elif (line := self._line()) is not None:
            question = self.tr("Reserve {name}, bin {bin}, {free} free").format(
                name=line.name, bin=line.place.bin, free=line.free
            )
            blanks = (self._pieces(1), self._job_blank(), self._somebody.blank())
            self.bar.ask(question, self.tr("Reserve"), blanks, partial(self._do_reserve, line))

    def _do_reserve(self, line: ShelfLine, given: Answers) -> None:
        self._act(given, lambda who: self._desk.reserve(line, read_pieces(given["pieces"]), given["job"], who))

    @Slot()
    def release(self) -> None:
        """Give the chosen reservation free again."""
        line, held = self._line(), self.sheet.details.chosen_held()
        if line is None:
            return
        if held is None:
            self.said.emit(self.tr("Nothing of this place is reserved."))
            return
        act = partial(self._desk.release, line, (held.reservation_id,))
        self._ask_who(self.tr("Release {what}").format(what=held_text(held)), self.tr("Release"), act)

    @Slot()
    def take_out(self) -> None:
        """Take the chosen reservation out of its bin; with none, free pieces."""
        line, held = self._line(), self.sheet.details.chosen_held()
        if line is None:
            return
        if held is not None:
            question = self.tr("Take out of bin {bin}: {what}").format(bin=line.place.bin, what=held_text(held))
            act = partial(self._desk.take_out, line, (held.reservation_id,))
            self._ask_who(question, self.tr("Take out"), act)
            return
        question = self.tr("Take {name} out of bin {bin}, {free} free").format(
            name=line.name, bin=line.place.bin, free=line.free
        )
        self._ask_pieces(question, self.tr("Take out"), 1, partial(self._desk.take_free, line))

    @Slot()
    def put_in(self) -> None:
        """Put pieces into the chosen place."""
        if (line := self._line()) is not None:
            question = self.tr("Put {name} into bin {bin}").format(name=line.name, bin=line.place.bin)
            self._ask_pieces(question, self.tr("Put in"), 1, partial(self._desk.put_in, line))

    @Slot()
    def count_again(self) -> None:
        """Write down what was counted in the chosen place."""
        if (line := self._line()) is not None:
            question = self.tr("Count {name} in bin {bin}, {count} in the record").format(
                name=line.name, bin=line.place.bin, count=line.place.count
            )
            self._ask_pieces(question, self.tr("Count"), line.place.count, partial(self._desk.count_again, line))

    @Slot()
    def set_low_mark(self) -> None:
        """Set the low mark of the chosen place; nothing typed takes it away."""
        if (line := self._line()) is not None:
            question = self.tr(
                "Mark {name}, bin {bin}, low at so many pieces or fewer; leave empty for no mark"
            ).format(name=line.name, bin=line.place.bin)
            blanks = (self._pieces(line.place.low_at), self._somebody.blank())
            self.bar.ask(question, self.tr("Set the mark"), blanks, partial(self._do_mark, line))

    def _do_mark(self, line: ShelfLine, given: Answers) -> None:
        typed = given["pieces"].strip()
        self._act(given, lambda who: self._desk.set_low_mark(line, read_pieces(typed) if typed else None, who))

    @Slot()
    def move(self) -> None:
        """Write down that the chosen place lies in another bin."""
        if (line := self._line()) is not None:
            question = self.tr("Move {name} from bin {bin} to").format(name=line.name, bin=line.place.bin)
            blanks = (Blank("bin", self.tr("Bin"), "", _BIN_PX, LONGEST_BIN), self._somebody.blank())
            self.bar.ask(question, self.tr("Move"), blanks, partial(self._do_move, line))

    def _do_move(self, line: ShelfLine, given: Answers) -> None:
        self._act(given, lambda who: self._desk.move(line, given["bin"], who))

    def _reserve_needs(self) -> None:
        judgement = None if self._candidate is None else self._candidate.judgement
        if self._candidate is None or judgement is None or not judgement.needs:
            self.said.emit(self.tr("Choose a pump that fits with parts first, then Ctrl+R reserves them."))
        elif judgement.verdict is Verdict.DOES_NOT_FIT:
            self.said.emit(self.tr("This pump does not fit: nothing is reserved for it."))
        else:
            question = self.tr("Reserve what {number} needs and lies on the shelf").format(
                number=self._candidate.number
            )
            blanks = (self._job_blank(), self._somebody.blank())
            do = partial(self._do_reserve_needs, judgement.needs)
            self.bar.ask(question, self.tr("Reserve these"), blanks, do)

    def _do_reserve_needs(self, needs: Sequence[Need], given: Answers) -> None:
        self._do(given, lambda: self._desk.reserve_needs(needs, given["job"], given["who"]), self._tell_put_by)

    @Slot(object)
    def _tell_put_by(self, done: object) -> None:
        if not isinstance(done, PutBy):
            return
        self.bar.leave()
        job = spelled_job(done.job)
        words = [self.tr("Reserved for {job}: {what}.").format(job=job, what=_listed(done.put_by))]
        if not done.put_by:
            words = [self.tr("Nothing of it lies on the shelf.")]
        elif not done.name:
            words = [self.tr("All of it was reserved for {job} before.").format(job=job)]
        if done.to_order:
            words.append(self.tr("To order: {what}.").format(what=_listed(done.to_order)))
        if done.name:
            words.append(self.tr("Ctrl+Z takes it back."))
        if done.put_by:
            self._job.set_reference(done.job)
        self._go_on(" ".join(words))

    # -- asking and doing

    def _line(self) -> ShelfLine | None:
        if not self.is_shown:
            self.said.emit(self.tr("Ctrl+Shift+H opens the shelf; choose a place there first."))
            return None
        if self.sheet.line is None:
            self.said.emit(self.tr("Choose a place of the shelf first."))
        return self.sheet.line

    def _pieces(self, at_first: int | None) -> Blank:
        text = "" if at_first is None else str(at_first)
        return Blank("pieces", self.tr("Pieces"), text, _PIECES_PX, _LONGEST_PIECES)

    def _job_blank(self) -> Blank:
        return Blank("job", self.tr("Job"), self._job.reference or self._last_job, _JOB_PX, LONGEST_JOB)

    def _ask_pieces(self, question: str, act: str, at_first: int, do: Callable[[int, str], str]) -> None:
        def go(given: Answers) -> None:
            self._act(given, lambda who: do(read_pieces(given["pieces"]), who))

        self.bar.ask(question, act, (self._pieces(at_first), self._somebody.blank()), go)

    def _ask_who(self, question: str, act: str, do: Callable[[str], str]) -> None:
        self.bar.ask(question, act, (self._somebody.blank(),), lambda given: self._act(given, do))

    def _act(self, given: Answers, do: Callable[[str], str]) -> None:
        self._do(given, lambda: do(given["who"]), self._tell_done)

    def _do(self, given: Answers, work: Callable[[], object], answer: Callable[[object], None]) -> None:
        self._somebody.note(given)
        self._acts.do(work, answer)

    @Slot(object)
    def _tell_done(self, name: object) -> None:
        self.bar.leave()
        self._go_on(self.tr("Done: {name}. Ctrl+Z takes it back.").format(name=name))

    def _go_on(self, sentence: str) -> None:
        """Show shelf, job and undo as they are now."""
        self._read()
        self._bench.flow.ask_names()
        if self._job.job is not None:
            self._look_again_at = self._candidate.entry_id if self._candidate is not None else ""
            self._job.open_again()
        self.said.emit(sentence)

    # -- the pump looked at

    @Slot(object)
    def _note_candidate(self, candidate: Candidate | None) -> None:
        self._candidate = candidate

    @Slot(object)
    def _choose_again(self, _judged: object) -> None:
        """Look at the same pump as before the shelf changed."""
        wanted, self._look_again_at = self._look_again_at, ""
        if wanted:
            self._panes.candidates.choose(wanted)


def _listed(pieces: Sequence[tuple[int, str]]) -> str:
    return ", ".join(f"{count} x {name}" for count, name in pieces)
