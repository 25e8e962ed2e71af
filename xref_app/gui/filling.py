"""Builds what works in the window into its frame, in steps short enough to type between."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from xref_app.gui.actions import Command
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.bundle_part import BundlePart
from xref_app.gui.catalog_file_part import CatalogFilePart
from xref_app.gui.copies_part import CopiesPart
from xref_app.gui.copy_watch import CopyWatch
from xref_app.gui.counter_part import CounterPart
from xref_app.gui.desks import Desks
from xref_app.gui.export_part import ExportPart
from xref_app.gui.fix_part import FixPart
from xref_app.gui.happened_part import HappenedPart
from xref_app.gui.health_part import HealthPart
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.jobs_part import JobsPart
from xref_app.gui.main_window import MainWindow
from xref_app.gui.mending_part import MendingPart
from xref_app.gui.pair_part import PairPart
from xref_app.gui.paper_part import PaperPart
from xref_app.gui.shelf_part import ShelfPart
from xref_app.gui.supplier_part import SupplierPart
from xref_app.gui.window_commands import WindowCommands
from xref_app.gui.window_parts import WindowParts


def fill(window: MainWindow, desks: Desks) -> Iterator[None]:
    """Make ``window``, as painted first, whole; pauses where events may be handled. On the GUI thread."""
    counter = CounterPart(desks.counter, window)
    parts = WindowParts(counter)
    yield
    # The shelf after the panes, so that it hears of a verdict later than they do.
    sheets = (_with_fix, _with_pairs, _with_is_it, _with_jobs, _with_records, _with_paper)
    data = (_with_suppliers, _with_files, _with_copies)
    for build in (_with_bench, _with_shelf, *sheets, *data):
        parts = build(parts, desks, window)
        yield
    counter.listen()
    window.take_parts(parts)
    window.show_length_first(window.memory.length_first)
    # Pressed too early it did nothing, but its mark was set.
    window.actions_by_command[Command.FULL_SCREEN].setChecked(window.isFullScreen())
    WindowCommands(window)
    yield
    bench, shelf = parts.bench, parts.shelf
    window.fill_room(counter.panes if bench is None else bench.pages, None if shelf is None else shelf.bar)
    if parts.jobs is not None:
        window.put_above_room(parts.jobs.banner)
    window.show_title(desks.counter.title())
    if parts.catalog_file is not None:
        parts.catalog_file.ask_in_use()


def _with_bench(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.bench is None:
        return parts
    counter = parts.counter
    bench = BenchPart(desks.bench, counter.flow, counter.panes, window.look, window.memory)
    bench.said.connect(window.message.say)
    bench.flow.crashed.connect(window.tell_crash)
    counter.flow.taken.connect(bench.show_work)
    return replace(parts, bench=bench)


def _with_shelf(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.shelf is None or parts.bench is None:
        return parts
    counter = parts.counter
    shelf = ShelfPart(desks.shelf, counter.flow, counter.panes, parts.bench, look=window.look, memory=window.memory)
    shelf.said.connect(window.message.say)
    shelf.bar.opened.connect(window.message.clear)
    counter.reads_labels = True
    counter.label_entered.connect(shelf.show_place)
    return replace(parts, shelf=shelf)


def _with_fix(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.fix is None or parts.bench is None:
        return parts
    counter = parts.counter
    fix = FixPart(desks.fix, counter.flow, counter.panes, parts.bench, look=window.look, memory=window.memory)
    fix.said.connect(window.message.say)
    return replace(parts, fix=fix)


def _with_pairs(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.pairs is None or parts.bench is None or parts.shelf is None:
        return parts
    flow, bar = parts.counter.flow, parts.shelf.bar
    pairs = PairPart(desks.pairs, flow, parts.bench, bar, look=window.look, memory=window.memory)
    pairs.said.connect(window.message.say)
    pairs.working.connect(window.status.show_working)
    pairs.progressed.connect(window.status.show_progress)
    return replace(parts, pairs=pairs)


def _with_is_it(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.bench is None or parts.bench is None:
        return parts
    is_it = IsItPart(desks.bench, parts.counter.flow, parts.bench, window.look)
    is_it.said.connect(window.message.say)
    return replace(parts, is_it=is_it)


def _with_jobs(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.jobs is None or parts.bench is None:
        return parts
    flow, panes, bench = parts.counter.flow, parts.counter.panes, parts.bench
    jobs = JobsPart(
        desks.jobs,
        flow,
        panes,
        bench,
        fix=parts.fix,
        is_it=parts.is_it,
        page=window.page,
        look=window.look,
        memory=window.memory,
    )
    jobs.said.connect(window.message.say)
    return replace(parts, jobs=jobs)


def _with_records(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.happened is None or desks.health is None or parts.bench is None or parts.shelf is None:
        return parts
    counter, bench, bar = parts.counter, parts.bench, parts.shelf.bar
    look, memory = window.look, window.memory
    happened = HappenedPart(desks.happened, counter.flow, counter.panes, bench, bar, look=look, memory=memory)
    happened.said.connect(window.message.say)
    if parts.jobs is not None:
        happened.written.connect(parts.jobs.keeper.note_outcome)
    asked = (desks.health, desks.happened)
    health = HealthPart(asked, counter.flow, counter.panes, bench, bar, look=look, memory=memory)
    health.said.connect(window.message.say)
    health.working.connect(window.status.show_working)
    health.progressed.connect(window.status.show_progress)
    return replace(parts, happened=happened, health=health)


def _with_suppliers(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.suppliers is None or parts.bench is None or parts.shelf is None:
        return parts
    flow, bar = parts.counter.flow, parts.shelf.bar
    suppliers = SupplierPart(desks.suppliers, flow, parts.bench, bar, look=window.look, memory=window.memory)
    suppliers.said.connect(window.message.say)
    suppliers.working.connect(window.status.show_working)
    suppliers.progressed.connect(window.status.show_progress)
    window.file_dropped.connect(suppliers.read)
    window.setAcceptDrops(True)
    return replace(parts, suppliers=suppliers)


def _with_paper(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if parts.bench is None:
        return parts
    counter = parts.counter
    paper = PaperPart(desks.counter, counter.flow, counter.panes, parts.bench, look=window.look, memory=window.memory)
    paper.said.connect(window.message.say)
    if parts.shelf is not None:
        parts.shelf.label_pressed.connect(paper.show_label)
    return replace(parts, paper=paper)


def _with_copies(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.copies is None or parts.bench is None or parts.shelf is None:
        return parts
    bench, bar, look, memory = parts.bench, parts.shelf.bar, window.look, window.memory
    copies = CopiesPart(desks.copies, parts.counter.flow, bench, bar, look=look, memory=memory)
    bundle = BundlePart(desks.copies, bench, look=look)
    mending = MendingPart(desks.copies, bench, bar, memory)
    watch = CopyWatch(desks.copies, window.status, memory, copies)
    for part in (copies, bundle, mending):
        part.said.connect(window.message.say)
        part.working.connect(window.status.show_working)
        part.progressed.connect(window.status.show_progress)
    watch.said.connect(window.message.say)
    watch.crashed.connect(window.tell_crash)
    copies.works_from.connect(watch.show_works_from)
    mending.righted.connect(copies.go_on)
    copies.bundle_pressed.connect(bundle.show)
    if parts.health is not None:
        parts.health.opened.connect(copies.count)
        parts.health.mend_pressed.connect(mending.put_right)
        copies.counted.connect(parts.health.say_copies)
        mending.righted.connect(parts.health.read_again)
    return replace(parts, copies=copies, bundle=bundle, mending=mending, watch=watch)


def _with_files(parts: WindowParts, desks: Desks, window: MainWindow) -> WindowParts:
    if desks.catalog_files is None or parts.bench is None or parts.shelf is None:
        return parts
    counter, bench, bar = parts.counter, parts.bench, parts.shelf.bar
    desk, look = desks.catalog_files, window.look
    files = CatalogFilePart(desk, counter.flow, counter.panes, bench, bar, look=look, memory=window.memory)
    files.said.connect(window.message.say)
    files.began.connect(window.message.clear)
    files.working.connect(window.status.show_working)
    files.progressed.connect(window.status.show_progress)
    files.in_use_told.connect(window.status.show_in_use)
    files.catalog_changed.connect(partial(_name_catalog, window, desks))
    if parts.jobs is not None:
        files.job_chosen.connect(parts.jobs.reopen)
    export = ExportPart(desk, counter.flow, counter.panes, bench, look=look)
    export.said.connect(window.message.say)
    return replace(parts, catalog_file=files, export=export)


def _name_catalog(window: MainWindow, desks: Desks) -> None:
    """Name the catalog anew where its first entry has come, or its last one gone."""
    title = desks.counter.title()
    if title != window.status.catalog:
        window.show_title(title)
