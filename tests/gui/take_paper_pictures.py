"""Takes the pictures of paper and of the print page anew: ``python -m tests.gui.take_paper_pictures FOLDER``.

Every page of every kind of sheet on A4 and Letter, as it is printed and in grey, then the print page itself.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from tests.gui.take_pictures import settle
from tests.services.bench_store import sample_desk, sample_store
from xref_app.core.fit.finding import Verdict
from xref_app.core.progress import NO_PROGRESS
from xref_app.gui.colours import ThemeName
from xref_app.gui.desks import Desks
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.main_window import MainWindow
from xref_app.gui.paper_make import Asked, pages_of
from xref_app.gui.paper_painter import page_image
from xref_app.gui.paper_sheet import SheetKind
from xref_app.gui.start import build_window
from xref_app.services.answers import Candidate, Job
from xref_app.services.live_desk import LiveDesk
from xref_app.services.sample_name import SAMPLE_NAME
from xref_app.sheets.page import Paper
from xref_app.sheets.sheet_page import SheetPage
from xref_app.sheets.shelf_label import LabelCase

# Builds of the sample catalog, and a pump of each verdict on them.
MACHINE, CLOSE_LEGS = "M-001", "M-012"
_PX_PER_MM = 5.0
_DAY = "2026-11-26"
_FITS_BY_PARTS = "P-008"


def opened_job(desk: LiveDesk, machine_id: str) -> Job:
    job = desk.open_job(None, machine_id, NO_PROGRESS)
    return replace(desk.pick_build(job, machine_id, NO_PROGRESS) if job.choices else job, reference="118")


def judged(desk: LiveDesk, job: Job) -> Sequence[Candidate]:
    return desk.judge_all(job, NO_PROGRESS).rows


def first_with(rows: Sequence[Candidate], verdict: Verdict) -> Candidate:
    return max(
        (one for one in rows if one.judgement.verdict is verdict), key=lambda one: len(one.judgement.measure_next)
    )


def asked(kind: SheetKind, paper: Paper, job: Job | None, candidate: Candidate | None) -> Asked:
    label = LabelCase("S-001", "Bolt 5/16-18 UNC x 1 in, zinc plated, with captive washer", "E9")
    return Asked(kind, paper, _DAY, SAMPLE_NAME, True, LengthFirst.MM, job, candidate, label)


def all_pages(desk: LiveDesk) -> dict[str, tuple[SheetPage, ...]]:
    """Return the pages of every kind of sheet on both papers, by a name for their files."""
    plain, close = opened_job(desk, MACHINE), opened_job(desk, CLOSE_LEGS)
    rows = judged(desk, plain)
    by_parts = next(one for one in judged(desk, close) if one.entry_id == _FITS_BY_PARTS)
    found = {
        "fits": (plain, first_with(rows, Verdict.FITS)),
        "parts": (close, by_parts),
        "unknown": (plain, first_with(rows, Verdict.NOT_KNOWN_YET)),
        "fails": (plain, first_with(rows, Verdict.DOES_NOT_FIT)),
    }
    pages: dict[str, tuple[SheetPage, ...]] = {}
    for paper in (Paper.A4, Paper.LETTER):
        for name, (job, candidate) in found.items():
            made = pages_of(asked(SheetKind.FIT, paper, job, candidate), desk, NO_PROGRESS)
            pages[f"fit_{name}_{paper.word}"] = made
        for kind, name in ((SheetKind.GAUGE, "fits"), (SheetKind.CARD, "unknown")):
            job, candidate = found[name]
            pages[f"{kind}_{paper.word}"] = pages_of(asked(kind, paper, job, candidate), desk, NO_PROGRESS)
    pages["label"] = pages_of(asked(SheetKind.LABEL, Paper.A4, None, None), desk, NO_PROGRESS)
    return pages


def take_pages(folder: Path, desk: LiveDesk) -> None:
    """Write each page as a picture, and in grey."""
    for name, pages in all_pages(desk).items():
        for number, page in enumerate(pages, start=1):
            image = page_image(page, _PX_PER_MM * (1 if page.width_mm > 100 else 3))
            image.save(str(folder / f"{name}_{number}.png"))
            if number == 1:
                grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
                grey.save(str(folder / f"{name}_{number}_grey.png"))


def take_window(folder: Path, place: Path) -> None:
    """Write pictures of the print page: each sheet, and large text, and dark."""
    scenes: tuple[tuple[str, SheetKind, int, ThemeName], ...] = (
        ("60_fit_sheet", SheetKind.FIT, 100, ThemeName.LIGHT),
        ("61_gauge", SheetKind.GAUGE, 100, ThemeName.LIGHT),
        ("62_card", SheetKind.CARD, 100, ThemeName.LIGHT),
        ("63_label", SheetKind.LABEL, 100, ThemeName.LIGHT),
        ("64_text_150", SheetKind.FIT, 150, ThemeName.LIGHT),
        ("65_text_200", SheetKind.FIT, 200, ThemeName.LIGHT),
        ("66_dark", SheetKind.FIT, 100, ThemeName.DARK),
        ("67_contrast", SheetKind.FIT, 100, ThemeName.CONTRAST),
    )
    for name, kind, percent, theme in scenes:
        desk = LiveDesk(sample_store(place), SAMPLE_NAME)
        window = build_window(Desks(desk, bench=desk, shelf=desk.shelf), place / f"{name}.ini")
        window.resize(1366, 768)
        window.look.set_theme(theme)
        window.look.set_text_percent(percent)
        window.show()
        window.activateWindow()
        window.flow.use_machine(MACHINE, MACHINE)
        show(window, kind)
        window.grab().save(str(folder / f"{name}.png"))
        window.look.set_text_percent(100)
        window.close()
        window.deleteLater()
        QApplication.sendPostedEvents(None, int(QEvent.Type.DeferredDelete.value))


def show(window: MainWindow, kind: SheetKind) -> None:
    paper, shelf = window.paper, window.shelf
    assert paper is not None
    assert shelf is not None
    settle(window)
    if kind is SheetKind.LABEL:
        shelf.show()
        settle(window)
        shelf.press_label()
    else:
        paper.show()
        paper.sheet.kind_chosen.emit(kind)
    while paper.is_working:
        settle(window)
    settle(window)


def take_all(folder: Path) -> None:
    """Write every picture into ``folder``."""
    _app = QApplication.instance() or QApplication([])
    with tempfile.TemporaryDirectory() as place:
        take_pages(folder, sample_desk(Path(place)))
        take_window(folder, Path(place))


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target)
