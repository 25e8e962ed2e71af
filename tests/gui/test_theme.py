"""Contrast of every pair of colours in use, computed from the palettes (WCAG 2.2, 1.4.3 and 1.4.11)."""

from __future__ import annotations

from itertools import combinations

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPalette

from xref_app.gui.colours import COLOURS, Colours, ThemeName
from xref_app.gui.marks import Mark, paint_border, paint_mark
from xref_app.gui.theme import palette


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = (QColor(colour).redF(), QColor(colour).greenF(), QColor(colour).blueF())
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_is_that_of_wcag() -> None:
    # WCAG 2.2, definition of contrast ratio: black on white is 21:1; #767676 on white is the well-known 4.54:1.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", ThemeName)
def test_text_keeps_4_5_to_1_on_every_ground(theme: ThemeName) -> None:
    colours = COLOURS[theme]
    for ground in (colours.base, colours.window, colours.selection):
        assert contrast(colours.text, ground) >= 4.5
        assert contrast(colours.quiet_text, ground) >= 4.5
    for ink in (colours.fits, colours.parts, colours.unknown, colours.fails):
        assert contrast(ink, colours.selection) >= 4.5
    assert contrast(colours.danger, colours.danger_ground) >= 4.5
    assert contrast(colours.accent, colours.base) >= 4.5


@pytest.mark.parametrize("theme", ThemeName)
def test_marks_edges_and_focus_rings_keep_3_to_1(theme: ThemeName) -> None:
    colours = COLOURS[theme]
    for ink in (colours.fits, colours.parts, colours.unknown, colours.fails, colours.accent):
        assert contrast(ink, colours.base) >= 7.0
        assert contrast(ink, colours.window) >= 3.0
    assert contrast(colours.edge, colours.base) >= 3.0
    assert contrast(colours.edge, colours.window) >= 3.0


@pytest.mark.parametrize("theme", ThemeName)
def test_the_palette_sets_text_and_ground_itself(theme: ThemeName) -> None:
    made = palette(COLOURS[theme])
    role = QPalette.ColorRole
    for text, ground in ((role.Text, role.Base), (role.WindowText, role.Window), (role.ButtonText, role.Button)):
        for group in (QPalette.ColorGroup.Active, QPalette.ColorGroup.Disabled):
            assert contrast(made.color(group, text).name(), made.color(group, ground).name()) >= 4.5


def painted(mark: Mark, colours: Colours, side: int, *, ground: Qt.GlobalColor = Qt.GlobalColor.white) -> QImage:
    image = QImage(side, side, QImage.Format.Format_RGB32)
    image.fill(ground)
    painter = QPainter(image)
    paint_mark(painter, QRectF(0, 0, side, side), mark, colours)
    painter.end()
    return image.convertToFormat(QImage.Format.Format_Grayscale8)


def differing_share(one: QImage, other: QImage) -> float:
    side = one.width()
    apart = sum(
        abs(one.pixelColor(x, y).lightness() - other.pixelColor(x, y).lightness()) > 60
        for x in range(side)
        for y in range(side)
    )
    return apart / side**2


@pytest.mark.parametrize("theme", ThemeName)
@pytest.mark.parametrize("side", [20, 32])
def test_marks_are_told_apart_in_grey(theme: ThemeName, side: int) -> None:
    # ux.md section 3, "Not by colour": pairwise difference of more than 20 % of the pixels.
    images = {mark: painted(mark, COLOURS[theme], side) for mark in Mark}
    for one, other in combinations(Mark, 2):
        assert differing_share(images[one], images[other]) > 0.20, (one, other)


def test_no_ground_shines_through_the_plate() -> None:
    on_white = painted(Mark.UNKNOWN, COLOURS[ThemeName.LIGHT], 32)
    on_red = painted(Mark.UNKNOWN, COLOURS[ThemeName.LIGHT], 32, ground=Qt.GlobalColor.red)
    inner = [(x, y) for x in range(4, 28) for y in range(4, 28)]
    assert all(on_white.pixel(x, y) == on_red.pixel(x, y) for x, y in inner)


def test_each_verdict_has_a_border_of_its_own() -> None:
    borders: list[bytes] = []
    for mark in Mark:
        image = QImage(60, 30, QImage.Format.Format_Grayscale8)
        image.fill(Qt.GlobalColor.white)
        painter = QPainter(image)
        # One ink for all, so that only the style of the line is left to differ.
        ink = COLOURS[ThemeName.LIGHT].text
        same = Colours(**dict.fromkeys(Colours.__slots__, ink))
        paint_border(painter, QRectF(0, 0, 60, 30), mark, same)
        painter.end()
        borders.append(bytes(image.constBits()))
    assert len(set(borders)) == len(Mark)
