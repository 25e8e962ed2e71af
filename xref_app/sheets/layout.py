"""Puts the words of a drawing in place once it is known how large they are."""

from __future__ import annotations

import math

from xref_app.sheets.hatching import hatch_lines
from xref_app.sheets.laid_out import Anchor, Edge, Head, LaidOut, Lettering, Words
from xref_app.sheets.shapes import CentreLine, Drawing, Hatching, Label, Line, Segment, Shape, SizeLine
from xref_app.sheets.size_rows import size_rows

# What lies over what: later lines cover earlier ones.
_ORDER = (
    Line.CENTRE,
    Line.HATCH,
    Line.THREAD,
    Line.PUMP,
    Line.BETWEEN,
    Line.PART,
    Line.MACHINE,
    Line.SIZE,
    Line.CHECK,
    Line.MISS,
)
# Half the width of an arrowhead over its length (house rule: looks only).
_HEAD_SLIM = 0.3
# Words that lie more to the side of their point than this begin or end there.
_ASIDE = 0.4


def laid_out(drawing: Drawing, lettering: Lettering) -> LaidOut:
    """Return the drawing with words this large, each clear of what it names."""
    edges: list[Edge] = []
    heads: list[Head] = []
    for shape in drawing.shapes:
        edges.extend(_edges(shape, lettering))
        if isinstance(shape, Segment) and shape.arrow:
            heads.append(_arrowhead(shape, lettering.head_mm))
    words = [beside(label, lettering) for label in drawing.labels]
    body = LaidOut(tuple(edges), tuple(heads), tuple(words)).box
    rows = size_rows(drawing.sizes, body, lettering)
    edges.extend(rows.edges)
    edges.sort(key=lambda edge: _ORDER.index(edge.line))
    return LaidOut(tuple(edges), (*heads, *rows.heads), (*words, *rows.words))


def _edges(shape: Shape, lettering: Lettering) -> tuple[Edge, ...]:
    if isinstance(shape, (Label, SizeLine)):
        return ()
    if isinstance(shape, Hatching):
        return tuple(hatch_lines(shape, apart_mm=lettering.hatch_mm))
    if isinstance(shape, CentreLine):
        return (Segment(shape.x1_mm, shape.y1_mm, shape.x2_mm, shape.y2_mm, Line.CENTRE),)
    if isinstance(shape, Segment) and shape.arrow:
        return (_shaft(shape, lettering.head_mm),)
    return (shape,)


def _shaft(arrow: Segment, head_mm: float) -> Segment:
    """Return an arrow's line, ending inside its head so that the tip stays sharp."""
    long = math.hypot(arrow.x2_mm - arrow.x1_mm, arrow.y2_mm - arrow.y1_mm)
    share = max(1 - head_mm / 2 / long, 0.0) if long else 0.0
    x2 = arrow.x1_mm + share * (arrow.x2_mm - arrow.x1_mm)
    y2 = arrow.y1_mm + share * (arrow.y2_mm - arrow.y1_mm)
    return Segment(arrow.x1_mm, arrow.y1_mm, x2, y2, arrow.line)


def _arrowhead(arrow: Segment, head_mm: float) -> Head:
    angle = math.atan2(arrow.y2_mm - arrow.y1_mm, arrow.x2_mm - arrow.x1_mm)
    cos, sin = math.cos(angle), math.sin(angle)
    x, y, slim = arrow.x2_mm, arrow.y2_mm, _HEAD_SLIM * head_mm
    back_x, back_y = x - head_mm * cos, y - head_mm * sin
    return Head(
        ((x, y), (back_x - slim * sin, back_y + slim * cos), (back_x + slim * sin, back_y - slim * cos)), arrow.line
    )


def beside(label: Label, lettering: Lettering) -> Words:
    """Return the words of a label as near to its point as its direction allows without touching."""
    text = lettering.say(label.text)
    width_mm, height_mm = lettering.width_of(text), lettering.height_mm
    across, up = math.cos(math.radians(label.towards_deg)), math.sin(math.radians(label.towards_deg))
    away = clear_distance(
        label.clear_mm + lettering.gap_mm, (abs(across), abs(up)), half_width=width_mm / 2, half_height=height_mm / 2
    )
    x, y = label.x_mm + across * away, label.y_mm + up * away
    anchor = Anchor.MIDDLE if abs(across) < _ASIDE else Anchor.START if across > 0 else Anchor.END
    return Words(x, y, width_mm, height_mm, text, label.line, anchor)


def clear_distance(radius: float, direction: tuple[float, float], *, half_width: float, half_height: float) -> float:
    """Return how far out a box must stand to touch a disc about the origin with a side or a corner, and no more.

    Args:
        radius: Of the disc, in any unit of length, as are the rest.
        direction: Where the middle of the box lies, a unit vector with neither part negative.
        half_width: Half the width of the box.
        half_height: Half its height.
    """
    across, up = direction
    if across * half_height >= up * (radius + half_width):
        return (radius + half_width) / across
    if up * half_width >= across * (radius + half_height):
        return (radius + half_height) / up
    along = across * half_width + up * half_height
    return along + math.sqrt(along**2 - half_width**2 - half_height**2 + radius**2)
