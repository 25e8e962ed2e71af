"""A drawing made smaller: its lines, never its words and numbers."""

from __future__ import annotations

from dataclasses import replace

from xref_app.sheets.shapes import Arc, CentreLine, Circle, Drawing, Hatching, Label, Outline, Segment, Shape, SizeLine


def scaled(drawing: Drawing, share: float) -> Drawing:
    """Return ``drawing`` with every length of its geometry times ``share`` (above 0); the sizes written stay true."""
    return replace(drawing, shapes=tuple(_scaled(one, share) for one in drawing.shapes))


def _scaled(shape: Shape, share: float) -> Shape:
    match shape:
        case Circle() | Arc():
            x, y = shape.x_mm * share, shape.y_mm * share
            return replace(shape, x_mm=x, y_mm=y, diameter_mm=shape.diameter_mm * share)
        case Segment() | CentreLine():
            x1, y1, x2, y2 = (one * share for one in (shape.x1_mm, shape.y1_mm, shape.x2_mm, shape.y2_mm))
            return replace(shape, x1_mm=x1, y1_mm=y1, x2_mm=x2, y2_mm=y2)
        case Outline() | Hatching():
            return replace(shape, corners=tuple((x * share, y * share) for x, y in shape.corners))
        case Label():
            clear = shape.clear_mm * share
            return replace(shape, x_mm=shape.x_mm * share, y_mm=shape.y_mm * share, clear_mm=clear)
        case SizeLine():
            (x1, y1), (x2, y2) = shape.first, shape.second
            return replace(shape, first=(x1 * share, y1 * share), second=(x2 * share, y2 * share))
