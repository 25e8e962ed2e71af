"""Drawings on a sheet: at 1:1 with bars while the paper holds them, else smaller, said, and without bars."""

from __future__ import annotations

import pytest

from tests.sheets.paper_for_tests import OWN, PLAIN, reckoned
from xref_app.core.sentence import Sentence
from xref_app.sheets.blocks import Block, Heading, NewPage, Paragraph, Row, Sheet, Table
from xref_app.sheets.page import Paper
from xref_app.sheets.scaled import scaled
from xref_app.sheets.shapes import Circle, Drawing, Label, Line, Segment, SizeLine
from xref_app.sheets.sheet_page import SheetPage
from xref_app.sheets.sheet_pages import sheet_pages

CHECK = "Measure this bar: if it is not 100 mm, do not trace."


def drawn(across_mm: float) -> SheetPage:
    drawing = Drawing((Circle(0.0, 0.0, across_mm, Line.PART),))
    (page,) = sheet_pages(Sheet(OWN, drawings=(drawing,)), Paper.A4, reckoned, PLAIN)
    return page


@pytest.mark.parametrize(("across_mm", "times"), [(60.0, 1), (180.0, 1), (220.0, 2), (600.0, 5), (1500.0, 10)])
def test_a_drawing_too_large_is_drawn_smaller_and_says_so(across_mm: float, times: int) -> None:
    page = drawn(across_mm)
    (circle,) = (one for one in page.content.edges if isinstance(one, Circle))
    assert circle.diameter_mm == pytest.approx(across_mm / times)
    assert (CHECK in page.text) is (times == 1)
    assert (f"Drawn at 1:{times}" in page.text) is (times > 1)
    left, bottom, right, top = page.content.box
    assert min(left, bottom) > 8.0
    assert right < page.width_mm - 8.0
    assert top < page.height_mm - 8.0


def test_a_smaller_drawing_keeps_the_sizes_written_on_it() -> None:
    size = SizeLine((0.0, 0.0), (80.0, 0.0), Sentence("80 mm"))
    label = Label(10.0, 20.0, Sentence("outlet"), Line.PUMP, 0.0, 4.0)
    half = scaled(Drawing((size, label, Segment(0.0, 0.0, 6.0, 8.0, Line.PART))), 0.5)
    assert half.sizes == (SizeLine((0.0, 0.0), (40.0, 0.0), Sentence("80 mm")),)
    assert half.labels == (Label(5.0, 10.0, Sentence("outlet"), Line.PUMP, 0.0, 2.0),)
    assert half.segments == (Segment(0.0, 0.0, 3.0, 4.0, Line.PART),)


def test_headings_of_a_table_stand_again_on_its_next_page_and_every_row_once() -> None:
    rows = tuple(Row((f"row {number}.", "words")) for number in range(90))
    pages = sheet_pages(Sheet(OWN, (Table(("Left", "Right"), rows, (0.5, 0.5)),)), Paper.LETTER, reckoned, PLAIN)
    assert len(pages) == 3
    assert all(page.text.splitlines()[1] == "Left  Right" for page in pages)
    whole = "\n".join(page.text for page in pages)
    assert all(whole.count(f"row {number}.") == 1 for number in range(90))


@pytest.mark.parametrize("lines", range(40, 60))
def test_a_heading_never_stands_alone_at_the_foot(lines: int) -> None:
    words = tuple(Paragraph("words") for _ in range(lines))
    held = (Heading("Order"), Paragraph("meaning", keeps_next=True), Paragraph("first step"))
    blocks: tuple[Block, ...] = (*words, *held)
    pages = sheet_pages(Sheet(OWN, blocks), Paper.LETTER, reckoned, PLAIN)
    (with_heading,) = (page for page in pages if "Order" in page.text)
    assert "first step" in with_heading.text


def test_a_new_page_is_begun_where_it_is_asked_for_and_no_page_is_empty() -> None:
    blocks = (NewPage(), Paragraph("one"), NewPage(), Paragraph("two"))
    pages = sheet_pages(Sheet(OWN, blocks), Paper.A4, reckoned, PLAIN)
    assert [page.text.splitlines()[1] for page in pages] == ["one", "two"]
