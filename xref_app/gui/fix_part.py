"""Where fix or replace meets the rest: its page, what is typed for each job, and what the shop has said before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.core.economics.engine_state import EngineState
from xref_app.core.economics.lines import LineKind, Way
from xref_app.core.sentence import Sentence, marked
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.fix_desk import FixDesk
from xref_app.gui.fix_memory import FixMemory
from xref_app.gui.fix_sheet import FixSheet
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate
from xref_app.services.fix_or_replace import Entries, ShopTexts, Typed, Worked, work_out
from xref_app.services.fix_plan import TYPED, Blank, FixPlan

# House rule: of older jobs nobody looks for what was typed.
_MOST_JOBS = 200

AS_LAST_TIME = marked("findings", "as last time")


class FixPart(QObject):
    """Opens the sheet over the work sheet; works everything out anew at each key, on the spot."""

    said = Signal(str)
    figures_changed = Signal()

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self,
        desk: FixDesk,
        job: JobFlow,
        panes: PaneArea,
        bench: BenchPart,
        *,
        look: Look,
        memory: WindowMemory,
        today: Callable[[], date] = date.today,
    ) -> None:
        super().__init__(panes)
        self._desk = desk
        self._job = job
        self._bench = bench
        self._memory = FixMemory(memory)
        self._today = today
        self._candidate: Candidate | None = None
        self._plan: FixPlan | None = None
        self._entries = Entries()
        self._kept: dict[int, Entries] = {}
        self._serial = 0
        self._suggested: dict[str, str] = {}
        self._usual: dict[str, Typed] = {}
        self._acts = OneAct(self)
        self.sheet = FixSheet(look)
        bench.pages.addWidget(self.sheet)
        self.worked: Worked | None = None
        self._connect(panes)

    def _connect(self, panes: PaneArea) -> None:
        self._acts.failed.connect(self.said)
        self._acts.crashed.connect(self._bench.flow.crashed)
        panes.candidates.chosen.connect(self._note_candidate)
        self._job.facts_changed.connect(self._forget_candidate)
        sheet = self.sheet
        sheet.leave_button.clicked.connect(self.leave)
        sheet.typed.connect(self._take_typed)
        sheet.ticked.connect(self._switch_tick)
        sheet.confirmed.connect(self._confirm)
        sheet.other_asked.connect(self._step_used)
        sheet.shop.shop_changed.connect(self._take_shop)
        sheet.shop.engine_changed.connect(self._take_engine)

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._bench.pages.currentWidget() is self.sheet

    @property
    def is_working(self) -> bool:
        """Say whether the suggestions are still on their way."""
        return self._acts.is_working

    @property
    def figures(self) -> Entries:
        """Return what was typed for the open job."""
        return self._kept.get(self._job.serial, Entries())

    def restore(self, serial: int, figures: Entries) -> None:
        """Put back what was typed for a job; the sheet must not be in front."""
        self._kept[serial] = figures

    @Slot()
    def shut_down(self) -> None:
        """Stop all work."""
        self._acts.shut_down()

    def show(self) -> None:
        """Bring the sheet to the front, its suggestions read anew; when it is there, go to the next open field."""
        if self.is_shown:
            self.sheet.go_to_next_open()
            return
        job, candidate = self._job.job, self._candidate
        # What was looked at and typed belongs to this one machine, not to its model.
        self._serial = self._job.serial
        self._acts.read(lambda: self._desk.suggest(job, candidate), self._show_plan)

    @Slot()
    def leave(self) -> None:
        """Go back to the work sheet; what was typed is kept for the job."""
        self._bench.show_work()

    @Slot(object)
    def _show_plan(self, plan: object) -> None:
        if not isinstance(plan, FixPlan):
            return
        self._plan = plan
        kept = self._kept.get(self._serial, Entries())
        engine = replace(kept.engine, is_electric=plan.is_electric)
        blanks = [blank for planned in (*plan.columns(0), *plan.used) for blank in planned.blanks]
        self._suggested = {blank.figure: blank.text for blank in blanks}
        self._usual = self._usual_minutes(blanks)
        typed = {**self._usual, **kept.typed}
        self._entries = replace(kept, typed=typed, shop=self._memory.shop(), engine=engine)
        self.sheet.shop.show_shop(self._entries.shop)
        self.sheet.shop.show_engine(engine)
        self._bench.show_page(self.sheet)
        self.sheet.show_plan(plan, self._entries)
        self._work_out()
        self.sheet.go_to_first_open()

    def _usual_minutes(self, blanks: Sequence[Blank]) -> dict[str, Typed]:
        found: dict[str, Typed] = {}
        for blank in blanks:
            usual = self._memory.minutes(blank.figure) if blank.kind is LineKind.WORK else None
            if usual is not None:
                found[blank.figure] = Typed(usual[0], usual[1], Sentence(AS_LAST_TIME))
        return found

    # -- what a person says

    @Slot(str, str)
    def _take_typed(self, figure: str, text: str) -> None:
        self._entries = replace(self._entries, typed=self._with(figure, text))
        worked = self._work_out()
        if worked is not None and figure.endswith(".minutes") and figure not in worked.faults:
            self._memory.keep_minutes(figure, text, self._today())

    def _with(self, figure: str, text: str) -> dict[str, Typed]:
        """Return what is typed with ``text`` in ``figure``; what stood there at first is nobody's new word.

        So a scan that went in and out of a field does not make an old price a new one.
        """
        typed = {name: one for name, one in self._entries.typed.items() if name != figure}
        usual = self._usual.get(figure)
        if usual is not None and usual.text == text:
            return {**typed, figure: usual}
        if text == self._suggested.get(figure):
            return typed
        return {**typed, figure: Typed(text, self._today(), Sentence(TYPED))}

    @Slot(object)
    def _switch_tick(self, way: Way) -> None:
        self._entries = replace(self._entries, ticked=self._entries.ticked ^ {way.name})
        self._work_out()

    @Slot(object)
    def _confirm(self, way: Way) -> None:
        """Take it that the old prices of one column still hold today; the keys go on where they were."""
        total = self.worked.comparison.total(way) if self.worked is not None else None
        if total is None:
            return
        old = {one.line.key: self._today() for one in total.lines if one.is_set_aside}
        self._entries = replace(self._entries, confirmed={**self._entries.confirmed, **old})
        self.sheet.go_on()
        self._work_out()

    @Slot()
    def _step_used(self) -> None:
        if self._plan is None:
            return
        place = (self._entries.used_place + 1) % len(self._plan.used)
        ticked = self._entries.ticked - {Way.USED.name}
        self._entries = replace(self._entries, used_place=place, ticked=ticked)
        self.sheet.show_plan(self._plan, self._entries)
        self._work_out()

    @Slot(object)
    def _take_shop(self, shop: ShopTexts) -> None:
        self._memory.keep_shop(shop)
        self._entries = replace(self._entries, shop=shop)
        self._work_out()

    @Slot(object)
    def _take_engine(self, engine: EngineState) -> None:
        self._entries = replace(self._entries, engine=engine)
        self._work_out()

    def _work_out(self) -> Worked | None:
        if self._plan is None:
            return None
        today = self._today()
        self._kept[self._serial] = self._entries
        while len(self._kept) > _MOST_JOBS:
            del self._kept[min(self._kept)]
        self.worked = work_out(self._plan, self._entries, today=today)
        self.sheet.show_worked(self.worked, self._entries, today)
        self.figures_changed.emit()
        return self.worked

    # -- the open job

    @Slot(object)
    def _note_candidate(self, candidate: Candidate | None) -> None:
        self._candidate = candidate

    @Slot(object)
    def _forget_candidate(self, _facts: object) -> None:
        self._candidate = None
