"""What is painted: characters matched and guessed, values that wrap, labels that touch nothing."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QColor, QFont, QFontMetrics, QImage, QPainter
from PySide6.QtWidgets import QApplication, QStyle, QStyleOptionViewItem
from pytestqt.qtbot import QtBot

from tests.gui.desk_for_tests import PUMPS, DeskForTests
from xref_app.core.sentence import Sentence
from xref_app.gui.colours import ThemeName
from xref_app.gui.face_painter import FacePainter, word_box
from xref_app.gui.facts_model import FactDelegate, FactsModel
from xref_app.gui.facts_pane import FactsPane
from xref_app.gui.hits_model import HitDelegate, HitsModel
from xref_app.gui.painting import bold
from xref_app.gui.theme import Look
from xref_app.services.answers import FactRow, FactState, Hit, Job
from xref_app.sheets.layout import clear_distance, laid_out


class Patient:
    """Work that nobody stops."""

    def step(self, done: int, total: int) -> None:
        assert done <= total


ROOM = QRect(0, 0, 600, 34)
NUMBER = "HHHHHH"


@pytest.fixture
def look(qapp: QApplication) -> Look:
    made = Look(qapp)
    made.set_theme(ThemeName.LIGHT)
    return made


def painted_hit(look: Look, *, matched: tuple[int, ...], guessed: tuple[int, ...]) -> QImage:
    model = HitsModel()
    model.show_rows((Hit("e1", "", NUMBER, "", "", matched=matched, guessed=guessed, score=50),))
    delegate = HitDelegate(model, look, model)
    image = QImage(ROOM.size(), QImage.Format.Format_RGB32)
    image.fill(QColor(look.colours.base))
    option = QStyleOptionViewItem()
    option.font = QFont()
    option.rect = ROOM
    option.state = QStyle.StateFlag.State_Enabled
    painter = QPainter(image)
    delegate.paint(painter, option, model.index(0))
    painter.end()
    return image


def columns_of(image: QImage, colour: str, *, until: int) -> list[int]:
    wanted = QColor(colour).rgb()
    return [x for x in range(until) if any(image.pixel(x, y) == wanted for y in range(image.height()))]


def ink_of(image: QImage, *, until: int) -> int:
    return sum(255 - QColor(image.pixel(x, y)).lightness() for x in range(until) for y in range(image.height() - 2))


def test_only_a_guessed_character_is_underlined(look: Look) -> None:
    width = QFontMetrics(bold(QFont())).horizontalAdvance("H")
    end = look.px(10) + width * len(NUMBER)
    rest = (0, 1, 3, 4, 5)
    assert not columns_of(painted_hit(look, matched=rest, guessed=()), look.colours.accent, until=end)
    line = columns_of(painted_hit(look, matched=rest, guessed=(2,)), look.colours.accent, until=end)
    assert line == list(range(line[0], line[-1] + 1))
    assert width / 2 < len(line) <= width
    assert look.px(10) + 2 * width - 3 <= line[0] <= look.px(10) + 2 * width + 3


def test_matched_characters_are_bolder_than_the_rest(look: Look) -> None:
    end = look.px(10) + 2 * ROOM.height()
    plain = ink_of(painted_hit(look, matched=(), guessed=()), until=end)
    assert ink_of(painted_hit(look, matched=(0, 1), guessed=()), until=end) > plain * 1.05


@pytest.mark.parametrize(
    ("value", "pieces"),
    [
        ("22.046 to 22.35 mm (0.868 to 0.8799 in)", ["22.046", "to", "22.35 mm", "(0.868 to 0.8799 in)"]),
        ("4 on 92 mm (3.622 in)", ["4", "on", "92 mm", "(3.622 in)"]),
        ("4.1 kW (5.5 hp)", ["4.1 kW", "(5.5 hp)"]),
        ("straight keyed", ["straight", "keyed"]),
    ],
)
def test_a_value_never_breaks_between_number_and_unit(look: Look, value: str, pieces: list[str]) -> None:
    model = FactsModel()
    delegate = FactDelegate(model, look, model)
    wrapped = delegate._wrapped_value(FactRow("f", "F", value, "", FactState.KNOWN))
    assert [piece.replace("\u00a0", " ") for piece in wrapped.split(" ")] == pieces


def test_title_and_note_of_a_job_stand_on_lines_of_their_own(qtbot: QtBot, look: Look) -> None:
    pane = FactsPane(look)
    qtbot.addWidget(pane)
    pane.show_job(Job("p", None, "K4872-20", (), note=Sentence("Only the old pump is known.")))
    assert pane._title.text().splitlines() == ["K4872-20", "Only the old pump is known."]
    assert not pane._builds.currentIndex().isValid()


@pytest.mark.parametrize("angle_deg", range(0, 91, 3))
@pytest.mark.parametrize(
    ("radius", "half_width", "half_height"), [(12.0, 33.0, 7.0), (40.0, 33.0, 7.0), (5.0, 4.0, 9.0)]
)
def test_a_label_touches_its_disc_and_never_covers_it(
    angle_deg: int, radius: float, half_width: float, half_height: float
) -> None:
    """Checked by plain geometry: the point of a box nearest to the origin."""
    across, up = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    away = clear_distance(radius, (across, up), half_width=half_width, half_height=half_height)
    nearest = math.hypot(max(away * across - half_width, 0.0), max(away * up - half_height, 0.0))
    assert nearest == pytest.approx(radius)


def test_what_is_written_on_a_face_never_lies_on_other_words(look: Look) -> None:
    desk = DeskForTests()
    image = QImage(400, 300, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    try:
        artist = FacePainter(painter, look, QFont())
        for number in PUMPS:
            drawing = desk.face(Job(None, None, "", ()), number, Patient())
            scale = artist.fitting_scale(drawing, QRectF(0, 0, 280, 180))
            boxes = [word_box(words, scale) for words in laid_out(drawing, artist.lettering(scale)).words]
            covered = [(a, b) for a, b in combinations(boxes, 2) if a.intersects(b)]
            assert not covered, number
    finally:
        painter.end()
