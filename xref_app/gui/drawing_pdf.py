"""A drawing as a PDF file: one page at true size, its fonts inside."""

from __future__ import annotations

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPageLayout, QPageSize, QPainter, QPdfWriter, QPen, QPolygonF

from xref_app.core.errors import XrefError
from xref_app.gui.face_painter import paint_edge, px_point, word_box
from xref_app.gui.messages import say
from xref_app.sheets.page import Page, Paper, page_for
from xref_app.sheets.paper_lines import PAPER_LINES
from xref_app.sheets.shapes import Drawing, Line

_INCH_MM = 25.4
_DPI = 1200
_PX_PER_MM = _DPI / _INCH_MM
_FAMILY = "Sans Serif"


class DrawingTooLargeError(XrefError):
    """A drawing that goes on no sheet we know at true size."""

    def __init__(self, largest: Paper) -> None:
        super().__init__(
            f"The drawing is larger than a sheet of {largest.word} at true size – save it as SVG or DXF instead."
        )


class PdfFailedError(XrefError):
    """Qt did not finish the file."""

    def __init__(self) -> None:
        super().__init__("The PDF could not be made – save the drawing as SVG instead.")


def pdf_bytes(drawing: Drawing, paper: Paper) -> bytes:
    """Return the file: on ``paper``, or on the smallest larger sheet of its kind that holds the drawing at 1:1.

    Raises:
        DrawingTooLargeError: no such sheet does.
    """
    for one in paper.with_larger:
        upright = one.value
        for size_mm in (upright, (upright[1], upright[0])):
            page = page_for(drawing, _text_width_mm, size_mm=size_mm, say=say)
            if page is not None:
                return _painted(page, say(drawing.title))
    raise DrawingTooLargeError(paper.with_larger[-1])


def _painted(page: Page, title: str) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(_DPI)
    writer.setTitle(title)
    size = QPageSize(
        QSizeF(page.width_mm, page.height_mm), QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch
    )
    writer.setPageLayout(QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF()))
    painter = QPainter()
    if not painter.begin(writer):
        raise PdfFailedError
    painter.translate(QPointF(0.0, page.height_mm * _PX_PER_MM))
    _paint(painter, page)
    if not painter.end():
        raise PdfFailedError
    buffer.close()
    return bytes(buffer.data().data())


def _paint(painter: QPainter, page: Page) -> None:
    for edge in page.content.edges:
        painter.setPen(_pen(edge.line))
        paint_edge(painter, edge, _PX_PER_MM)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor("black"))
    for head in page.content.heads:
        painter.drawPolygon(QPolygonF([px_point(corner, _PX_PER_MM) for corner in head.corners]))
    painter.setPen(QColor("black"))
    for words in page.content.words:
        painter.setFont(_font(words.height_mm, is_bold=words.line is Line.MISS))
        box = word_box(words, _PX_PER_MM)
        room = QRectF(box).adjusted(-_PX_PER_MM, -_PX_PER_MM, _PX_PER_MM, _PX_PER_MM)
        painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip), words.text)


def _pen(line: Line) -> QPen:
    look = PAPER_LINES[line]
    pen = QPen(QColor("black"), look.width_mm * _PX_PER_MM)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap if look.is_round else Qt.PenCapStyle.FlatCap)
    if look.strokes_mm:
        # Qt counts strokes in thicknesses of the line.
        pen.setDashPattern([length / look.width_mm for length in look.strokes_mm])
    return pen


def _font(height_mm: float, *, is_bold: bool = False) -> QFont:
    font = QFont(_FAMILY)
    font.setPixelSize(round(height_mm * _PX_PER_MM))
    font.setBold(is_bold)
    return font


def _text_width_mm(text: str, height_mm: float) -> float:
    return QFontMetricsF(_font(height_mm)).horizontalAdvance(text) / _PX_PER_MM
