"""Damaged and lost rows put right from the newest whole copy: what it has for them is told, then asked, then done."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.ask_bar import Answers, AskBar
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.copies_desk import CopiesDesk
from xref_app.gui.copies_words import mending_lines
from xref_app.gui.job_words import when_text
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.one_read import OneRead
from xref_app.gui.somebody import Somebody
from xref_app.services.mending import Mending


class MendingPart(QObject):
    """Has no sheet of its own; ``righted`` tells that rows stand as they should again."""

    said = Signal(str)
    working = Signal(bool)
    progressed = Signal(int, int)
    righted = Signal()

    def __init__(self, desk: CopiesDesk, bench: BenchPart, bar: AskBar, memory: WindowMemory) -> None:
        super().__init__(bench)
        self._desk, self._bar = desk, bar
        self._somebody = Somebody(bar, memory, bench.flow, self)
        self._reads, self._acts = OneRead(self), OneAct(self)
        self._reads.working.connect(self.working)
        self._reads.progressed.connect(self.progressed)
        for work in (self._reads, self._acts):
            work.failed.connect(self.said)
            work.crashed.connect(bench.flow.crashed)

    @property
    def is_working(self) -> bool:
        """Say whether copies are being looked at, or rows put right."""
        return self._reads.is_working or self._acts.is_working

    def shut_down(self) -> None:
        """Stop all work."""
        self._reads.shut_down()
        self._acts.shut_down()

    @Slot()
    def put_right(self) -> None:
        """Tell what the newest whole copy has for damaged and lost rows, then ask."""
        self._reads.run(lambda _progress: self._desk.offered_mending(), self._ask)

    @Slot(object)
    def _ask(self, mending: object) -> None:
        if not isinstance(mending, Mending):
            self.said.emit(
                self.tr(
                    "Nothing to put right: either no row is damaged or lost, or no whole copy has it. Ctrl+Shift+E "
                    "shows which; what no copy has is measured again."
                )
            )
        elif self._bar.is_open:
            self.said.emit(self.tr("Answer the question above first, then ask again."))
        else:
            question = self.tr("Put right from the copy of {when}? {what} Ctrl+Z takes it back.").format(
                when=when_text(mending.at), what=" ".join(mending_lines(mending))
            )
            do = partial(self._put_right, mending)
            self._bar.ask(question, self.tr("Put them right"), (self._somebody.blank(),), do, only_f12=True)

    def _put_right(self, mending: Mending, given: Answers) -> None:
        who = self._somebody.note_or_say(given, self.said.emit)
        if who:
            self._acts.do(partial(self._desk.mend, mending, who), self._tell)

    @Slot(object)
    def _tell(self, done: object) -> None:
        if isinstance(done, Mending):
            self._bar.leave()
            self.said.emit(" ".join((self.tr("Done."), *mending_lines(done))))
            self.righted.emit()
