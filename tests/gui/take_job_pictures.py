"""Takes the pictures of the jobs kept and of one reopened: ``python -m tests.gui.take_job_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QDeadlineTimer
from PySide6.QtWidgets import QApplication

from tests.gui.take_pictures import settle
from tests.gui.whole_window import pictured_window
from tests.services.bench_store import sample_desk, sample_store
from xref_app.core.progress import NO_PROGRESS
from xref_app.gui.actions import Command
from xref_app.gui.colours import ThemeName
from xref_app.gui.jobs_part import JobsPart
from xref_app.gui.main_window import MainWindow
from xref_app.services.answers import Job
from xref_app.services.job_told import told_of_job
from xref_app.services.kept_job import KeptJob
from xref_app.services.live_desk import LiveDesk
from xref_app.services.used_fact import UsedFact
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import withdraw

Scene = Callable[[MainWindow], None]
_PATIENCE_MS = 20_000

# Reference, machine, pump chosen and the outcome entered on it; the rest is as the sample tells it.
JOBS = (
    ("4711", "M-001", "P-001", ""),
    ("4712 spring", "M-001", "P-002", "O-001"),
    ("", "M-002", "P-004", ""),
    ("Quay street, blue one", "M-004", "P-015", "O-002"),
    ("4713", "M-006", "P-005", ""),
    ("", "M-001", "", ""),
)


def fill_book(desk: LiveDesk) -> None:
    """Keep the jobs, each as it would have been left."""
    for reference, machine, pump, outcome in JOBS:
        job = desk.pick_build(Job(None, None, "", ()), machine, NO_PROGRESS)
        rows = desk.judge_all(job, NO_PROGRESS).rows if pump else ()
        chosen = next((one for one in rows if one.entry_id == pump), None)
        model = desk.catalog.machines[machine].model
        fact = UsedFact("machine", machine, model, is_build=True)
        number = "" if chosen is None else chosen.number
        told = told_of_job(job, chosen)
        ids = (outcome,) if outcome else ()
        kept = KeptJob("", reference, job.title, (fact,), pump if number else "", number, outcome_ids=ids, told=told)
        desk.jobs.keep(kept)


def misread(place: Path) -> None:
    """Withdraw readings of the machine of the first job, by another counter."""
    store = sample_store(place)
    machine = CatalogRepository(store).machine("M-001")
    assert machine is not None
    for field in ("power_kw", "face_holes_xy_mm", "shaft_key_top_mm"):
        for row in CatalogRepository(store).versions_of(machine.driver_id, field):
            withdraw(store, "observations", (row.observation_id,), who="Ana", why="misread")


def _part(window: MainWindow) -> JobsPart:
    assert window.jobs is not None
    return window.jobs


def _nothing(_window: MainWindow) -> None:
    pass


def _filtered(window: MainWindow) -> None:
    _part(window).sheet.filter.setText("471 fits")


def _reopened(window: MainWindow) -> None:
    _part(window).sheet.filter.setText("4711")
    _part(window).sheet.reopen_button.click()


def _unfolded(window: MainWindow) -> None:
    _reopened(window)
    _wait(window)
    _part(window).banner.switch_fold()


def _in(change: Callable[[MainWindow], None], percent: int = 100, theme: ThemeName = ThemeName.LIGHT) -> Scene:
    def larger(window: MainWindow) -> None:
        window.look.set_theme(theme)
        window.look.set_text_percent(percent)
        _wait(window)
        change(window)

    return larger


def _narrow(window: MainWindow) -> None:
    window.look.set_text_percent(125)
    window.resize(820, 700)


def _wait(window: MainWindow) -> None:
    deadline, is_done = QDeadlineTimer(_PATIENCE_MS), False
    while not is_done and not deadline.hasExpired():
        settle(window)
        is_done = not _part(window).is_working and not window.flow.is_working
    settle(window)


SCENES: dict[str, Scene] = {
    "60_jobs": _nothing,
    "61_jobs_dark": _in(_nothing, theme=ThemeName.DARK),
    "62_jobs_contrast": _in(_nothing, theme=ThemeName.CONTRAST),
    "63_jobs_150": _in(_nothing, 150),
    "64_jobs_filtered": _filtered,
    "65_jobs_narrow": _narrow,
    "66_reopened": _reopened,
    "67_reopened_unfolded": _unfolded,
    "68_reopened_unfolded_dark": _in(_unfolded, theme=ThemeName.DARK),
    "69_reopened_unfolded_150": _in(_unfolded, 150),
    "70_reopened_150": _in(_reopened, 150),
    "71_jobs_none": _nothing,
}


def take_all(folder: Path) -> list[Path]:
    """Write every picture into ``folder`` and return the files."""
    _app = QApplication.instance() or QApplication([])
    written: list[Path] = []
    with tempfile.TemporaryDirectory() as settings:
        for name, change in SCENES.items():
            place = Path(settings) / name
            place.mkdir()
            if not name.endswith("none"):
                fill_book(sample_desk(place))
                misread(place)
            desk = sample_desk(place)
            with pictured_window(desk, place / "window.ini") as window:
                window.actions_by_command[Command.JOBS].trigger()
                _wait(window)
                change(window)
                _wait(window)
                written.append(folder / f"{name}.png")
                window.grab().save(str(written[-1]))
    return written


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target)
