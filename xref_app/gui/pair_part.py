"""Where pairing up meets the rest: its page, the judging that can be stopped, the wishes, and the acts."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QModelIndex, QObject, Signal, Slot
from PySide6.QtWidgets import QLineEdit

from xref_app.core.plan.pair_value import PairFigures
from xref_app.gui.ask_bar import AskBar
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.pair_desk import PairDesk
from xref_app.gui.pair_list import PutBy
from xref_app.gui.pair_memory import PairMemory
from xref_app.gui.pair_sheet import PairSheet
from xref_app.gui.pair_table import PairCell
from xref_app.gui.pair_words import money, read_money
from xref_app.gui.rows import DOMAIN_ROLE
from xref_app.gui.somebody import Somebody
from xref_app.gui.tasks import Task, Tasks
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate
from xref_app.services.best_pairs import MadePair, Pairing, PairsWanted, PairWishes, best_pairs, sum_of
from xref_app.services.pair_matrix import BOTH_FIT, PairMatrix


class PairPart(QObject):
    """Opens the pair sheet beside the pages of the bench. Who does it is asked once, then remembered."""

    said = Signal(str)
    working = Signal(bool)
    progressed = Signal(int, int)

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self, desk: PairDesk, job: JobFlow, bench: BenchPart, bar: AskBar, *, look: Look, memory: WindowMemory
    ) -> None:
        super().__init__(bench.pages)
        self._desk = desk
        self._job = job
        self._bench = bench
        self._bar = bar
        self._figures = PairMemory(memory)
        self._somebody = Somebody(bar, memory, bench.flow, self)
        self._wishes = PairWishes()
        self._pairing = Pairing()
        self._asked = 0
        self._judging: Task | None = None
        self._tasks = Tasks(self)
        self._acts = OneAct(self)
        self.sheet = PairSheet(look)
        bench.pages.addWidget(self.sheet)
        self._connect()
        self._show_figures()

    def _connect(self) -> None:
        self._acts.failed.connect(self.said)
        self._acts.crashed.connect(self._bench.flow.crashed)
        self._bench.flow.taken_back.connect(self._judge_again)
        sheet, details = self.sheet, self.sheet.details
        sheet.figures_changed.connect(self._note_figures)
        sheet.filter_button.clicked.connect(self.step_filter)
        sheet.table.selectionModel().currentChanged.connect(self._look_at)
        details.list.selectionModel().currentChanged.connect(self._follow_list)
        details.reserve_button.clicked.connect(self.reserve)
        details.release_button.clicked.connect(self.release)
        details.force_button.clicked.connect(self.force)
        details.forbid_button.clicked.connect(self.forbid)
        sheet.leave_button.clicked.connect(self.leave)

    @property
    def is_shown(self) -> bool:
        """Say whether the pair sheet is in front."""
        return self._bench.pages.currentWidget() is self.sheet

    @property
    def is_working(self) -> bool:
        """Say whether pairs are being judged or an act is on its way."""
        return self._acts.is_working or self._tasks.running > 0

    @property
    def pairing(self) -> Pairing:
        """Return the pairs to be made."""
        return self._pairing

    @property
    def cell(self) -> PairCell | None:
        """Return the pair looked at."""
        found = self.sheet.table.currentIndex().data(DOMAIN_ROLE)
        return found if isinstance(found, PairCell) else None

    def shut_down(self) -> None:
        """Stop all work."""
        self._tasks.shut_down()
        self._acts.shut_down()

    # -- the page and the judging

    def show(self) -> None:
        """Bring the sheet to the front and judge what is new since it was last shown."""
        self._bench.show_page(self.sheet)
        self._judge()
        self.sheet.table.setFocus()

    @Slot()
    def leave(self) -> None:
        """Stop judging; where nothing is judged, go back to the work sheet."""
        if self._judging is None:
            self._bench.show_work()
            return
        self._tasks.cancel(self._judging)
        self._judging = None
        self.working.emit(self._judging is not None)
        self.said.emit(self.tr("Stopped. Ctrl+Shift+U goes on; what was judged is kept."))
        if not self.sheet.model.rowCount():
            self.sheet.say_count(self.tr("Not judged yet."))

    @Slot()
    def _judge_again(self) -> None:
        if self.is_shown or self.sheet.model.rowCount():
            self._judge()

    def _judge(self) -> None:
        if self._judging is not None:
            self._tasks.cancel(self._judging)
        task = self._tasks.prepare(self._desk.matrix)
        task.progressed.connect(self.progressed)
        task.finished.connect(self._show_matrix)
        task.failed.connect(self.said)
        task.settled.connect(partial(self._note_settled, task))
        self._judging = task
        if not self.sheet.model.rowCount():
            self.sheet.say_count(self.tr("Judging every engine with every pump… Esc stops."))
        self.working.emit(self._judging is not None)
        self._tasks.launch(task)

    def _note_settled(self, task: Task) -> None:
        if self._judging is task:
            self._judging = None
            self.working.emit(self._judging is not None)

    @Slot(object)
    def _show_matrix(self, matrix: object) -> None:
        if isinstance(matrix, PairMatrix):
            self.sheet.show_matrix(matrix)
            self._pair_up()

    # -- figures and wishes

    @Slot()
    def _note_figures(self) -> None:
        """Use what was typed; what is no sum of money is told, and the figure before stands again."""
        sheet, known = self.sheet, self._figures.figures
        sells_for, rate = self._sum_in(sheet.sells_line), self._sum_in(sheet.rate_line)
        figures = PairFigures(
            known.sells_for if sells_for is None else sells_for, known.rate_per_hour if rate is None else rate
        )
        wishes = self._with_engine_price()
        if figures != known or wishes != self._wishes:
            self._figures.figures = figures
            self._wishes = wishes
            self._pair_up()
        for line in (sheet.sells_line, sheet.rate_line, sheet.engine_line):
            line.setModified(False)
        self._show_figures()

    def _with_engine_price(self) -> PairWishes:
        cell = self.cell
        if cell is None:
            return self._wishes
        prices = dict(self._wishes.sells_for)
        typed = self._sum_in(self.sheet.engine_line)
        if typed is not None:
            prices[cell.engine.unit_id] = typed
        elif not self.sheet.engine_line.text().strip():
            prices.pop(cell.engine.unit_id, None)
        return self._wishes.with_prices(prices)

    def _sum_in(self, line: QLineEdit) -> float | None:
        """Return the sum of money typed in a line; None where there is none, or it cannot be read, which is said."""
        text = line.text().strip()
        value = read_money(text)
        if value is None and text:
            self.said.emit(self.tr("“{text}” is no sum of money; type it like 120 or 120.50.").format(text=text))
        return value

    def _show_figures(self) -> None:
        """Show the figures in use; what is just being typed stays."""
        sheet, figures, cell = self.sheet, self._figures.figures, self.cell
        own = None if cell is None else self._wishes.sells_for.get(cell.engine.unit_id)
        for line, figure in (
            (sheet.sells_line, figures.sells_for),
            (sheet.rate_line, figures.rate_per_hour),
            (sheet.engine_line, own),
        ):
            if not line.isModified():
                line.setText("" if figure is None else money(figure))

    @Slot()
    def step_filter(self) -> None:
        """Let through the next kind of pairs: whatever fits, with parts on the shelf, as is."""
        kinds = list(PairsWanted)
        self._wish(self._wishes.only(kinds[(kinds.index(self._wishes.wanted) + 1) % len(kinds)]))

    @Slot()
    def force(self) -> None:
        """Make the pair looked at surely, or leave it to the sum again."""
        cell = self._cell_or_say()
        if cell is None:
            return
        if cell.found.verdict not in BOTH_FIT and cell.pair not in self._wishes.forced:
            self.said.emit(self.tr("These two do not surely fit, so they are not paired."))
            return
        self._wish(self._wishes.force(cell.pair))

    @Slot()
    def forbid(self) -> None:
        """Make the pair looked at never, or leave it to the sum again."""
        cell = self._cell_or_say()
        if cell is not None:
            self._wish(self._wishes.forbid(cell.pair))

    def _wish(self, wishes: PairWishes) -> None:
        if self.is_shown:
            self._wishes = wishes
            self._pair_up()

    def _pair_up(self) -> None:
        """Choose the best pairs off the GUI thread; only the answer asked for last is shown."""
        self._asked += 1
        asked, matrix, figures, wishes = self._asked, self.sheet.model.matrix, self._figures.figures, self._wishes

        def answer(pairing: object) -> None:
            if asked == self._asked and isinstance(pairing, Pairing):
                self._pairing = pairing
                self.sheet.show_pairing(pairing, wishes)
                self._show_cell()

        self._acts.read(lambda: best_pairs(matrix, figures, wishes), answer)

    # -- the pair looked at

    @Slot(QModelIndex, QModelIndex)
    def _look_at(self, _current: QModelIndex, _previous: QModelIndex) -> None:
        self._show_cell()

    def _show_cell(self) -> None:
        cell = self.cell
        total = None
        if cell is not None:
            total = sum_of(cell.engine, cell.pump, cell.found, self._figures.figures, self._wishes)
        self.sheet.engine_line.setEnabled(cell is not None)
        self._show_figures()
        self.sheet.details.show_cell(cell, total)
        if cell is not None:
            self._acts.read(partial(self._desk.look_at, cell.engine, cell.pump), partial(self._show_judged, cell))

    def _show_judged(self, cell: PairCell, candidate: object) -> None:
        now = self.cell
        if now is not None and now.pair == cell.pair and isinstance(candidate, Candidate):
            self.sheet.details.show_judged(cell, candidate)

    @Slot(QModelIndex, QModelIndex)
    def _follow_list(self, current: QModelIndex, _previous: QModelIndex) -> None:
        line = current.data(DOMAIN_ROLE)
        if isinstance(line, MadePair) and self.sheet.details.list.hasFocus():
            self.sheet.go_to((line.engine.unit_id, line.pump.unit_id))

    def _cell_or_say(self) -> PairCell | None:
        if not self.is_shown:
            self.said.emit(self.tr("Ctrl+Shift+U opens the salvaged units; choose a pair there first."))
            return None
        if self.cell is None:
            self.said.emit(self.tr("Choose a pair first."))
        return self.cell

    # -- the acts

    @Slot()
    def reserve(self) -> None:
        """Put both units of the pair looked at by, and the pieces that join them."""
        cell = self._cell_or_say()
        if cell is None:
            return
        if cell.found.parts is None:
            self.said.emit(self.tr("These two do not surely fit: nothing is reserved."))
            return
        takes = cell.found.parts.takes
        job = self._job.reference
        self._as_somebody(
            self.tr("Reserve both"),
            lambda who: self._desk.reserve(cell.engine, cell.pump, who, job=job, takes=takes),
        )

    @Slot()
    def release(self) -> None:
        """Give the unit of the chosen line free again, and all that is put by for the same job."""
        line = self.sheet.details.chosen_line
        if not isinstance(line, PutBy):
            self.said.emit(self.tr("Choose a reserved unit in the list first, then Ctrl+G releases it."))
            return
        put_by = self.sheet.model.matrix.put_by
        units = [unit.unit_id for row, unit in put_by if row.job == line.row.job]
        self._as_somebody(self.tr("Release"), lambda who: self._desk.release(units, who))

    def _as_somebody(self, act: str, do: Callable[[str], str]) -> None:
        self._somebody.act(act, lambda who: self._acts.do(partial(do, who), self._tell_done))

    @Slot(object)
    def _tell_done(self, name: object) -> None:
        self._bar.leave()
        self._judge()
        self._bench.flow.ask_names()
        self.said.emit(self.tr("Done: {name}. Ctrl+Z takes it back.").format(name=name))
