"""Draws every picture of where the jaws go: ``python -m tests.gui.draw_all_jaws FILE [THEME [PERCENT]]``."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from tests.sheets.jaw_pictures_for_tests import every_picture
from xref_app.gui.colours import ThemeName
from xref_app.gui.jaw_view import JawView
from xref_app.gui.theme import Look

_COLUMNS, _WIDTH, _HEIGHT, _TITLE = 6, 320, 230, 22


def draw_all(look: Look, file: Path) -> int:
    """Save all pictures to ``file``; return how many."""
    drawn = every_picture()
    rows = -(-len(drawn) // _COLUMNS)
    sheet = QImage(_COLUMNS * _WIDTH, rows * (_HEIGHT + _TITLE), QImage.Format.Format_RGB32)
    sheet.fill(QColor(look.colours.base))
    view = JawView(look)
    view.resize(_WIDTH, _HEIGHT)
    painter = QPainter(sheet)
    painter.setPen(QColor(look.colours.text))
    for place, (name, drawing) in enumerate(drawn.items()):
        view.show_drawing(drawing)
        left, top = place % _COLUMNS * _WIDTH, place // _COLUMNS * (_HEIGHT + _TITLE)
        painter.drawText(QRect(left, top, _WIDTH, _TITLE), int(Qt.AlignmentFlag.AlignCenter), name)
        view.render(painter, QPoint(left, top + _TITLE), renderFlags=JawView.RenderFlag.DrawChildren)
    painter.end()
    view.deleteLater()
    sheet.save(str(file))
    return len(drawn)


def main(arguments: list[str]) -> int:
    """Draw the sheet named on the command line."""
    app = QApplication([])
    look = Look()
    if len(arguments) > 1:
        look.set_theme(ThemeName(arguments[1]))
    look.set_text_percent(int(arguments[2]) if len(arguments) > 2 else 100)
    count = draw_all(look, Path(arguments[0]))
    app.quit()
    return 0 if count else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
