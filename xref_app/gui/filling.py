"""Builds what works in the window into its frame, in steps short enough to type between."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.gui.actions import Command
from xref_app.gui.bench_desk import BenchDesk
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.counter_part import CounterPart
from xref_app.gui.desks import Desks
from xref_app.gui.fix_desk import FixDesk
from xref_app.gui.fix_part import FixPart
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.main_window import MainWindow
from xref_app.gui.shelf_desk import ShelfDesk
from xref_app.gui.shelf_part import ShelfPart
from xref_app.gui.window_commands import WindowCommands
from xref_app.gui.window_parts import WindowParts


def fill(window: MainWindow, desks: Desks) -> Iterator[None]:
    """Make ``window``, as painted first, whole; pauses where events may be handled. On the GUI thread."""
    counter = CounterPart(desks.counter, window)
    yield
    bench: BenchPart | None = None
    if desks.bench is not None:
        bench = _built_bench(desks.bench, counter, window)
        yield
    shelf: ShelfPart | None = None
    if bench is not None and desks.shelf is not None:
        # After the panes, so that it hears of a verdict later than they do.
        shelf = _built_shelf(desks.shelf, counter, bench, window)
        yield
    fix: FixPart | None = None
    if bench is not None and desks.fix is not None:
        fix = _built_fix(desks.fix, counter, bench, window)
        yield
    is_it: IsItPart | None = None
    if bench is not None and desks.bench is not None:
        is_it = _built_is_it(desks.bench, counter, bench, window)
        yield
    counter.listen()
    window.take_parts(WindowParts(counter, bench, shelf, fix, is_it))
    window.show_length_first(window.memory.length_first)
    # Pressed too early it did nothing, but its mark was set.
    window.actions_by_command[Command.FULL_SCREEN].setChecked(window.isFullScreen())
    WindowCommands(window)
    yield
    window.fill_room(counter.panes if bench is None else bench.pages, None if shelf is None else shelf.bar)
    window.show_title(desks.counter.title())


def _built_bench(desk: BenchDesk, counter: CounterPart, window: MainWindow) -> BenchPart:
    bench = BenchPart(desk, counter.flow, counter.panes, window.look, window.memory)
    bench.said.connect(window.message.say)
    bench.flow.crashed.connect(window.tell_crash)
    counter.flow.taken.connect(bench.show_work)
    return bench


def _built_shelf(desk: ShelfDesk, counter: CounterPart, bench: BenchPart, window: MainWindow) -> ShelfPart:
    shelf = ShelfPart(desk, counter.flow, counter.panes, bench, look=window.look, memory=window.memory)
    shelf.said.connect(window.message.say)
    shelf.bar.opened.connect(window.message.clear)
    return shelf


def _built_fix(desk: FixDesk, counter: CounterPart, bench: BenchPart, window: MainWindow) -> FixPart:
    fix = FixPart(desk, counter.flow, counter.panes, bench, look=window.look, memory=window.memory)
    fix.said.connect(window.message.say)
    return fix


def _built_is_it(desk: BenchDesk, counter: CounterPart, bench: BenchPart, window: MainWindow) -> IsItPart:
    is_it = IsItPart(desk, counter.flow, bench, window.look)
    is_it.said.connect(window.message.say)
    return is_it
