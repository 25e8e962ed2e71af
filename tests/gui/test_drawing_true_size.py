"""PDF and SVG are measured after rendering, in pixels: bar and circle as long as they say, within 0.3 % (ux.md A11).

Rendered by PDFium (pypdfium2) and by QtSvg, which know nothing of how we draw.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QByteArray
from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from tests.sheets.test_plate_drawing import PLATE
from tests.sheets.test_side_drawing import case
from tests.sheets.test_spacer_drawing import OUTSIDE_MM, UNDER_ALL, drawn
from xref_app.gui.drawing_pdf import DrawingTooLargeError, pdf_bytes
from xref_app.sheets.face_drawing import face_drawing
from xref_app.sheets.page import Paper
from xref_app.sheets.plate_drawing import plate_drawing
from xref_app.sheets.shapes import Circle, Drawing, Line
from xref_app.sheets.side_drawing import side_drawing
from xref_app.sheets.svg_file import svg_bytes

Dark = NDArray[np.bool_]
_INCH_MM = 25.4
_DPI = 508.0
_PX_PER_MM = _DPI / _INCH_MM
_SHARE = 0.003
ROUND_MM = 65.0
ROUND = Drawing((Circle(0, 0, ROUND_MM, Line.PART),))

pytestmark = pytest.mark.usefixtures("qapp")


def rendered_pdf(drawing: Drawing, paper: Paper = Paper.A4) -> Dark:
    page = pypdfium2.PdfDocument(pdf_bytes(drawing, paper))[0]
    return np.asarray(page.render(scale=_DPI / 72, grayscale=True).to_numpy()).squeeze() < 128


def rendered_svg(drawing: Drawing) -> Dark:
    renderer = QSvgRenderer(QByteArray(svg_bytes(drawing)))
    assert renderer.isValid()
    # The size the file gives in mm, as QtSvg reads it: pixels of 1/90 or 1/96 inch do not matter, the box is in mm.
    box = renderer.viewBoxF()
    image = QImage(round(box.width() * _PX_PER_MM), round(box.height() * _PX_PER_MM), QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    renderer.render(painter)
    painter.end()
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : image.width()] < 128


RENDERERS = pytest.mark.parametrize("rendered", [rendered_pdf, rendered_svg])


def runs(row: Dark) -> list[tuple[int, int]]:
    """Return where each unbroken dark stretch begins and ends."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(np.int8)))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def bar_rows(dark: Dark) -> list[int]:
    """Return the middle row of each line across that is about as long as a check bar, from the top."""
    wide = [
        place
        for place, row in enumerate(dark)
        if any(98 * _PX_PER_MM < ends - begins < 104 * _PX_PER_MM for begins, ends in runs(row))
    ]
    groups = np.split(np.array(wide), np.flatnonzero(np.diff(wide) > 2) + 1)
    return [int(group.mean()) for group in groups]


def tick_to_tick_mm(dark: Dark, row: int) -> float:
    """Return the distance of the ticks of a bar, middle to middle, measured beside its line, mm."""
    found = runs(dark[row - round(1.2 * _PX_PER_MM)])
    first, last = found[0], found[1]
    return (sum(last) - sum(first)) / 2 / _PX_PER_MM


def widest_mm(dark: Dark) -> float:
    """Return the largest distance of two strokes that stand alone in a row, middle to middle, mm."""
    pairs = [found for row in dark if len(found := runs(row)) == 2]
    return max((sum(last) - sum(first)) / 2 for first, last in pairs) / _PX_PER_MM


def outermost_mm(dark: Dark) -> float:
    """Return the largest distance of two strokes that have two more between them in a row, middle to middle, mm."""
    rings = [found for row in dark if len(found := runs(row)) == 4]
    return max((sum(found[3]) - sum(found[0])) / 2 for found in rings) / _PX_PER_MM


@RENDERERS
def test_both_bars_are_as_long_as_they_say(rendered: Callable[[Drawing], Dark]) -> None:
    dark = rendered(ROUND)
    rows = bar_rows(dark)
    assert len(rows) == 2
    assert tick_to_tick_mm(dark, rows[0]) == pytest.approx(100.0, rel=_SHARE)
    assert tick_to_tick_mm(dark, rows[1]) == pytest.approx(4 * _INCH_MM, rel=_SHARE)


@RENDERERS
def test_a_circle_is_as_wide_and_as_high_as_it_is(rendered: Callable[[Drawing], Dark]) -> None:
    dark = rendered(ROUND)
    top = dark[: bar_rows(dark)[0] - round(8 * _PX_PER_MM)]
    assert widest_mm(top) == pytest.approx(ROUND_MM, rel=_SHARE)
    assert widest_mm(top.T) == pytest.approx(ROUND_MM, rel=_SHARE)


def test_the_side_view_and_the_faces_keep_their_bars_on_letter_paper() -> None:
    for drawing in (face_drawing(case().machine, case().pump, 0.0), side_drawing(case().machine, case().pump)):
        dark = rendered_pdf(drawing, Paper.LETTER)
        assert dark.shape == (round(279.4 * _PX_PER_MM), round(215.9 * _PX_PER_MM))
        assert tick_to_tick_mm(dark, bar_rows(dark)[0]) == pytest.approx(100.0, rel=_SHARE)


@RENDERERS
def test_a_spacer_to_make_is_as_high_as_it_is_wide_and_keeps_its_bar(rendered: Callable[[Drawing], Dark]) -> None:
    drawing = drawn(UNDER_ALL)
    dark = rendered(drawing)
    assert tick_to_tick_mm(dark, bar_rows(dark)[0]) == pytest.approx(100.0, rel=_SHARE)
    # Without its words and its cut only the ring is left, and its outermost strokes are alone in a column.
    ring = rendered(Drawing(drawing.circles))
    top = ring[: bar_rows(ring)[0] - round(8 * _PX_PER_MM)]
    assert outermost_mm(top.T) == pytest.approx(OUTSIDE_MM, rel=_SHARE)
    assert outermost_mm(top) == pytest.approx(OUTSIDE_MM, rel=_SHARE)


def test_every_font_of_the_pdf_lies_inside_it_and_its_words_can_be_read() -> None:
    page = pypdfium2.PdfDocument(pdf_bytes(plate_drawing(PLATE), Paper.A4))[0]
    texts = [one for one in page.get_objects() if one.type == pdfium.FPDF_PAGEOBJ_TEXT]
    assert len(texts) > 10
    assert all(pdfium.FPDFFont_GetIsEmbedded(pdfium.FPDFTextObj_GetFont(one.raw)) == 1 for one in texts)
    words = page.get_textpage().get_text_range()
    assert "Measure this bar: if it is not 100 mm, do not trace." in " ".join(words.split())
    assert "5/16-24 UNF" in words


def test_a_drawing_too_large_for_the_paper_goes_on_the_next_larger_sheet() -> None:
    wide = Drawing((Circle(0, 0, 230.0, Line.PART),))
    document = pypdfium2.PdfDocument(pdf_bytes(wide, Paper.A4))
    assert len(document) == 1
    size_mm = [points / 72 * _INCH_MM for points in document[0].get_size()]
    assert size_mm == pytest.approx([297.0, 420.0], abs=0.5)


def test_a_drawing_too_large_for_every_sheet_is_refused_in_one_sentence() -> None:
    with pytest.raises(DrawingTooLargeError) as caught:
        pdf_bytes(Drawing((Circle(0, 0, 700.0, Line.PART),)), Paper.LETTER)
    assert str(caught.value) == (
        "The drawing is larger than a sheet of ANSI C at true size – save it as SVG or DXF instead."
    )
