"""The painted picture of the jaws: whole, at any size and text; words that lie on nothing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

import pytest
from PySide6.QtCore import QLineF, QPoint, QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.gui.draw_all_jaws import contact_sheet, every_drawing
from xref_app.gui.colours import ThemeName
from xref_app.gui.jaw_painter import JawPainter, Placed
from xref_app.gui.jaw_view import JawView
from xref_app.gui.painting import small
from xref_app.gui.theme import Look, body_font
from xref_app.sheets.jaws import jaw_drawing
from xref_app.sheets.jaws_shapes import Circle, JawDrawing, Point, arc

ALL = list(every_drawing())
# Seals, ports and holes of both sides share their pictures: each is looked at once.
EVERY = [one for at, one in enumerate(ALL) if all(one[1] != before for _, before in ALL[:at])]
SIZES = [(200, 150), (430, 170), (900, 700)]
# The view leaves this much of its room free all round, px.
FREE_PX = 4


@pytest.fixture
def look(qapp: QApplication) -> Iterator[Look]:
    made = Look(qapp)
    made.set_theme(ThemeName.LIGHT)
    yield made
    made.set_theme(ThemeName.LIGHT)
    made.set_text_percent(100)


@pytest.fixture
def view(qtbot: QtBot, look: Look) -> JawView:
    made = JawView(look)
    qtbot.addWidget(made)
    return made


def neighbours(holes: int) -> JawDrawing:
    drawing = jaw_drawing("face_holes_xy_mm", step="neighbours", holes=holes, way="outer edges")
    assert drawing is not None
    return drawing


def painted(view: JawView, drawing: JawDrawing | None, size: tuple[int, int] = (430, 270)) -> QImage:
    view.resize(*size)
    view.show_drawing(drawing)
    image = QImage(view.size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    view.render(painter, QPoint())
    painter.end()
    return image


def placed(look: Look, drawing: JawDrawing, room: QRectF) -> Placed:
    return JawPainter(look, small(body_font(look.text_percent))).placed(drawing, room)


def straight_lines(drawing: JawDrawing) -> Iterator[tuple[Point, Point]]:
    for shape in drawing.shapes:
        if isinstance(shape, Circle):
            yield from pairwise(arc((shape.x_mm, shape.y_mm), shape.radius_mm, 0, 360))
        else:
            yield from pairwise([*shape.points, shape.points[0]] if shape.is_closed else shape.points)
    for arrow in drawing.all_arrows:
        yield from pairwise(arrow.points)


def crosses(line: QLineF, box: QRectF) -> bool:
    corners = [box.topLeft(), box.topRight(), box.bottomRight(), box.bottomLeft()]
    sides = (QLineF(one, other) for one, other in pairwise([*corners, corners[0]]))
    bounded = QLineF.IntersectionType.BoundedIntersection
    return box.contains(line.p1()) or any(line.intersects(side)[0] == bounded for side in sides)


@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize("size", SIZES)
def test_words_lie_in_the_room_and_never_on_one_another(look: Look, percent: int, size: tuple[int, int]) -> None:
    look.set_text_percent(percent)
    room = QRectF(0, 0, *size)
    for name, drawing in EVERY:
        found = placed(look, drawing, room)
        assert all(room.contains(word.box) for word in found.words), name
        covered = [(a.text, b.text) for a, b in combinations(found.words, 2) if a.box.intersects(b.box)]
        assert not covered, name


@pytest.mark.parametrize("percent", [100, 200])
def test_words_lie_on_no_line_of_the_drawing(look: Look, percent: int) -> None:
    """Checked by plain geometry, straight line by straight line; the painter asks Qt's paths."""
    look.set_text_percent(percent)
    for name, drawing in EVERY:
        found = placed(look, drawing, QRectF(0, 0, 430, 270))
        lines = [QLineF(found.at(start), found.at(end)) for start, end in straight_lines(drawing)]
        for word in found.words:
            assert not any(crosses(line, word.box) for line in lines), (name, word.text)


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_in_the_least_room_of_the_card_every_word_is_there(look: Look, percent: int) -> None:
    look.set_text_percent(percent)
    room = QRectF(0, 0, look.px(414), look.px(134))
    for name, drawing in EVERY:
        words = [word.text for word in placed(look, drawing, room).words]
        assert words == [str(label.text) for label in drawing.labels], name


