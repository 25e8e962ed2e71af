"""The one painter of printed sheets: the same strokes on the printer, in a PDF and on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QImage,
    QPagedPaintDevice,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPen,
    QPolygonF,
)

from xref_app.core.errors import XrefError
from xref_app.gui.colours import Colours
from xref_app.gui.face_painter import paint_edge, px_point
from xref_app.gui.marks import MARK_OF_OUTCOME, paint_mark
from xref_app.sheets.laid_out import LaidOut, Words
from xref_app.sheets.paper_lines import PAPER_LINES
from xref_app.sheets.shapes import Line
from xref_app.sheets.sheet_page import SheetPage

INCH_MM = 25.4
# Everything is reckoned in units of 1/1200 in and scaled to the device: so no device sets a line elsewhere.
DPI = 1200
_UNITS_PER_MM = DPI / INCH_MM
_FAMILY = "Sans Serif"
# The middle of capitals over the base line, in heights of a font: words stand by it. House rule: looks only.
_CAPITAL_SHARE = 0.36
_INK = Colours(
    window="#FFFFFF",
    base="#FFFFFF",
    text="#000000",
    quiet_text="#000000",
    line="#000000",
    edge="#000000",
    accent="#000000",
    selection="#FFFFFF",
    danger="#000000",
    danger_ground="#FFFFFF",
    fits="#000000",
    parts="#000000",
    unknown="#000000",
    fails="#000000",
)


class PaperFailedError(XrefError):
    """A device that did not take the pages."""

    def __init__(self, where: str) -> None:
        super().__init__(f"{where} did not take the sheet – save it as a PDF, or choose another printer.")


def text_width_mm(text: str, height_mm: float, *, is_bold: bool = False) -> float:
    """Return how wide ``text`` comes out on paper, mm."""
    return QFontMetricsF(_font(height_mm, is_bold=is_bold)).horizontalAdvance(text) / _UNITS_PER_MM


def sheet_pdf(pages: Sequence[SheetPage], title: str) -> bytes:
    """Return n ≥ 1 pages as a PDF file with its fonts inside.

    Raises:
        PaperFailedError: Qt did not finish it.
    """
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DPI)
    writer.setTitle(title)
    paint_pages(writer, pages, "The PDF")
    buffer.close()
    return bytes(buffer.data().data())


def paint_pages(device: QPagedPaintDevice, pages: Sequence[SheetPage], where: str) -> None:
    """Paint n ≥ 1 pages at true size on a device whose origin is the corner of the paper; ``where`` names it.

    Raises:
        PaperFailedError: the device refused.
    """
    device.setPageLayout(_layout(pages[0]))
    painter = QPainter()
    if not painter.begin(device):
        raise PaperFailedError(where)
    for number, page in enumerate(pages):
        if number:
            device.setPageLayout(_layout(page))
            if not device.newPage():
                painter.end()
                raise PaperFailedError(where)
        paint_page(painter, page, px_per_mm=device.logicalDpiX() / INCH_MM)
    if not painter.end():
        raise PaperFailedError(where)


def page_image(page: SheetPage, px_per_mm: float) -> QImage:
    """Return a page as it comes out on paper, for the screen."""
    image = QImage(
        QSize(round(page.width_mm * px_per_mm), round(page.height_mm * px_per_mm)), QImage.Format.Format_RGB32
    )
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_page(painter, page, px_per_mm=px_per_mm)
    painter.end()
    return image


def paint_page(painter: QPainter, page: SheetPage, *, px_per_mm: float) -> None:
    """Paint a page whose upper left corner is the painter's origin."""
    painter.save()
    painter.scale(px_per_mm / _UNITS_PER_MM, px_per_mm / _UNITS_PER_MM)
    painter.translate(0.0, page.height_mm * _UNITS_PER_MM)
    for window in page.windows:
        painter.save()
        painter.setClipRect(_rect(window.box))
        _paint(painter, window.content)
        painter.restore()
    _paint(painter, page.content)
    for mark in page.marks:
        half = mark.side_mm / 2
        box = (mark.x_mm - half, mark.y_mm - half, mark.x_mm + half, mark.y_mm + half)
        paint_mark(painter, _rect(box), MARK_OF_OUTCOME[mark.outcome], _INK)
    painter.restore()


def _paint(painter: QPainter, content: LaidOut) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for edge in content.edges:
        painter.setPen(paper_pen(edge.line))
        paint_edge(painter, edge, _UNITS_PER_MM)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor("black"))
    for head in content.heads:
        painter.drawPolygon(QPolygonF([px_point(corner, _UNITS_PER_MM) for corner in head.corners]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QColor("black"))
    for words in content.words:
        _paint_words(painter, words)


def _paint_words(painter: QPainter, words: Words) -> None:
    """Paint a line of text from its left end, about the middle of its capitals."""
    painter.setFont(_font(words.height_mm, is_bold=words.is_bold or words.line is Line.MISS))
    left, middle = words.box[0], words.y_mm - _CAPITAL_SHARE * words.height_mm
    painter.drawText(px_point((left, middle), _UNITS_PER_MM), words.text)


def _rect(box: tuple[float, float, float, float]) -> QRectF:
    left, bottom, right, top = box
    return QRectF(px_point((left, top), _UNITS_PER_MM), px_point((right, bottom), _UNITS_PER_MM))


def _layout(page: SheetPage) -> QPageLayout:
    size = QPageSize(
        QSizeF(page.width_mm, page.height_mm), QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch
    )
    layout = QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF())
    # Else a printer's own least margins would move the origin, and everything that is to be traced with it.
    layout.setMode(QPageLayout.Mode.FullPageMode)
    return layout


def paper_pen(line: Line) -> QPen:
    """Return the pen of a line on paper, in units of 1/1200 in."""
    look = PAPER_LINES[line]
    pen = QPen(QColor("black"), look.width_mm * _UNITS_PER_MM)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap if look.is_round else Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if look.strokes_mm:
        # Qt counts strokes in thicknesses of the line.
        pen.setDashPattern([length / look.width_mm for length in look.strokes_mm])
    return pen


def _font(height_mm: float, *, is_bold: bool = False) -> QFont:
    font = QFont(_FAMILY)
    font.setPixelSize(round(height_mm * _UNITS_PER_MM))
    font.setBold(is_bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font
