"""Printed sheets measured after rendering by PDFium (pypdfium2), which knows nothing of how we draw (ux.md A11).

Bars and circles within 0.3 %, parts of a gauge laid together, words and fonts in the file, codes read back by zxing-cpp
from 203 dpi, marks told apart in grey, and the preview the same picture as the PDF.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import zxingcpp
from PySide6.QtGui import QImage, QPageLayout
from PySide6.QtPrintSupport import QPrinter
from scipy.fft import irfft2, next_fast_len, rfft2
from scipy.ndimage import minimum_filter

from tests.gui.desk_for_tests import judged
from tests.gui.test_drawing_true_size import Dark, bar_rows, tick_to_tick_mm
from tests.sheets.test_side_drawing import case
from xref_app.core.fit.finding import Outcome
from xref_app.core.model.known import Hole, Pattern
from xref_app.core.model.pump import Pump
from xref_app.gui.messages import quantity_text, say
from xref_app.gui.paper_painter import page_image, sheet_pdf, text_width_mm
from xref_app.gui.paper_printers import print_pages
from xref_app.sheets.blocks import Foot, Sheet, Wording
from xref_app.sheets.fit_sheet import FitCase, fit_sheet
from xref_app.sheets.gauge_drawing import gauge_drawing
from xref_app.sheets.gauge_pages import OVERLAP_MM
from xref_app.sheets.label_code import label_code
from xref_app.sheets.laid_out import Box
from xref_app.sheets.page import Paper
from xref_app.sheets.question_card import CardCase, question_card
from xref_app.sheets.shapes import Circle
from xref_app.sheets.sheet_page import PlacedMark, SheetPage
from xref_app.sheets.sheet_pages import sheet_pages
from xref_app.sheets.shelf_label import LabelCase, label_page

_INCH_MM = 25.4
_DPI, _PARTS_DPI, _LABEL_DPI = 508.0, 254.0, 203.0
_PX_PER_MM, _PARTS_PX_PER_MM = _DPI / _INCH_MM, _PARTS_DPI / _INCH_MM
_SHARE = 0.003
PAPERS = (Paper.A4, Paper.LETTER)
WORDING = Wording(say, quantity_text)
FOOT = Foot("Paper gauge · K1", "Own catalog", "2026-11-26")
BOLT_CIRCLE_MM = 202.2

pytestmark = pytest.mark.usefixtures("qapp")


def large_pump() -> Pump:
    """Return a pump whose face is larger than a sheet: three holes on 202.2 mm."""
    angles = [math.radians(20 + one) for one in (0, 120, 240)]
    radius = BOLT_CIRCLE_MM / 2
    holes = tuple(Hole(radius * math.cos(one), radius * math.sin(one)) for one in angles)
    pump = case().pump
    return replace(pump, flange=replace(pump.flange, holes_xy_mm=Pattern(holes, 0.1)))


def gauge(pump: Pump, paper: Paper) -> tuple[SheetPage, ...]:
    return sheet_pages(Sheet(FOOT, gauge=gauge_drawing(pump, 0.0)), paper, text_width_mm, WORDING)


def rendered(pages: tuple[SheetPage, ...], dpi: float = _DPI) -> list[Dark]:
    document = pypdfium2.PdfDocument(sheet_pdf(pages, "test"))
    return [np.asarray(one.render(scale=dpi / 72, grayscale=True).to_numpy()).squeeze() < 128 for one in document]


def box_px(box: Box, page: SheetPage, px_per_mm: float = _PX_PER_MM) -> tuple[slice, slice]:
    left, bottom, right, top = (round(one * px_per_mm) for one in box)
    high = round(page.height_mm * px_per_mm)
    return slice(high - top, high - bottom), slice(left, right)


def round_mm(dark: Dark, middle: tuple[float, float], page: SheetPage, about_mm: float) -> tuple[float, float]:
    """Return width and height of a circle about ``middle``, from outermost to outermost dark, less a line, mm."""
    half = about_mm / 2 + 1.0
    x, y = middle
    cut = dark[box_px((x - half, y - half, x + half, y + half), page)]
    columns, rows = np.flatnonzero(cut.any(axis=0)), np.flatnonzero(cut.any(axis=1))
    line_mm = 0.35
    across, up = (int(one[-1] - one[0] + 1) / _PX_PER_MM - line_mm for one in (columns, rows))
    return across, up


@pytest.mark.parametrize("paper", PAPERS)
def test_the_bars_of_every_page_of_a_gauge_are_as_long_as_they_say(paper: Paper) -> None:
    for pump in (case().pump, large_pump()):
        for dark, page in zip(rendered(gauge(pump, paper)), gauge(pump, paper), strict=True):
            size = (page.height_mm * _PX_PER_MM, page.width_mm * _PX_PER_MM)
            # A PDF counts its paper in whole points of 1/72 in here: a third of a millimetre.
            assert dark.shape == pytest.approx(size, abs=0.35 * _PX_PER_MM)
            rows = bar_rows(dark[:, : round(125 * _PX_PER_MM)])
            lengths = [tick_to_tick_mm(dark, row) for row in rows[:2]]
            assert lengths == [pytest.approx(100.0, rel=_SHARE), pytest.approx(4 * _INCH_MM, rel=_SHARE)]


@pytest.mark.parametrize("paper", PAPERS)
def test_holes_and_bore_of_a_gauge_are_as_wide_and_as_high_as_the_pumps(paper: Paper) -> None:
    pump = case().pump
    assert pump.flange.hole_mm is not None
    assert pump.flange.holes_xy_mm is not None
    (page,) = gauge(pump, paper)
    (dark,) = rendered((page,))
    circles = [one for one in page.windows[0].content.edges if isinstance(one, Circle)]
    assert sorted(one.diameter_mm for one in circles)[:4] == [pump.flange.hole_mm.value] * 4
    for one in circles[:4]:
        size = round_mm(dark, (one.x_mm, one.y_mm), page, one.diameter_mm)
        # A hole of 8.7 mm is 174 dots across: 0.3 % is half a dot, so one dot more is allowed.
        assert size == pytest.approx((one.diameter_mm,) * 2, rel=_SHARE, abs=1.5 / _PX_PER_MM)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_holes_of_a_gauge_stand_where_the_pump_has_them(paper: Paper) -> None:
    pages = gauge(large_pump(), paper)
    assert len(pages) == 4
    whole = laid_together(pages)
    # The cross of a hole is the only thing at its middle: found in the laid-together picture, not in the shapes.
    found = sorted(hole_middles_mm(whole))
    assert len(found) == 3
    for one, other in combinations(found, 2):
        assert math.dist(one, other) == pytest.approx(BOLT_CIRCLE_MM * math.sin(math.radians(60)), rel=_SHARE)


def laid_together(pages: tuple[SheetPage, ...]) -> Dark:
    """Return the parts of a gauge laid over each other by what is printed on them alone: cross on cross."""
    cut = []
    for page, dark in zip(pages, rendered(pages, _PARTS_DPI), strict=True):
        # Without the thin frame of the part.
        left, bottom, right, top = page.windows[0].box
        cut.append(dark[box_px((left + 0.3, bottom + 0.3, right - 0.3, top - 0.3), page, _PARTS_PX_PER_MM)])
    high, wide = cut[0].shape
    step_x, step_y = seam_px(cut[0], cut[1], axis=1), seam_px(cut[0], cut[2], axis=0)
    whole = np.zeros((high + step_y, wide + step_x), dtype=bool)
    for place, one in enumerate(cut):
        row, column = divmod(place, 2)
        whole[row * step_y : row * step_y + high, column * step_x : column * step_x + wide] |= one
    return whole


def seam_px(first: Dark, second: Dark, *, axis: int) -> int:
    """Return by how many dots the second part lies further, so that most of both overlaps is the same."""
    overlap = round(OVERLAP_MM * _PARTS_PX_PER_MM)
    size = int(first.shape[axis])

    def differing(width: int) -> float:
        end = first[:, size - width :] if axis else first[size - width :]
        begin = second[:, :width] if axis else second[:width]
        return float((end ^ begin).mean())

    widths = range(overlap - 20, overlap + 10)
    return size - min(widths, key=differing)


def hole_middles_mm(dark: Dark) -> list[tuple[float, float]]:
    """Return the middles of all small rings in a picture, mm from its upper left corner."""
    hole_mm, line_mm = 8.7, 0.35
    radius = hole_mm / 2 * _PARTS_PX_PER_MM
    side = round((hole_mm + line_mm) * _PARTS_PX_PER_MM / 2) + 2
    y, x = np.mgrid[-side : side + 1, -side : side + 1]
    ring = np.abs(np.hypot(x, y) - radius) < line_mm / 2 * _PARTS_PX_PER_MM
    # Correlation by Fourier transform: a ring lights up where its middle is.
    shape = tuple(next_fast_len(one + 2 * side, real=True) for one in dark.shape)
    kernel = np.zeros(shape)
    kernel[: ring.shape[0], : ring.shape[1]] = ring
    spectrum = rfft2(dark.astype(float), shape) * np.conj(rfft2(kernel, shape))
    match = irfft2(spectrum, shape) / ring.sum()
    found: list[tuple[float, float]] = []
    while match.max() > 0.8:
        row, column = np.unravel_index(int(match.argmax()), match.shape)
        found.append(((int(column) + side) / _PARTS_PX_PER_MM, (int(row) + side) / _PARTS_PX_PER_MM))
        match[max(int(row) - side, 0) : int(row) + side, max(int(column) - side, 0) : int(column) + side] = 0
    return found


def every_sheet(paper: Paper) -> list[tuple[SheetPage, ...]]:
    numbers = ("K4872-20", "B2700-34", "D2427", "S1450")
    foot = replace(FOOT, is_sample=True)
    fits = [fit_sheet(FitCase(one, "Tern 27", judged(one), "118"), foot, WORDING) for one in numbers]
    cards = [question_card(CardCase(one, one, judged(one), "118"), foot, WORDING) for one in numbers]
    pages = [sheet_pages(one, paper, text_width_mm, WORDING) for one in (*fits, *cards)]
    label = label_page(LabelCase("S-001", "Bolt", "E9"), text_width_mm, WORDING, is_sample=True)
    return [*pages, gauge(large_pump(), paper), (label,)]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_font_lies_inside_the_file_and_every_word_can_be_taken_out_of_it(paper: Paper) -> None:
    for pages in every_sheet(paper):
        document = pypdfium2.PdfDocument(sheet_pdf(pages, "test"))
        assert len(document) == len(pages)
        for page, ours in zip(document, pages, strict=True):
            texts = [one for one in page.get_objects() if one.type == pdfium.FPDF_PAGEOBJ_TEXT]
            assert texts
            assert all(pdfium.FPDFFont_GetIsEmbedded(pdfium.FPDFTextObj_GetFont(one.raw)) == 1 for one in texts)
            found = "".join(page.get_textpage().get_text_range().split())
            missing = [one.text for one in ours.content.words if "".join(one.text.split()) not in found]
            assert not missing


def test_what_is_seen_before_printing_is_what_is_printed() -> None:
    dpi = 150.0
    for pages in every_sheet(Paper.LETTER):
        document = pypdfium2.PdfDocument(sheet_pdf(pages, "test"))
        for page, ours in zip(document, pages, strict=True):
            printed = np.asarray(page.render(scale=dpi / 72, grayscale=True).to_numpy()).squeeze().astype(float)
            seen = grey(page_image(ours, dpi / _INCH_MM))
            high, wide = (min(one) for one in zip(printed.shape, seen.shape, strict=True))
            # Two engines smooth edges differently: nothing may be dark in one where the other is white all about.
            assert_alike(printed[:high, :wide], seen[:high, :wide])


def grey(image: QImage) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    plain = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(plain.constBits(), dtype=np.uint8).reshape(plain.height(), plain.bytesPerLine())
    return rows[:, : plain.width()].astype(float)


def assert_alike(
    one: np.ndarray[tuple[int, ...], np.dtype[np.float64]], other: np.ndarray[tuple[int, ...], np.dtype[np.float64]]
) -> None:
    for first, second in ((one, other), (other, one)):
        near = minimum_filter(second, size=5)
        alone = (first < 90) & (near > 235)
        assert alone.sum() == 0


def test_a_printer_gets_the_same_picture_from_the_corner_of_the_paper(tmp_path: object) -> None:
    pages = gauge(case().pump, Paper.LETTER)
    path = f"{tmp_path}/printed.pdf"
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(path)
    print_pages(printer, pages, "test", "the file")
    # A file has no margins of its own to show it by: a printer that has some starts at the corner only in this mode.
    assert printer.pageLayout().mode() is QPageLayout.Mode.FullPageMode
    page = pypdfium2.PdfDocument(path)[0]
    dark = np.asarray(page.render(scale=_DPI / 72, grayscale=True).to_numpy()).squeeze() < 128
    (ours,) = rendered(pages)
    assert dark.shape == ours.shape
    assert (dark ^ ours).mean() < 1e-4


@pytest.mark.parametrize("shelf_id", ["S-001", "S-9999", "550e8400-e29b-41d4-a716-446655440000", "C3/left 12", "0"])
def test_the_code_of_a_label_is_read_back_from_a_print_of_203_dpi(shelf_id: str) -> None:
    page = label_page(LabelCase(shelf_id, "Bolt 5/16-18 UNC x 1 in", "E9"), text_width_mm, WORDING)
    document = pypdfium2.PdfDocument(sheet_pdf((page,), "label"))
    picture = document[0].render(scale=_LABEL_DPI / 72, grayscale=True).to_pil()
    # A label printer knows black and white only.
    dots = picture.point(lambda one: 255 if one > 127 else 0)
    assert [one.text for one in zxingcpp.read_barcodes(dots)] == [label_code(shelf_id)]


def test_marks_are_told_apart_without_any_colour() -> None:
    side_mm = 8.0
    pictures = []
    for outcome in Outcome:
        page = SheetPage(20.0, 20.0, marks=(PlacedMark(outcome, 10.0, 10.0, side_mm),))
        image = page_image(page, 10.0)
        colours = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.width(), 4)[:, :, :3]
        assert (colours == colours[:, :, :1]).all()
        pictures.append(grey(image) < 128)
    for one, other in combinations(pictures, 2):
        assert (one ^ other).mean() > 0.02
