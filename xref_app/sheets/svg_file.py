"""A drawing as an SVG file: true size, in mm, black on white."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from html import escape

from xref_app.core.sentence import Sentence
from xref_app.sheets.laid_out import Edge, Head, Words
from xref_app.sheets.letter_widths import estimated_width_mm
from xref_app.sheets.page import Page, page_for
from xref_app.sheets.paper_lines import PAPER_LINES
from xref_app.sheets.printable import printable
from xref_app.sheets.shapes import Arc, Circle, Drawing, Line, Segment

# Letters stand so much below the middle of their line, in heights: no viewer agrees on "dominant-baseline".
_BASELINE = 0.36


def svg_bytes(drawing: Drawing, say: Callable[[Sentence], str] = str) -> bytes:
    """Return the file: width and height in mm, one unit of the picture to the mm."""
    page = page_for(drawing, estimated_width_mm, say=say)
    if page is None:
        raise AssertionError("a sheet as large as needed holds everything")
    return "\n".join(_lines(page, _text(say(drawing.title)))).encode("utf-8")


def _lines(page: Page, title: str) -> Iterator[str]:
    width, height = _number(page.width_mm), _number(page.height_mm)
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    )
    yield f"<title>{title}</title>"
    yield f'<rect width="{width}" height="{height}" fill="white"/>'
    yield '<g fill="none" stroke="black">'
    for line in Line:
        edges = [edge for edge in page.content.edges if edge.line is line]
        if edges:
            yield f'<g id="{line}" {_style(line)}>'
            yield from (_edge(edge, page.height_mm) for edge in edges)
            yield "</g>"
    yield "</g>"
    yield '<g fill="black" stroke="none">'
    yield from (_head(head, page.height_mm) for head in page.content.heads)
    yield "</g>"
    yield '<g fill="black" stroke="none" font-family="sans-serif">'
    yield from (_words(words, page.height_mm) for words in page.content.words)
    yield "</g>"
    yield "</svg>"


def _style(line: Line) -> str:
    look = PAPER_LINES[line]
    dashes = f' stroke-dasharray="{" ".join(map(_number, look.strokes_mm))}"' if look.strokes_mm else ""
    cap = ' stroke-linecap="round"' if look.is_round else ""
    return f'stroke-width="{_number(look.width_mm)}"{dashes}{cap}'


def _edge(edge: Edge, height_mm: float) -> str:
    if isinstance(edge, Circle):
        x, y, radius = edge.x_mm, height_mm - edge.y_mm, edge.diameter_mm / 2
        return f'<circle cx="{_number(x)}" cy="{_number(y)}" r="{_number(radius)}"/>'
    if isinstance(edge, Segment):
        return (
            f'<line x1="{_number(edge.x1_mm)}" y1="{_number(height_mm - edge.y1_mm)}"'
            f' x2="{_number(edge.x2_mm)}" y2="{_number(height_mm - edge.y2_mm)}"/>'
        )
    if isinstance(edge, Arc):
        return _arc(edge, height_mm)
    corners = " ".join(f"{_number(x)},{_number(height_mm - y)}" for x, y in edge.corners)
    return f'<polygon points="{corners}"/>'


def _arc(arc: Arc, height_mm: float) -> str:
    radius = arc.diameter_mm / 2
    ends = [
        (arc.x_mm + radius * math.cos(math.radians(turn)), height_mm - arc.y_mm - radius * math.sin(math.radians(turn)))
        for turn in (arc.start_deg, arc.start_deg + arc.sweep_deg)
    ]
    (x1, y1), (x2, y2) = ends
    is_large = int(arc.sweep_deg > 180)
    size = _number(radius)
    return f'<path d="M {_number(x1)} {_number(y1)} A {size} {size} 0 {is_large} 0 {_number(x2)} {_number(y2)}"/>'


def _head(head: Head, height_mm: float) -> str:
    corners = " ".join(f"{_number(x)},{_number(height_mm - y)}" for x, y in head.corners)
    return f'<polygon points="{corners}"/>'


def _words(words: Words, height_mm: float) -> str:
    y = height_mm - words.y_mm + _BASELINE * words.height_mm
    weight = ' font-weight="bold"' if words.line is Line.MISS else ""
    return (
        f'<text x="{_number(words.anchor_x_mm)}" y="{_number(y)}" text-anchor="{words.anchor.value}"'
        f' font-size="{_number(words.height_mm)}"{weight}>'
        f"{_text(words.text)}</text>"
    )


def _text(text: str) -> str:
    return escape(printable(text), quote=True)


def _number(value: float) -> str:
    """Return a length to a ten-thousandth of a mm, without an exponent."""
    return f"{value:.4f}".rstrip("0").rstrip(".")