@pytest.mark.parametrize("size", SIZES)
def test_the_whole_drawing_is_in_its_room(look: Look, size: tuple[int, int]) -> None:
    room = QRectF(0, 0, *size)
    for name, drawing in EVERY:
        found = placed(look, drawing, room)
        left, low, right, high = drawing.frame
        corners = found.at((left, low)), found.at((right, high))
        assert all(room.adjusted(-0.01, -0.01, 0.01, 0.01).contains(corner) for corner in corners), name
        assert max((right - left) * found.scale / size[0], (high - low) * found.scale / size[1]) > 0.5, name


@pytest.mark.parametrize("theme", ThemeName)
@pytest.mark.parametrize("percent", [100, 200])
def test_nothing_is_painted_at_the_rim(view: JawView, look: Look, theme: ThemeName, percent: int) -> None:
    look.set_theme(theme)
    look.set_text_percent(percent)
    ground = QColor(look.colours.base)
    for name, drawing in EVERY:
        image = painted(view, drawing, (260, 190))
        wide, high = image.width(), image.height()
        rims = (0, 0, wide, FREE_PX), (0, high - FREE_PX, wide, FREE_PX), (0, 0, FREE_PX, high)
        for rim in (image.copy(*one) for one in (*rims, (wide - FREE_PX, 0, FREE_PX, high))):
            empty = rim.copy()
            empty.fill(ground)
            assert rim == empty, name


@pytest.mark.parametrize("theme", ThemeName)
def test_jaws_stand_out_in_their_own_colours(view: JawView, look: Look, theme: ThemeName) -> None:
    look.set_theme(theme)
    image = painted(view, neighbours(4))
    seen = {image.pixel(x, y) for x in range(image.width()) for y in range(image.height())}
    assert {QColor(colour).rgb() for colour in (look.colours.selection, look.colours.text)} <= seen


def test_three_holes_are_painted_unlike_four(view: JawView) -> None:
    assert painted(view, neighbours(3)) != painted(view, neighbours(4))
    assert painted(view, neighbours(4)) == painted(view, neighbours(4))


def test_a_picture_follows_its_text_size_and_its_room(qtbot: QtBot, view: JawView, look: Look) -> None:
    before = painted(view, neighbours(3))
    look.set_text_percent(200)
    new = JawView(look)
    qtbot.addWidget(new)
    assert painted(view, neighbours(3)) == painted(new, neighbours(3)) != before
    look.set_text_percent(100)
    assert painted(view, neighbours(3)) == before
    assert painted(view, neighbours(3), (900, 700)).size() != before.size()


def test_the_view_tells_in_words_where_the_jaws_go(view: JawView) -> None:
    view.show_drawing(neighbours(3))
    assert view.accessibleName() == "Where the jaws go"
    assert view.accessibleDescription() == (
        "3 holes: the inside jaws stand in holes 1 and 2 and open to the edges farthest apart."
    )
    view.show_drawing(None)
    assert view.accessibleDescription() == ""


def test_no_drawing_is_an_empty_ground(view: JawView, look: Look) -> None:
    image = painted(view, None)
    assert {image.pixel(x, y) for x in range(0, 430, 7) for y in range(0, 270, 7)} == {QColor(look.colours.base).rgb()}


def test_a_word_far_from_its_point_is_led_to_it(look: Look) -> None:
    look.set_text_percent(200)
    led = [word for _, one in EVERY for word in placed(look, one, QRectF(0, 0, 430, 170)).words if word.leader]
    assert led
    for word in led:
        assert word.leader is not None
        assert word.box.adjusted(-1, -1, 1, 1).contains(word.leader.p1())


def test_all_pictures_go_on_one_sheet(look: Look) -> None:
    one, all_of_them = contact_sheet(look, 200, 150, only="shaft_key_top"), contact_sheet(look, 200, 150)
    assert one.height() < all_of_them.height()
