"""The picture of where the jaws go is painted whole at any size, in every set of colours, and said in words."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from tests.gui.draw_all_jaws import draw_all
from tests.sheets.jaw_pictures_for_tests import every_picture
from xref_app.gui.colours import ThemeName
from xref_app.gui.jaw_view import JawView
from xref_app.gui.messages import say
from xref_app.gui.theme import Look
from xref_app.sheets.jaws import JawDrawing, jaw_drawing

EDGE_PX = 3
drawings = cache(every_picture)


@pytest.fixture
def look() -> Iterator[Look]:
    made = Look()
    yield made
    made.set_theme(ThemeName.LIGHT)
    made.set_text_percent(100)


@pytest.fixture
def view(qtbot: QtBot, look: Look) -> JawView:
    made = JawView(look)
    qtbot.addWidget(made)
    return made


def painted(view: JawView, base: str, width: int, height: int) -> QImage:
    view.resize(width, height)
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(QColor(base))
    view.render(image, renderFlags=JawView.RenderFlag.DrawChildren)
    return image


def rows_of(image: QImage) -> list[list[int]]:
    pixels = memoryview(bytes(image.constBits())).cast("I").tolist()
    return [pixels[row * image.width() : (row + 1) * image.width()] for row in range(image.height())]


def ink_box(rows: list[list[int]], ground: int) -> tuple[int, int, int, int]:
    """Return left, top, right and bottom of what is not ground."""
    high = [place for place, row in enumerate(rows) if row.count(ground) < len(row)]
    wide = [place for place, column in enumerate(zip(*rows, strict=True)) if column.count(ground) < len(column)]
    assert high, "nothing is painted"
    return wide[0], high[0], wide[-1], high[-1]


@pytest.mark.parametrize("theme", ThemeName)
@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize(("width", "height"), [(200, 120), (900, 700)])
def test_every_picture_is_painted_whole(
    view: JawView, look: Look, theme: ThemeName, percent: int, width: int, height: int
) -> None:
    look.set_theme(theme)
    look.set_text_percent(percent)
    ground = QColor(look.colours.base).rgb()
    # Large pictures are slow to look through: every sixth there, all of them where room is short.
    names = list(drawings())[:: 1 if width < 500 else 6]
    for name in names:
        view.show_drawing(drawings()[name])
        rows = rows_of(painted(view, look.colours.base, width, height))
        left, top, right, bottom = ink_box(rows, ground)
        assert min(left, top, width - 1 - right, height - 1 - bottom) >= EDGE_PX, f"{name} is cut"
        assert right - left > width - 30 or bottom - top > height - 30, f"{name} leaves room unused"
        ink = width * height - sum(row.count(ground) for row in rows)
        assert ink > width * height / 50, name


def test_colours_change_with_the_look(view: JawView, look: Look) -> None:
    view.show_drawing(jaw_drawing("shaft_diameter_mm"))
    seen = set()
    for theme in ThemeName:
        look.set_theme(theme)
        image = painted(view, look.colours.base, 300, 200)
        pixels = {pixel for row in rows_of(image) for pixel in row}
        for colour in (look.colours.text, look.colours.accent, look.colours.selection):
            assert QColor(colour).rgb() in pixels, f"{theme}: lines, what is measured, tool"
        seen.add(frozenset(pixels))
    assert len(seen) == len(ThemeName)


def test_it_is_said_in_words_and_forgotten_with_the_picture(view: JawView) -> None:
    words = set()
    for drawing in drawings().values():
        view.show_drawing(drawing)
        assert view.accessibleDescription() == say(drawing.said)
        assert view.toolTip() == say(drawing.said)
        assert "{" not in view.accessibleDescription()
        words.add(view.accessibleDescription())
    assert len(words) > 40
    view.show_drawing(None)
    assert view.accessibleDescription() == ""
    assert len({pixel for row in rows_of(painted(view, "#ffffff", 200, 120)) for pixel in row}) == 1


def test_two_holes_are_named_in_the_words(view: JawView) -> None:
    drawing = jaw_drawing("face_holes_xy_mm", step="2-4", holes=5, way="outer edges")
    assert isinstance(drawing, JawDrawing)
    view.show_drawing(drawing)
    assert "outer edges of holes 2 and 4" in view.accessibleDescription()


def test_numbers_are_painted_as_large_as_fits(view: JawView, look: Look) -> None:
    """Without its numbers a face has less ink; at 200 % of the text a large picture has more of it than at 100 %."""
    drawing = jaw_drawing("face_holes_xy_mm", step="count", holes=8)
    assert drawing is not None
    bare = JawDrawing(tuple(one for one in drawing.shapes if not hasattr(one, "text")), drawing.touch, drawing.said)
    inks = {}
    for percent in (100, 200):
        look.set_text_percent(percent)
        for name, shown in (("all", drawing), ("bare", bare)):
            view.show_drawing(shown)
            rows = rows_of(painted(view, look.colours.base, 900, 700))
            text = QColor(look.colours.text).rgb()
            inks[name, percent] = sum(row.count(text) for row in rows)
    assert inks["all", 100] > inks["bare", 100]
    assert inks["all", 200] - inks["bare", 200] > 2 * (inks["all", 100] - inks["bare", 100])


def test_all_pictures_go_on_one_sheet(qtbot: QtBot, look: Look, tmp_path: Path) -> None:
    del qtbot
    file = tmp_path / "jaws.png"
    assert draw_all(look, file) == len(drawings())
    assert QImage(str(file)).height() > 1000
