"""From a machine's model to its pumps by keyboard (ux.md A3), and what happened before, seen in list and sheet."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Open, wait_until_idle
from tests.gui.records_for_tests import FAILED_PUMP, MANY_BUILDS, TRIED_MACHINE, tried_desk
from tests.services.tiny import Quiet
from xref_app.core.fit.finding import Verdict
from xref_app.gui.main_window import MainWindow
from xref_app.gui.painting import small
from xref_app.gui.rows import DOMAIN_ROLE
from xref_app.services.answers import Candidate

FAILED = "Did not fit on this machine before: key stood 0.4 mm too high in the hub, sent back, Quenna, 2025-09-02."
SAMPLE = tried_desk().catalog
MOST_CHOICES = 2


def press(window: MainWindow, key: Qt.Key) -> None:
    QTest.keyClick(window.windowHandle(), key)


def label(window: MainWindow, name: str) -> QLabel:
    found = window.findChild(QLabel, name)
    assert found is not None
    return found


def type_model(window: MainWindow, qtbot: QtBot, model: str) -> None:
    QTest.keyClicks(window.entry.line, model)
    wait_until_idle(qtbot, window)
    press(window, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)


def choose(window: MainWindow, qtbot: QtBot, place: int) -> None:
    for _ in range(place + 1):
        press(window, Qt.Key.Key_Down)
    press(window, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)


def listed(window: MainWindow) -> list[Candidate]:
    model = window.panes.candidates.view.model()
    return [model.index(row, 0).data(DOMAIN_ROLE) for row in range(model.rowCount())]


def models_of_several_builds() -> list[str]:
    models = [row.model for row in SAMPLE.machines.values()]
    return sorted({model for model in models if models.count(model) > 1})


@pytest.mark.parametrize("model", models_of_several_builds())
def test_a_model_is_answered_after_two_choices_at_most(open_window: Open, qtbot: QtBot, model: str) -> None:
    window = open_window(tried_desk())
    type_model(window, qtbot, model)
    asked = 0
    while not listed(window):
        builds = window.panes.facts.view
        assert builds.objectName() == "facts_builds_list"
        assert builds.hasFocus()
        assert not builds.currentIndex().isValid()
        assert not builds.selectionModel().hasSelection()
        assert label(window, "facts_builds_label").text().startswith("This model was built in")
        choose(window, qtbot, 0)
        asked += 1
        assert asked <= MOST_CHOICES
    assert asked == 1
    assert any(row.entry_id == SAMPLE.machines[window.flow.facts[0].entry_id].pump_id for row in listed(window)) or (
        SAMPLE.machines[window.flow.facts[0].entry_id].pump_id == ""
    )


@pytest.mark.parametrize(("rest", "build"), [("2013", "M-001"), ("2016-05", "M-002"), ("haldrune", "M-001")])
def test_a_day_or_an_engine_typed_with_the_model_answers_at_once(
    open_window: Open, qtbot: QtBot, rest: str, build: str
) -> None:
    window = open_window(tried_desk())
    type_model(window, qtbot, f"{TRIED_MACHINE} {rest}")
    assert "Builds left: 1 of 2." in label(window, "entry_read_as_label").text()
    assert window.flow.job is not None
    assert window.flow.job.machine_id == build
    assert listed(window)


def test_builds_that_are_alike_are_one_line_and_taken_together(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(tried_desk())
    type_model(window, qtbot, MANY_BUILDS)
    builds = window.panes.facts.view.model()
    said = [str(builds.index(row, 0).data()) for row in range(builds.rowCount())]
    assert [line.split(".")[0] for line in said] == [
        "round air cleaner on top",
        "square air cleaner at the side, Haldrune Engine vertical 7/8 in",
        "square air cleaner at the side, Corvandel Engine vertical 7/8 in",
    ]
    assert "pump PL24H25" in said[0]
    choose(window, qtbot, 0)
    (fact,) = window.flow.facts
    assert (fact.entry_id, fact.sisters) == ("M-901", ("M-902",))
    assert window.flow.job is not None
    assert window.flow.job.sisters == ("M-902",)


def test_a_failed_fit_stands_last_of_its_verdict_with_its_line_in_list_and_sheet(
    open_window: Open, qtbot: QtBot
) -> None:
    window = open_window(tried_desk())
    type_model(window, qtbot, TRIED_MACHINE)
    choose(window, qtbot, 0)
    fits = [row.entry_id for row in listed(window) if row.judgement.verdict is Verdict.FITS]
    assert fits[-1] == FAILED_PUMP
    assert len(fits) > 1
    window.panes.candidates.choose(FAILED_PUMP)
    wait_until_idle(qtbot, window)
    index = window.panes.candidates.view.currentIndex()
    assert FAILED in str(index.data())
    shown = label(window, "fit_remark_0_label")
    assert shown.isVisible()
    assert shown.text() == (f"{FAILED} By the sizes on file it fits: measure again before you order.")
    assert shown.property("warning") == "true"
    assert label(window, "fit_verdict_label").text().startswith("Fits as is")


def test_the_row_has_room_for_every_line_at_every_text_size(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(tried_desk())
    type_model(window, qtbot, TRIED_MACHINE)
    choose(window, qtbot, 0)
    view = window.panes.candidates.view
    for percent in (100, 150, 200):
        window.look.set_text_percent(percent)
        heights = {
            bool(row.remarks): view.sizeHintForRow(place)
            for place, row in enumerate(listed(window))
            if row.judgement.verdict is Verdict.FITS_WITH_PARTS
        }
        assert heights[True] > heights[False]


def test_remarks_leave_with_the_pump_they_are_about(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(tried_desk())
    type_model(window, qtbot, TRIED_MACHINE)
    choose(window, qtbot, 0)
    window.panes.candidates.choose(FAILED_PUMP)
    assert window.panes.fit.remarks.isVisible()
    bare = next(row.entry_id for row in listed(window) if not row.remarks)
    window.panes.candidates.choose(bare)
    assert not window.panes.fit.remarks.isVisible()


def test_a_pump_said_to_replace_the_old_one_says_so_in_list_and_hits(open_window: Open, qtbot: QtBot) -> None:
    # replaced_by.csv: P-020 to P-013 to P-006 to P-001
    window = open_window(tried_desk())
    old, way, middle, new = (SAMPLE.number_of(pump) for pump in ("P-020", "P-013", "P-006", "P-001"))
    type_model(window, qtbot, old)
    said = {
        row.entry_id: str(window.panes.candidates.view.model().index(place, 0).data())
        for place, row in enumerate(listed(window))
    }
    assert f"Said to replace {old} (sheet)." in said["P-013"]
    assert f"Said to replace {old} by way of {way}, {middle} (sheet)." in said["P-001"]
    hits = tried_desk().find(old, Quiet()).hits
    assert [hit.number for hit in hits if hit.claim] == [new]


def test_a_claim_stands_whole_below_its_hit_at_every_text_size(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(tried_desk())
    QTest.keyClicks(window.entry.line, SAMPLE.number_of("P-020"))
    qtbot.waitUntil(lambda: window.entry.is_dropped)
    hits = window.hits.list
    for percent in (100, 150, 200):
        window.look.set_text_percent(percent)
        plain, claimed = (hits.sizeHintForRow(row) for row in range(2))
        assert claimed >= plain + QFontMetrics(small(hits.font())).height()
