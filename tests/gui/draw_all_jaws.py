"""Paints every picture of the jaws on one sheet to look at: ``python -m tests.gui.draw_all_jaws FILE.png [TEXT%]``."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication

from xref_app.core.fields.fields import all_fields
from xref_app.gui.colours import ThemeName
from xref_app.gui.jaw_view import JawView
from xref_app.gui.theme import Look
from xref_app.sheets.jaws import jaw_drawing
from xref_app.sheets.jaws_shapes import JawDrawing

HOLES_STEPS = ("neighbours", "opposite", "count", "hole size", "shaft to hole 2", "shaft or bore", "turn")
THREAD_STEPS = ("outside large end", "outside small end", "inside", "crests", "gauge", "taper", "angle", "seal")


def every_drawing() -> Iterator[tuple[str, JawDrawing]]:
    """Yield every picture with a name: each field, each step of holes and threads, each count, each way."""
    for name, step, holes, way in every_asking():
        drawing = jaw_drawing(name, step=step, holes=holes, way=way)
        if drawing is not None:
            yield " ".join((name, step, str(holes), way)).strip(), drawing


def every_asking() -> Iterator[tuple[str, str, int, str]]:
    """Yield what every picture is asked for with: field, step, holes, way."""
    for name in all_fields():
        yield name, "", 4, ""
    for step in HOLES_STEPS:
        yield "flange_holes_xy_mm", step, 4, "outer edges"
    for holes in range(2, 9):
        for way in ("outer edges", "inner edges", "centres"):
            yield "face_holes_xy_mm", "neighbours", holes, way
    for pair in ("1-2", "side 2-3", "3-1"):
        yield "face_holes_xy_mm", pair, 3, "outer edges"
    for holes in (2, 3, 6):
        yield "face_holes_xy_mm", "count", holes, ""
        yield "face_seat_heights_mm", "", holes, ""
    for step in THREAD_STEPS:
        yield "inlet_thread", step, 4, ""
        yield "face_bolt", step, 4, ""


def contact_sheet(look: Look, width: int, height: int, *, only: str = "") -> QImage:
    """Return all pictures whose name contains ``only``, each ``width`` by ``height`` px, with their names."""
    drawings = [(name, drawing) for name, drawing in every_drawing() if only in name]
    columns = max(1, 1800 // width)
    rows = -(-len(drawings) // columns)
    image = QImage(columns * (width + 6), rows * (height + 22), QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.gray)
    painter, view = QPainter(image), JawView(look)
    view.resize(width, height)
    for place, (name, drawing) in enumerate(drawings):
        x, y = place % columns * (width + 6), place // columns * (height + 22)
        painter.drawText(QRect(x, y, width, 20), 0, name)
        view.show_drawing(drawing)
        view.render(painter, QPoint(x, y + 20))
    painter.end()
    view.deleteLater()
    return image


def main() -> None:
    """Paint the sheet: FILE, then perhaps text size in percent, theme, width, height, part of the name."""
    app = QApplication(sys.argv[:1])
    look = Look(app)
    more = [*sys.argv[2:], *("", "", "", "", "")[len(sys.argv) - 2 :]]
    look.set_theme(ThemeName(more[1] or "light"))
    look.set_text_percent(int(more[0] or 100))
    contact_sheet(look, int(more[2] or 430), int(more[3] or 270), only=more[4]).save(sys.argv[1])


if __name__ == "__main__":
    main()
