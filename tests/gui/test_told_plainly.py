"""What a stranger misread on screen, each as it must read: order, units, place, and what Enter does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Open, wait_until_idle
from tests.gui.test_window import label, look_at, type_slowly
from xref_app.core.fit.finding import Finding, Need, Outcome, Quantity, Verdict
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence
from xref_app.gui.face_view import Zoom
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.length_words import gap_text, say_sizes
from xref_app.gui.main_window import MainWindow
from xref_app.gui.measure_box import MeasureBox
from xref_app.gui.needs_model import NeedsColumn, NeedsModel
from xref_app.gui.rows import DOMAIN_ROLE
from xref_app.services.answers import Candidate, MeasureNext


def events() -> None:
    for _ in range(3):
        QApplication.processEvents()


def scroll_area(window: MainWindow) -> QScrollArea:
    found = window.findChild(QScrollArea, "fit_scroll_area")
    assert isinstance(found, QScrollArea)
    return found


def top_of(widget: QWidget) -> int:
    return widget.mapToGlobal(QPoint(0, 0)).y()


@pytest.mark.parametrize(
    ("low", "high", "first", "text"),
    [
        (0.0, 0.104, LengthFirst.MM, "0.00 to 0.11 mm"),
        (0.12, 0.12, LengthFirst.MM, "0.12 mm"),
        (-2.951, -2.549, LengthFirst.MM, "−2.96 to −2.54 mm"),
        # 25.4 mm to the inch: -2.951 / 25.4 = -0.11618, -2.549 / 25.4 = -0.10035
        (-2.951, -2.549, LengthFirst.INCH, "−0.117 to −0.100 in"),
        (2.0, float("inf"), LengthFirst.MM, "at least 2 mm"),
    ],
)
def test_a_gap_is_never_told_wider_or_narrower_than_it_may_be(
    low: float, high: float, first: LengthFirst, text: str
) -> None:
    assert gap_text(Quantity(Range(low, high), "mm"), first) == text


def test_a_gap_that_is_no_length_stays_as_it_is() -> None:
    assert gap_text(Quantity(Range(300, 300), "rpm")) == "300 rpm"
    assert (gap_text(None), gap_text("two holes")) == ("", "two holes")


def test_sizes_to_buy_follow_the_unit_and_names_do_not() -> None:
    spacer = Sentence("Spacer {thickness:.2f} mm, one under every bolt", {"thickness": 3.2})
    fitting = Sentence("Fitting {first} to {second}", {"first": "M22x1.5 male (14 mm seal)", "second": "G3/8 male"})
    model = NeedsModel()
    model.show_needs((Need(spacer, 4), Need(fitting, 1)))
    model.show_first(LengthFirst.INCH)
    shown = [model.index(row, NeedsColumn.WHAT).data() for row in range(2)]
    # 3.2 / 25.4 = 0.12598
    assert shown == [
        "Spacer 0.126 in (3.2 mm), one under every bolt",
        "Fitting M22x1.5 male (14 mm seal) to G3/8 male",
    ]
    assert say_sizes(spacer, LengthFirst.MM) == "Spacer 3.20 mm, one under every bolt"


@pytest.mark.parametrize(
    ("field", "comes_off", "said"),
    [
        ("shaft_projection_mm", "pump", "asked by 58 of 61 still open, about 2 min, pump comes off first"),
        ("shaft_axis", "", "asked by 58 of 61 still open, about 2 min, nothing has to come off"),
        ("bore_depth_mm", "", "asked by 58 of 61 still open, about 2 min, measured on the candidate itself"),
    ],
)
def test_measure_next_says_who_asks_and_on_what_it_is_taken(
    open_window: Open, field: str, comes_off: str, said: str
) -> None:
    window = open_window()
    box = window.findChild(MeasureBox)
    assert isinstance(box, MeasureBox)
    box.show_next(MeasureNext(field, "Title", 58, 61, 2.0, "So.", comes_off))
    assert label(window, "facts_measure_gain_label").text() == said


@pytest.mark.parametrize(
    ("last_open", "said"),
    [
        (4, "asked by 58 of 61 still open (the last question of 4), about 2 min, nothing has to come off"),
        (58, "the last question of 58 of 61 still open, about 2 min, nothing has to come off"),
    ],
)
def test_measure_next_says_of_how_many_it_is_the_last_question(open_window: Open, last_open: int, said: str) -> None:
    window = open_window()
    box = window.findChild(MeasureBox)
    assert isinstance(box, MeasureBox)
    box.show_next(MeasureNext("shaft_axis", "Title", 58, 61, 2.0, "So.", "", last_open=last_open))
    assert label(window, "facts_measure_gain_label").text() == said


def ruled_out(candidate: Candidate) -> Candidate:
    """Return the same pump with a speed too high for it besides."""
    reason = Sentence("The engine turns 3400 rpm; the pump may run 1750 rpm at most.")
    too_fast = Finding("speed", Outcome.FAIL, reason, "pump's rating")
    found = tuple(too_fast if one.check == "speed" else one for one in candidate.judgement.findings)
    return replace(candidate, judgement=replace(candidate.judgement, verdict=Verdict.DOES_NOT_FIT, findings=found))


def test_a_pump_that_does_not_fit_says_why_before_what_it_would_still_need(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    look_at(window, qtbot, "B2700")
    fit = window.panes.fit
    table = fit.needs_view.model()
    across = Qt.Orientation.Horizontal
    assert (table.headerData(0, across), top_of(fit.needs_view) < top_of(fit.why)) == ("What you need", True)
    candidate = window.panes.candidates.view.currentIndex().data(DOMAIN_ROLE)
    assert isinstance(candidate, Candidate)
    fit.show_candidate(ruled_out(candidate))
    events()
    assert (table.headerData(0, across), table.rowCount()) == ("Would still need", 2)
    assert top_of(fit.table) < top_of(fit.why) < top_of(fit.needs_view)
    fit.show_candidate(candidate)
    events()
    assert (table.headerData(0, across), top_of(fit.needs_view) < top_of(fit.why)) == ("What you need", True)


def test_another_pump_is_shown_from_its_top(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    window.look.set_text_percent(150)
    events()
    look_at(window, qtbot, "B2700")
    bar = scroll_area(window).verticalScrollBar()
    bar.setValue(bar.maximum())
    assert bar.value() > 0
    look_at(window, qtbot, "D2427")
    events()
    assert bar.value() == 0


@pytest.mark.parametrize("percent", [150, 200])
def test_the_bigger_drawing_is_seen_from_its_upper_edge(open_window: Open, qtbot: QtBot, percent: int) -> None:
    window = open_window(text="K4872-20")
    window.look.set_text_percent(percent)
    window.resize(1366, 690)
    window.panes.show_pane(2)
    look_at(window, qtbot, "B2700")
    window.panes.fit.table.setFocus()
    bar = scroll_area(window).verticalScrollBar()
    bar.setValue(bar.maximum())
    window.panes.fit.face.set_zoom(Zoom.BIGGER)
    events()
    drawing = window.panes.fit.face.view
    assert top_of(drawing) >= top_of(scroll_area(window))
    assert drawing.visibleRegion().boundingRect().top() == 0


def test_enter_on_several_entries_says_how_to_choose(open_window: Open, qtbot: QtBot) -> None:
    window = open_window()
    type_slowly(qtbot, window, "K4872")
    choose = label(window, "entry_choose_label")
    assert not choose.isVisible()
    QTest.keyClick(window.entry.line, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)
    assert choose.text() == "2 entries match; choose with Down and Enter."
    assert choose.isVisible()
    assert choose.visibleRegion().boundingRect().size() == choose.size()
    assert choose.geometry().bottom() < window.hits.list.geometry().top()
    assert window.entry.line.accessibleDescription() == choose.text()
    QTest.keyClick(window.entry.line, Qt.Key.Key_Down)
    QTest.keyClick(window.entry.line, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)
    assert not choose.isVisible()
    assert [fact.entry_id for fact in window.flow.facts] == ["K4872-20"]


def test_typing_on_takes_the_words_on_choosing_away(open_window: Open, qtbot: QtBot) -> None:
    window = open_window()
    type_slowly(qtbot, window, "K48")
    QTest.keyClick(window.entry.line, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)
    assert label(window, "entry_choose_label").isVisible()
    asked = len(window.flow.facts)
    with qtbot.waitSignal(window.flow.found):
        QTest.keyClick(window.entry.line, Qt.Key.Key_7)
    assert not label(window, "entry_choose_label").isVisible()
    assert len(window.flow.facts) == asked


@pytest.mark.parametrize(("first", "mm"), [(LengthFirst.MM, 10.0), (LengthFirst.INCH, 12.7)])
def test_the_scale_bar_is_a_round_length_in_the_unit_shown_first(
    open_window: Open, qtbot: QtBot, first: LengthFirst, mm: float
) -> None:
    """The bar is the only dark run in the last rows at the right: its pixels over the scale are its mm."""
    window = open_window(text="K4872-20")
    look_at(window, qtbot, "B2700")
    window.show_length_first(first)
    view = window.panes.fit.face.view
    view.set_zoom(Zoom.TRUE_SIZE)
    events()
    image = view.grab().toImage()
    ratio = image.devicePixelRatio()
    ground = image.pixelColor(image.width() - 4, image.height() - 4)
    longest = max(_runs(image, row, ground) for row in range(image.height() - round(40 * ratio), image.height() - 3))
    per_mm = view.screen().physicalDotsPerInch() / 25.4 * ratio
    assert longest / per_mm == pytest.approx(mm, abs=1.5)


def _runs(image: QImage, row: int, ground: QColor) -> int:
    """Return how many pixels in a row from the right edge of the drawing are not ground."""
    column, count = image.width() - 8, 0
    while column > 0 and image.pixelColor(column, row) == ground:
        column -= 1
    while column > 0 and image.pixelColor(column, row) != ground:
        column, count = column - 1, count + 1
    return count
