"""Jobs are kept by themselves and reopen as they were; what has changed since is said, nothing is lost or doubled."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication, QComboBox, QStyleOptionViewItem, QTableView
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.conftest import Open as OpenWindow
from tests.gui.test_names import controls, unnamed
from tests.services.bench_store import sample_store
from xref_app.core.sentence import Sentence
from xref_app.gui.actions import Command
from xref_app.gui.colours import ThemeName
from xref_app.gui.help_jobs import JOBS_HELP
from xref_app.gui.jobs_part import JobsPart
from xref_app.gui.jobs_table import JobColumn
from xref_app.services.fix_or_replace import Typed
from xref_app.services.job_lines import filtered, job_lines
from xref_app.services.jobs import JobBook, LastJobs
from xref_app.services.kept_job import KeptJob
from xref_app.services.used_fact import UsedFact
from xref_app.store.connect import writing
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import withdraw

__all__ = ["open_bench"]

Open = Callable[[], Hands]
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
MACHINE, PUMP, CHOSEN = "FL-54C3", "P-001", "P-002"
NOTHING = "Nothing that it rests on has changed since."


@pytest.fixture
def open_quick(open_bench: Open) -> Open:
    """Return what opens a window that keeps its jobs without waiting for a second."""

    def open_one() -> Hands:
        hands = open_bench()
        part_of(hands).keeper._soon.setInterval(1)
        return hands

    return open_one


def part_of(hands: Hands) -> JobsPart:
    assert hands.window.jobs is not None
    return hands.window.jobs


def book_of(hands: Hands) -> JobBook:
    book = part_of(hands)._desk
    assert isinstance(book, JobBook)
    return book


def take_machine(hands: Hands) -> None:
    """Open the job of a machine, its first build chosen."""
    hands.window.entry.take_scan(MACHINE)
    hands.settle()
    builds = hands.window.panes.facts.view
    builds.activated.emit(builds.model().index(0, 0))
    hands.settle()


def choose(hands: Hands, pump: str = CHOSEN) -> None:
    hands.window.panes.candidates.choose(pump)
    hands.settle()


def chosen_id(hands: Hands) -> str:
    row = hands.window.panes.candidates.view.currentIndex().data(Qt.ItemDataRole.UserRole)
    return "" if row is None else str(row.entry_id)


def answer(hands: Hands) -> None:
    """Answer the first question of "Is it the pump?" and leave the sheet."""
    hands.press(Qt.Key.Key_D, CTRL | SHIFT)
    hands.press(Qt.Key.Key_Right)
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_Escape)


def type_figure(hands: Hands) -> None:
    """Type a figure into the first open field of "Fix or replace" and leave the sheet."""
    hands.press(Qt.Key.Key_F8)
    hands.type("31.50")
    hands.press(Qt.Key.Key_Escape)


def kept(qtbot: QtBot, hands: Hands) -> tuple[KeptJob, ...]:
    """Wait until the program has kept all by itself, then return what stands in the store."""
    keeper = part_of(hands).keeper
    qtbot.waitUntil(lambda: keeper.is_kept and not keeper.is_working, timeout=5000)
    return book_of(hands).last().jobs


def full_job(qtbot: QtBot, hands: Hands) -> KeptJob:
    """Make a job that carries everything, and return it as it was kept."""
    take_machine(hands)
    choose(hands)
    hands.window.flow.set_reference("4711")
    answer(hands)
    type_figure(hands)
    (job,) = kept(qtbot, hands)
    return job


def show_jobs(hands: Hands) -> None:
    hands.press(Qt.Key.Key_J, CTRL | SHIFT)
    assert part_of(hands).is_shown


def reopen_first(hands: Hands) -> None:
    show_jobs(hands)
    hands.press(Qt.Key.Key_Return)
    assert not part_of(hands).is_shown


# -- keeping


CHANGES: dict[str, tuple[Callable[[Hands], None], Callable[[KeptJob], object], object]] = {
    "pump chosen": (choose, lambda job: (job.chosen_id, job.told.verdict), (CHOSEN, "Fits with parts")),
    "reference": (lambda hands: hands.window.flow.set_reference("4711"), lambda job: job.reference, "4711"),
    "answers": (answer, lambda job: len(job.answers.by_id), 1),
    "figures": (type_figure, lambda job: [one.text for one in job.figures.typed.values()], ["31.50"]),
    "outcome": (lambda hands: part_of(hands).keeper.note_outcome("O-1"), lambda job: job.outcome_ids, ("O-1",)),
}


@pytest.mark.parametrize("change", CHANGES)
def test_the_job_is_kept_by_itself_after_each_change(qtbot: QtBot, open_bench: Open, change: str) -> None:
    make, read, wanted = CHANGES[change]
    hands = open_bench()
    take_machine(hands)
    (before,) = kept(qtbot, hands)
    assert [one.entry_id for one in before.facts] == ["M-001"]
    assert before.chosen_id == PUMP
    assert read(before) != wanted
    make(hands)
    (after,) = kept(qtbot, hands)
    assert read(after) == wanted
    assert after.job_id == before.job_id


def test_a_fact_added_or_taken_away_is_kept(qtbot: QtBot, open_bench: Open) -> None:
    hands = open_bench()
    hands.window.entry.take_scan("NX 270-25")
    hands.settle()
    (first,) = kept(qtbot, hands)
    take_machine(hands)
    (second,) = kept(qtbot, hands)
    hands.window.flow.remove(second.facts[0])
    hands.settle()
    (third,) = kept(qtbot, hands)
    assert [one.entry_id for one in second.facts] == [PUMP, "M-001"]
    assert (third.facts, first.facts) == (second.facts[1:], second.facts[:1])
    assert first.job_id == third.job_id


def test_a_job_without_a_fact_is_not_kept(qtbot: QtBot, open_bench: Open) -> None:
    hands = open_bench()
    answer(hands)
    hands.press(Qt.Key.Key_N, CTRL)
    assert kept(qtbot, hands) == ()


@pytest.mark.parametrize("leave", ["new job", "another pump", "close"])
def test_a_job_that_is_left_is_kept_at_once(open_bench: Open, leave: str) -> None:
    hands = open_bench()
    book, keeper = book_of(hands), part_of(hands).keeper
    keeper._soon.setInterval(10_000_000)
    hands.window.entry.take_scan("NX 270-25")
    hands.settle()
    hands.window.flow.set_reference("4711")
    assert not keeper.is_kept
    if leave == "close":
        hands.window.close()
    elif leave == "new job":
        hands.press(Qt.Key.Key_N, CTRL)
    else:
        hands.window.entry.take_scan("NX 270-25")
        hands.settle()
    assert book.last().jobs[-1].reference == "4711"


def test_a_job_is_kept_off_the_thread_that_takes_the_keys(qtbot: QtBot, open_bench: Open) -> None:
    hands = open_bench()
    threads: list[threading.Thread] = []
    book = book_of(hands)

    class Watched(JobBook):
        def keep(self, job: KeptJob) -> KeptJob:
            threads.append(threading.current_thread())
            return book.keep(job)

    part_of(hands).keeper._desk = Watched(book._store, book._catalog)
    take_machine(hands)
    kept(qtbot, hands)
    assert threads
    assert threading.main_thread() not in threads


def test_a_keep_that_fails_is_told_once_and_tried_again(qtbot: QtBot, open_bench: Open, tmp_path: Path) -> None:
    hands = open_bench()
    told: list[str] = []
    part_of(hands).said.connect(told.append)
    with writing(sample_store(tmp_path)) as connection:
        connection.exec_driver_sql("CREATE TRIGGER no BEFORE INSERT ON jobs BEGIN SELECT RAISE(ABORT, 'no'); END")
    take_machine(hands)
    qtbot.waitUntil(lambda: len(told) == 1, timeout=5000)
    hands.window.flow.set_reference("4711")
    qtbot.waitUntil(lambda: not part_of(hands).keeper._soon.isActive() and not part_of(hands).is_working, timeout=5000)
    assert len(told) == 1
    assert told[0].startswith("The job is not kept for later: ")
    with writing(sample_store(tmp_path)) as connection:
        connection.exec_driver_sql("DROP TRIGGER no")
    choose(hands)
    (job,) = kept(qtbot, hands)
    assert (job.reference, job.chosen_id) == ("4711", CHOSEN)


def test_two_windows_on_one_store_keep_their_jobs_beside_each_other(qtbot: QtBot, open_bench: Open) -> None:
    first, second = open_bench(), open_bench()
    for hands, reference in ((first, "A"), (second, "B"), (first, "A2"), (second, "B2")):
        if not hands.window.flow.facts:
            take_machine(hands)
        hands.window.flow.set_reference(reference)
        kept(qtbot, hands)
    assert [one.reference for one in book_of(first).last().jobs] == ["B2", "A2"]


def test_one_job_reopened_in_two_windows_is_written_over_in_neither(qtbot: QtBot, open_bench: Open) -> None:
    first, second = open_bench(), open_bench()
    job = full_job(qtbot, first)
    part_of(second).reopen(job)
    second.settle()
    assert second.window.flow.facts == job.facts
    second.window.flow.set_reference("theirs")
    kept(qtbot, second)
    first.window.flow.set_reference("ours")
    assert {one.reference for one in kept(qtbot, first)} == {"ours", "theirs"}
    assert next(one for one in kept(qtbot, second) if one.reference == "theirs").job_id == job.job_id
    first.window.flow.set_reference("ours still")
    assert [one.reference for one in kept(qtbot, first)] == ["ours still", "theirs"]


# -- reopening


def test_a_job_reopens_in_another_window_as_it_was(qtbot: QtBot, open_quick: Open) -> None:
    first = open_quick()
    job = full_job(qtbot, first)
    first.window.close()
    hands = open_quick()
    reopen_first(hands)
    window = hands.window
    assert window.flow.facts == job.facts
    assert window.flow.reference == "4711"
    assert window.flow.job is not None
    assert (window.flow.job.title, window.flow.job.reference) == (job.title, "4711")
    assert chosen_id(hands) == CHOSEN
    assert window.is_it is not None
    assert window.is_it.answers == job.answers
    assert not window.is_it.answers.is_empty
    assert window.fix is not None
    assert window.fix.figures.typed == job.figures.typed
    figure = next(iter(job.figures.typed))
    assert job.figures.typed[figure] == Typed("31.50", date.today(), Sentence("typed"))  # noqa: DTZ011 - shop's day
    (again,) = kept(qtbot, hands)
    assert again.job_id == job.job_id
    assert (again.told, again.chosen_id) == (job.told, CHOSEN)


def test_figures_and_answers_stand_in_their_fields_again(qtbot: QtBot, open_quick: Open) -> None:
    first = open_quick()
    job = full_job(qtbot, first)
    first.window.close()
    hands = open_quick()
    reopen_first(hands)
    hands.press(Qt.Key.Key_F8)
    assert hands.window.fix is not None
    assert "31.50" in [line.text() for line in hands.window.fix.sheet._stops()]
    hands.press(Qt.Key.Key_Escape)
    hands.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert hands.window.is_it is not None
    ((question, given),) = job.answers.by_id.items()
    field = hands.window.is_it.sheet.questions.rows[question].field
    assert isinstance(field, QComboBox)
    assert field.currentText() == given.text


def test_the_banner_says_when_it_was_kept_and_that_nothing_changed(qtbot: QtBot, open_quick: Open) -> None:
    hands = open_quick()
    job = full_job(qtbot, hands)
    hands.press(Qt.Key.Key_N, CTRL)
    reopen_first(hands)
    banner = part_of(hands).banner
    assert banner.is_open
    assert banner.line.text().startswith(f"Job 4711 as it was kept {job.changed_at[:4]}-")
    assert banner.line.text().endswith(NOTHING)
    assert not banner.more_button.isVisible()
    hands.press(Qt.Key.Key_Escape)
    assert not banner.is_open
    assert hands.window.flow.facts == job.facts


def test_a_job_reopened_twice_stays_one(qtbot: QtBot, open_quick: Open) -> None:
    hands = open_quick()
    job = full_job(qtbot, hands)
    for _ in range(2):
        hands.press(Qt.Key.Key_N, CTRL)
        reopen_first(hands)
        assert [one.job_id for one in kept(qtbot, hands)] == [job.job_id]
    show_jobs(hands)
    hands.press(Qt.Key.Key_Return)
    assert hands.window.message.text == "This is the job that is open."
    assert [one.job_id for one in kept(qtbot, hands)] == [job.job_id]


def test_a_job_whose_facts_were_taken_away_reopens_as_it_was_kept(qtbot: QtBot, open_quick: Open) -> None:
    hands = open_quick()
    job = full_job(qtbot, hands)
    hands.window.flow.remove(job.facts[0])
    hands.settle()
    assert hands.window.flow.facts == ()
    reopen_first(hands)
    assert hands.window.flow.facts == job.facts
    assert chosen_id(hands) == CHOSEN
    assert [one.job_id for one in kept(qtbot, hands)] == [job.job_id]


def test_what_changed_since_is_told_and_folds(qtbot: QtBot, open_quick: Open, tmp_path: Path) -> None:
    """A reading of the machine is withdrawn as misread: verdict, checks and size change (tests/services/test_jobs)."""
    first = open_quick()
    take_machine(first)
    kept(qtbot, first)
    first.window.close()
    store = sample_store(tmp_path)
    machine = CatalogRepository(store).machine("M-001")
    assert machine is not None
    (row,) = CatalogRepository(store).versions_of(machine.driver_id, "power_kw")
    withdraw(store, "observations", (row.observation_id,), who="Ana", why="misread")
    hands = open_quick()
    reopen_first(hands)
    banner = part_of(hands).banner
    assert "Catalog number 1 then, 2 now. NX 270-25: “Fits as is” then, “Not known yet” now." in banner.line.text()
    assert banner.more_button.text() == "3 more"
    assert not banner.all.isVisible()
    banner.more_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert banner.all.toPlainText().splitlines() == [
        "Catalog number 1 then, 2 now.",
        "NX 270-25: “Fits as is” then, “Not known yet” now.",
        "Check key load: pass then, unknown now.",
        "Check power: pass then, unknown now.",
        "Rated power is not known any more; it was 4.847 kW (6.5 hp).",
    ]
    assert banner.more_button.text() == "Fold"
    assert banner.all.isVisible()
    assert not banner.all.verticalScrollBar().isVisible()
    (job,) = kept(qtbot, hands)
    assert job.told.verdict == "Not known yet"
    assert job.told.catalog_number == 2


def test_a_chosen_pump_that_was_withdrawn_is_told(qtbot: QtBot, open_quick: Open, tmp_path: Path) -> None:
    first = open_quick()
    full_job(qtbot, first)
    first.window.close()
    withdraw(sample_store(tmp_path), "entries", (CHOSEN,), who="Ana", why="never existed")
    hands = open_quick()
    reopen_first(hands)
    assert " is not in the catalog any more." in part_of(hands).banner.line.text()
    assert chosen_id(hands) == PUMP


def test_a_job_of_which_nothing_is_left_says_so_and_stays_kept(qtbot: QtBot, open_quick: Open, tmp_path: Path) -> None:
    first = open_quick()
    first.window.entry.take_scan("NX 270-25")
    first.settle()
    (job,) = kept(qtbot, first)
    first.window.close()
    withdraw(sample_store(tmp_path), "entries", (PUMP,), who="Ana", why="never existed")
    hands = open_quick()
    reopen_first(hands)
    assert "NX 270-25 is not in the catalog any more." in part_of(hands).banner.line.text()
    assert hands.window.flow.facts == ()
    assert [one.job_id for one in kept(qtbot, hands)] == [job.job_id]


def test_the_banner_goes_when_the_job_is_left_and_the_pump_is_chosen_again_on_coming_back(
    qtbot: QtBot, open_quick: Open
) -> None:
    hands = open_quick()
    full_job(qtbot, hands)
    hands.press(Qt.Key.Key_N, CTRL)
    reopen_first(hands)
    assert part_of(hands).banner.is_open
    hands.press(Qt.Key.Key_N, CTRL)
    assert not part_of(hands).banner.is_open
    hands.press(Qt.Key.Key_Tab, CTRL)
    assert chosen_id(hands) == CHOSEN
    assert not part_of(hands).banner.is_open


# -- the sheet


def test_nothing_kept_yet_is_one_sentence(open_quick: Open) -> None:
    hands = open_quick()
    show_jobs(hands)
    sheet = part_of(hands).sheet
    assert sheet.count.text().startswith("No job is kept yet: ")
    assert sheet.filter.hasFocus()
    assert not sheet.reopen_button.isEnabled()
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_F6)
    assert sheet.filter.hasFocus()
    hands.press(Qt.Key.Key_Escape)
    assert not part_of(hands).is_shown


def three_jobs(qtbot: QtBot, hands: Hands) -> None:
    for reference, number in (("4711", "NX 270-25"), ("4712", MACHINE), ("", "NX 270-25")):
        hands.press(Qt.Key.Key_N, CTRL)
        hands.window.entry.take_scan(number)
        hands.settle()
        hands.window.flow.set_reference(reference)
    kept(qtbot, hands)


def test_the_sheet_is_worked_by_keys_alone(qtbot: QtBot, open_quick: Open) -> None:
    hands = open_quick()
    three_jobs(qtbot, hands)
    show_jobs(hands)
    sheet = part_of(hands).sheet
    assert [one.job.reference for one in sheet.shown] == ["", "4712", "4711"]
    assert sheet.table.hasFocus()
    hands.press(Qt.Key.Key_F6)
    assert sheet.filter.hasFocus()
    hands.type("nx 4711")
    assert [one.job.reference for one in sheet.shown] == ["4711"]
    assert sheet.count.text() == "1 of 3 kept"
    hands.press(Qt.Key.Key_Return)
    assert sheet.table.hasFocus()
    hands.press(Qt.Key.Key_Return)
    assert hands.window.flow.reference == "4711"
    show_jobs(hands)
    hands.press(Qt.Key.Key_F6)
    hands.type("zzz")
    assert sheet.count.text() == "No job holds all of that; shorten what is typed."
    hands.press(Qt.Key.Key_Escape)
    assert not part_of(hands).is_shown


def test_the_filter_finds_by_every_column() -> None:
    job = KeptJob("j", "4711", "Tern 27", (UsedFact("machine", "M", "TR-1"),), "P", "NX 1", outcome_ids=("O",))
    line = job_lines(LastJobs((job,), outcomes={"O": "did not fit"}))
    for typed in ("4711", "tern", "tr-1", "nx", "DID not", "fit 47"):
        assert filtered(line, typed) == line, typed
    assert filtered(line, "4712") == ()


def test_a_damaged_job_is_named_and_the_others_are_there(qtbot: QtBot, open_quick: Open, tmp_path: Path) -> None:
    hands = open_quick()
    three_jobs(qtbot, hands)
    with writing(sample_store(tmp_path)) as connection:
        connection.exec_driver_sql("UPDATE jobs SET content = '{}' WHERE content LIKE '%4712%'")
    show_jobs(hands)
    sheet = part_of(hands).sheet
    assert [one.job.reference for one in sheet.shown] == ["", "4711"]
    assert "cannot be read (it is damaged); it is left aside as it is, nothing else is." in sheet.count.text()


def test_an_outcome_entered_on_a_job_stands_in_its_row(open_quick: Open, tmp_path: Path) -> None:
    hands = open_quick()
    outcome = CatalogRepository(sample_store(tmp_path)).outcomes()[0]
    take_machine(hands)
    part_of(hands).keeper.note_outcome(outcome.outcome_id)
    show_jobs(hands)
    model = part_of(hands).sheet.table.model()
    assert model.index(0, JobColumn.OUTCOME).data() == outcome.result
    assert model.index(0, JobColumn.VERDICT).data() == "Fits as is"


def test_a_catalog_that_is_only_looked_at_keeps_nothing_and_says_so(open_window: OpenWindow) -> None:
    window = open_window(text="K4872-20")
    assert window.jobs is None
    window.actions_by_command[Command.JOBS].trigger()
    assert window.message.text == "This catalog is only looked at: nothing can be entered."


def test_the_sheet_is_built_when_it_is_first_shown(open_quick: Open) -> None:
    hands = open_quick()
    assert not part_of(hands)._page.is_built
    show_jobs(hands)
    assert part_of(hands)._page.is_built


def test_every_place_has_a_name_and_a_paragraph_of_help(qtbot: QtBot, open_quick: Open) -> None:
    hands = open_quick()
    three_jobs(qtbot, hands)
    show_jobs(hands)
    assert not unnamed(hands.window)
    names = {one.objectName() for one in controls(hands.window)}
    assert set(JOBS_HELP) == {one for one in names if one.startswith(("jobs_", "reopened_"))}


@pytest.mark.parametrize("percent", [100, 150])
@pytest.mark.parametrize("theme", [ThemeName.LIGHT, ThemeName.DARK, ThemeName.CONTRAST])
def test_nothing_is_cut_in_a_window_of_1366_by_768(
    qtbot: QtBot, open_quick: Open, percent: int, theme: ThemeName
) -> None:
    hands = open_quick()
    hands.window.resize(1366, 768)
    hands.window.look.set_theme(theme)
    hands.window.look.set_text_percent(percent)
    full_job(qtbot, hands)
    hands.press(Qt.Key.Key_N, CTRL)
    show_jobs(hands)
    sheet = part_of(hands).sheet
    table = sheet.table
    metrics = QFontMetrics(table.font())
    for column in JobColumn:
        assert not table.isColumnHidden(column)
        words = str(table.model().headerData(column, Qt.Orientation.Horizontal)).split()
        words += str(table.model().index(0, column).data() or "").split()
        widest = max((metrics.horizontalAdvance(word) for word in words), default=0)
        assert widest < table.columnWidth(column) - hands.window.look.px(12), column
        assert (
            table.rowHeight(0) >= table.itemDelegate().sizeHint(_option(table), table.model().index(0, column)).height()
        )
    for button in (sheet.reopen_button, sheet.leave_button):
        assert button.width() >= button.minimumSizeHint().width()
    hands.press(Qt.Key.Key_Return)
    banner = part_of(hands).banner
    assert banner.line.heightForWidth(banner.line.width()) <= banner.line.height()
    banner.switch_fold()
    hands.settle()
    assert banner.is_unfolded
    assert hands.window.size().toTuple() == (1366, 768)
    assert QApplication.focusWidget() is not None


def _option(table: QTableView) -> QStyleOptionViewItem:
    option = QStyleOptionViewItem()
    option.font = table.font()
    return option
