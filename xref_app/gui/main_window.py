"""The one window: entry line, what was understood, three panes, status; nothing in it is decided here."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal, Slot
from PySide6.QtGui import QAction, QCloseEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMainWindow,
    QVBoxLayout,
    QWidget,
)

from xref_app.gui.actions import Command, build_actions, fill_menu_bar
from xref_app.gui.bench_desk import BenchDesk
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.chips import ChipRow
from xref_app.gui.desk import Desk
from xref_app.gui.drawing_saver import DrawingSaver
from xref_app.gui.entry_bar import EntryBar
from xref_app.gui.job_flow import JobFlow, UsedFact, is_judged
from xref_app.gui.labels import quiet_label
from xref_app.gui.memory import WindowMemory
from xref_app.gui.message_line import MessageLine
from xref_app.gui.messages import LengthFirst, say
from xref_app.gui.pair_desk import PairDesk
from xref_app.gui.pair_part import PairPart
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.rows import named
from xref_app.gui.scan_guard import ScanGuard
from xref_app.gui.shelf_desk import ShelfDesk
from xref_app.gui.shelf_part import ShelfPart
from xref_app.gui.shortcut_guard import ShortcutGuard
from xref_app.gui.status_line import StatusLine
from xref_app.gui.tasks import Tasks
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate, Candidates, Found, Hit, Job

_FIRST_SIZE = QSize(1366, 690)


class MainWindow(QMainWindow):
    """Shows what the flow tells; every command lies in ``WindowCommands``."""

    closing = Signal()

    def __init__(
        self,
        desk: Desk,
        memory: WindowMemory,
        look: Look,
        bench: BenchDesk | None = None,
        shelf: ShelfDesk | None = None,
    ) -> None:
        super().__init__()
        self.setObjectName("main_window")
        self.look = look
        self.memory = memory
        look.setParent(self)
        self._desk = desk
        self.tasks = Tasks(self)
        self.flow = JobFlow(desk, self.tasks, self)
        self.guard = ScanGuard(self)
        self.actions_by_command: dict[Command, QAction] = build_actions(self)
        self.shortcut_guard = ShortcutGuard(self.actions_by_command.values(), self)
        fill_menu_bar(self.menuBar(), self.actions_by_command)
        named(self.menuBar(), "window_menu_bar", self.tr("Menu bar"))
        self._build_page(look)
        self.bench = None if bench is None else BenchPart(bench, self.flow, self.panes, look, memory)
        self._page_layout.addWidget(self.panes if self.bench is None else self.bench.pages, 1)
        self.drawing_saver = DrawingSaver(self.panes.fit.face, self.tasks, self)
        self.status = StatusLine(self)
        self.setStatusBar(self.status)
        self._connect()
        self.shelf = self._built_shelf(shelf)
        self.pairs: PairPart | None = None
        self._show_title()
        self.show_length_first(memory.length_first)
        self.resize(_FIRST_SIZE)
        app = QApplication.instance()
        if app is not None:
            app.installEventFilter(self.guard)
            app.installEventFilter(self.shortcut_guard)
        self.entry.line.setFocus()

    def _build_page(self, look: Look) -> None:
        page = named(QWidget(self), "window_central_page", self.tr("Work sheet"))
        self.read_as = quiet_label(page, "entry_read_as_label")
        self.entry = EntryBar(look, page, above_hits=self.read_as)
        self.chips = ChipRow(look, page)
        self.message = MessageLine(page)
        self.panes = PaneArea(look, page)
        understood = QHBoxLayout()
        understood.setSpacing(10)
        understood.addWidget(self.read_as, 1)
        understood.addWidget(self.chips)
        layout = QVBoxLayout(page)
        layout.setContentsMargins(8, 6, 8, 6)
        layout.setSpacing(6)
        layout.addWidget(self.entry)
        layout.addLayout(understood)
        layout.addWidget(self.message)
        self._page_layout = layout
        self.chips.show_facts(())
        self.setCentralWidget(page)
        order = (self.entry.line, self.entry.unit)
        QWidget.setTabOrder(*order)

    def _built_shelf(self, desk: ShelfDesk | None) -> ShelfPart | None:
        """Return the shelf beside the bench; it comes last, so that it hears of a verdict after the panes do."""
        if desk is None or self.bench is None:
            return None
        shelf = ShelfPart(desk, self.flow, self.panes, self.bench, look=self.look, memory=self.memory)
        self._page_layout.insertWidget(self._page_layout.indexOf(self.message) + 1, shelf.bar)
        shelf.said.connect(self.message.say)
        shelf.bar.opened.connect(self.message.clear)
        return shelf

    def add_pairs(self, desk: PairDesk) -> None:
        """Put the sheet that pairs up salvaged units beside the shelf; without a shelf there is none."""
        if self.bench is not None and self.shelf is not None:
            pairs = PairPart(desk, self.flow, self.bench, self.shelf.bar, look=self.look, memory=self.memory)
            pairs.said.connect(self.message.say)
            pairs.working.connect(self.status.show_working)
            pairs.progressed.connect(self.status.show_progress)
            self.pairs = pairs

    def _connect(self) -> None:
        entry, flow, panes = self.entry, self.flow, self.panes
        entry.asked.connect(flow.find)
        entry.text_taken.connect(self._take_text)
        entry.hit_taken.connect(flow.take)
        entry.went_down.connect(self._go_down)
        self.guard.scanned.connect(entry.take_scan)
        self.chips.removed.connect(flow.remove)
        flow.found.connect(self._show_found)
        flow.taken.connect(self._show_taken)
        flow.facts_changed.connect(self._show_facts)
        flow.job_opened.connect(self._show_job)
        flow.judged.connect(self._show_judged)
        flow.drawn.connect(panes.fit.show_drawings)
        flow.failed.connect(self.message.say)
        flow.crashed.connect(self._tell_crash)
        flow.working.connect(self.status.show_working)
        flow.progressed.connect(self.status.show_progress)
        panes.facts.build_chosen.connect(flow.take_build)
        panes.candidates.chosen.connect(self._show_candidate)
        self.drawing_saver.said.connect(self.message.say)
        self.drawing_saver.crashed.connect(self._tell_crash)
        if self.bench is not None:
            self.bench.said.connect(self.message.say)
            self.bench.flow.crashed.connect(self._tell_crash)
            flow.taken.connect(self.bench.show_work)

    def show_length_first(self, first: LengthFirst) -> None:
        """Show this unit of length first everywhere."""
        self.panes.facts.show_first(first)
        self.panes.fit.show_first(first)
        if self.bench is not None:
            self.bench.show_first(first)
        word = self.tr("inch first") if first is LengthFirst.INCH else self.tr("mm first")
        self.entry.unit.setText(word)
        self.entry.unit.setAccessibleName(self.tr("Unit of length: {word}").format(word=word))

    def _show_title(self) -> None:
        title = self._desk.title()
        self.setWindowTitle(f"{title} – xref-app" if title else "xref-app")
        self.status.show_catalog(title)
        if title:
            self.say_how_to_type()
        else:
            self.message.say(
                self.tr(
                    "No catalog yet. Read one: xref-app import FOLDER. "
                    "Or look around with made-up pumps: xref-app --sample."
                )
            )

    def say_how_to_type(self) -> None:
        """Say in the line below the entry what may be typed."""
        self.read_as.setText(self.tr("Put ? for a character you cannot read, * for several, [38] for 3 or 8."))

    @Slot(str)
    def _take_text(self, text: str) -> None:
        self.message.clear()
        self.flow.take_text(text)

    @Slot()
    def _go_down(self) -> None:
        self.panes.focus_pane(1)

    @Slot(object)
    def _show_found(self, found: Found) -> None:
        self.message.clear()
        more = found.total - len(found.hits)
        said = self.tr("Read as: {what}").format(what=say(found.read_as))
        if more > 0:
            said = self.tr("{said} {count} more not shown.").format(said=said, count=more)
        self.read_as.setText(said)
        self.entry.show_hits(found.hits, found.total)
        if not found.hits:
            default = self.tr("Nothing matches “{text}”. Put ? for a character you cannot read, or type the machine.")
            text = default.format(text=self.entry.line.text().strip())
            self.message.say(say(found.advice) if found.advice is not None else text)
        elif found.advice is not None:
            self.read_as.setText(f"{said} {say(found.advice)}")

    @Slot(object)
    def _show_taken(self, hit: Hit) -> None:
        self.message.clear()
        self.entry.show_taken(hit.number or hit.name)

    @Slot(object)
    def _show_facts(self, facts: tuple[UsedFact, ...]) -> None:
        self.chips.show_facts(facts)
        self.panes.facts.show_job(None)
        self.panes.candidates.show_waiting(self.tr("Reading…") if facts else "")
        if not facts:
            self.panes.fit.show_candidate(None)

    @Slot(object)
    def _show_job(self, job: Job) -> None:
        self.panes.facts.show_job(job)
        waiting = self.tr("Judging…") if is_judged(job) else self.tr("Say first which build is here.")
        self.panes.candidates.show_waiting(waiting)
        if not is_judged(job):
            self.panes.focus_pane(0)

    @Slot(object)
    def _show_judged(self, judged: Candidates) -> None:
        none = self.tr("The catalog holds no pump to ask about.")
        self.panes.candidates.show_judged(judged, none)
        self.panes.facts.show_next(judged.measure_next)

    @Slot(object)
    def _show_candidate(self, candidate: Candidate | None) -> None:
        waiting = "" if not self.flow.facts else self.tr("No pump chosen.")
        self.panes.fit.show_candidate(candidate, waiting)
        self.flow.look_at(candidate)

    @Slot()
    def _tell_crash(self) -> None:
        self.message.say(self.tr("A fault inside the program. Your work is kept; go on, or try the same again."))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Stop all work before the window goes."""
        app = QApplication.instance()
        if app is not None:
            app.removeEventFilter(self.guard)
            app.removeEventFilter(self.shortcut_guard)
        self.closing.emit()
        self.tasks.shut_down()
        if self.shelf is not None:
            self.shelf.shut_down()
        if self.pairs is not None:
            self.pairs.shut_down()
        if self.bench is not None:
            self.bench.shut_down()
        super().closeEvent(event)
