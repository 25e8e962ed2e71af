"""A drawing as a DXF file: true size, in mm, about the drawing's own origin, one layer per kind of line."""

from __future__ import annotations

from collections.abc import Callable
from io import StringIO
from typing import TYPE_CHECKING

from xref_app.core.errors import XrefError
from xref_app.core.sentence import Sentence
from xref_app.sheets.laid_out import Anchor, Edge, Head, Words
from xref_app.sheets.letter_widths import estimated_width_mm
from xref_app.sheets.moved import moved
from xref_app.sheets.page import page_for
from xref_app.sheets.paper_lines import PAPER_LINES
from xref_app.sheets.printable import printable
from xref_app.sheets.shapes import Arc, Circle, Drawing, Line, Segment

if TYPE_CHECKING:
    from ezdxf.document import Drawing as DxfFile
    from ezdxf.layouts.layout import Modelspace

TEXT_LAYER = "TEXT"
# DXF reference, header variable $INSUNITS: 4 stands for millimetres.
_MILLIMETRES = 4
_VERSION = "R2010"
# The height of DXF text is that of its capitals, ours that of the font (from memory: about 0.72 of it; looks only).
_CAPITALS = 0.72


class DxfNotInstalledError(XrefError):
    """The library that writes DXF is not installed."""

    def __init__(self) -> None:
        super().__init__(
            "Writing DXF needs the library ezdxf, and it is not installed here – "
            "install it with pip install 'xref-app[dxf]', or save the drawing as SVG."
        )


def dxf_bytes(drawing: Drawing, say: Callable[[Sentence], str] = str) -> bytes:
    """Return the file.

    Raises:
        DxfNotInstalledError: ezdxf is not installed.
    """
    try:
        from ezdxf.filemanagement import new  # noqa: PLC0415 - optional, and slow to load
    except ImportError as error:
        raise DxfNotInstalledError from error
    page = page_for(drawing, estimated_width_mm, say=say)
    if page is None:
        raise AssertionError("a sheet as large as needed holds everything")
    file = new(_VERSION)
    file.header["$INSUNITS"] = _MILLIMETRES
    file.header["$MEASUREMENT"] = 1
    _add_layers(file)
    space = file.modelspace()
    content = moved(page.content, -page.origin_mm[0], -page.origin_mm[1])
    for edge in content.edges:
        _add_edge(space, edge)
    for head in content.heads:
        _add_head(space, head)
    for words in content.words:
        _add_words(space, words)
    stream = StringIO()
    file.write(stream)
    return stream.getvalue().encode("utf-8")


def layer_of(line: Line) -> str:
    """Return the layer a kind of line lies on."""
    return line.value.upper()


def _add_layers(file: DxfFile) -> None:
    for line, look in PAPER_LINES.items():
        linetype = "CONTINUOUS"
        if look.strokes_mm:
            linetype = f"XREF_{layer_of(line)}"
            strokes = [
                (0.0 if look.is_round else length) if place % 2 == 0 else -length
                for place, length in enumerate(look.strokes_mm)
            ]
            file.linetypes.add(linetype, pattern=[sum(map(abs, strokes)), *strokes])
        layer = file.layers.add(layer_of(line), linetype=linetype)
        layer.dxf.lineweight = _lineweight(look.width_mm)
    file.layers.add(TEXT_LAYER)


def _lineweight(width_mm: float) -> int:
    """Return the nearest of the thicknesses DXF knows, hundredths of a mm."""
    known = (13, 18, 25, 35, 50, 60, 70)
    return min(known, key=lambda one: abs(one - width_mm * 100))


def _add_edge(space: Modelspace, edge: Edge) -> None:
    look = {"layer": layer_of(edge.line)}
    if isinstance(edge, Circle):
        space.add_circle((edge.x_mm, edge.y_mm), edge.diameter_mm / 2, dxfattribs=look)
    elif isinstance(edge, Segment):
        space.add_line((edge.x1_mm, edge.y1_mm), (edge.x2_mm, edge.y2_mm), dxfattribs=look)
    elif isinstance(edge, Arc):
        ends = edge.start_deg, edge.start_deg + edge.sweep_deg
        space.add_arc((edge.x_mm, edge.y_mm), edge.diameter_mm / 2, *ends, dxfattribs=look)
    else:
        space.add_lwpolyline(edge.corners, close=True, dxfattribs=look)


def _add_head(space: Modelspace, head: Head) -> None:
    space.add_solid(head.corners, dxfattribs={"layer": layer_of(head.line)})


def _add_words(space: Modelspace, words: Words) -> None:
    from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415 - optional

    # "%%" begins a control code of DXF text.
    text = printable(words.text).replace("%%", "% %")
    placed = space.add_text(text, height=_CAPITALS * words.height_mm, dxfattribs={"layer": TEXT_LAYER})
    aligned = {
        Anchor.START: TextEntityAlignment.MIDDLE_LEFT,
        Anchor.MIDDLE: TextEntityAlignment.MIDDLE_CENTER,
        Anchor.END: TextEntityAlignment.MIDDLE_RIGHT,
    }
    placed.set_placement((words.anchor_x_mm, words.y_mm), align=aligned[words.anchor])
