"""Lengths with their words, set in rows above and below a drawing so that no words lie on others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from xref_app.sheets.laid_out import Anchor, Box, Edge, Head, LaidOut, Lettering, Words
from xref_app.sheets.shapes import Line, Segment, SizeLine

# In lengths of an arrowhead: a length shorter than this has its heads outside, each with a tail this long.
_ROOM_FOR_HEADS, _TAIL = 2.6, 2.0
# Half the width of an arrowhead over its length; how far an extension line runs past its row, in heads.
_HEAD_SLIM, _PAST = 0.25, 0.5
# How far the words stand over their line, in heights.
_ROOM_ASIDE = 0.35


@dataclass(frozen=True, slots=True)
class _Placed:
    """A length in its row: where its line lies, how far it reaches with its words, and the words."""

    size: SizeLine
    y_mm: float
    words: Words


@dataclass(slots=True)
class _Side:
    """The rows of one side, each holding the stretches already taken."""

    first_y_mm: float
    step_mm: float
    taken: list[list[tuple[float, float]]] = field(default_factory=list)

    def row_for(self, left: float, right: float) -> float:
        """Return the height of the nearest row with room, and take it, mm."""
        free = (one for one in self.taken if all(right < begins or left > ends for begins, ends in one))
        stretches = next(free, None)
        if stretches is None:
            stretches = []
            self.taken.append(stretches)
        number = next(place for place, one in enumerate(self.taken) if one is stretches)
        stretches.append((left, right))
        return self.first_y_mm + number * self.step_mm


def size_rows(sizes: Sequence[SizeLine], body: Box, lettering: Lettering) -> LaidOut:
    """Return the lengths laid out round a drawing that covers ``body``."""
    step = lettering.row_mm
    below, above = _Side(body[1] - step, -step), _Side(body[3] + step, step)
    placed = [_placed(size, above if size.is_above else below, body, lettering) for size in sizes]
    boxes = [one.words.box for one in placed]
    edges = tuple(edge for one in placed for edge in (*_lines(one, lettering), *_extensions(one, boxes, lettering)))
    heads = tuple(head for one in placed for head in _heads(one, lettering))
    return LaidOut(edges, heads, tuple(one.words for one in placed))


def _ends(size: SizeLine) -> tuple[float, float]:
    first, second = size.first[0], size.second[0]
    return min(first, second), max(first, second)


def _has_heads_inside(size: SizeLine, lettering: Lettering) -> bool:
    left, right = _ends(size)
    return right - left >= _ROOM_FOR_HEADS * lettering.head_mm


def _placed(size: SizeLine, side: _Side, body: Box, lettering: Lettering) -> _Placed:
    """Return a length in its row, its words between the ends, or else beside them where the drawing grows least."""
    text = lettering.say(size.text)
    width, gap = lettering.width_of(text), lettering.gap_mm
    left, right = _ends(size)
    tail = 0.0 if _has_heads_inside(size, lettering) else _TAIL * lettering.head_mm
    out = tail + 2 * gap + width
    if not tail and width + 2 * (lettering.head_mm + gap) <= right - left:
        middle, anchor, reach = (left + right) / 2, Anchor.MIDDLE, (left, right)
    elif right + out - body[2] > body[0] - (left - out) and right + out > body[2]:
        middle, anchor, reach = left - tail - gap - width / 2, Anchor.END, (left - out, right + tail)
    else:
        middle, anchor, reach = right + tail + gap + width / 2, Anchor.START, (left - tail, right + out)
    y = side.row_for(*reach)
    return _Placed(size, y, Words(middle, y, width, lettering.height_mm, text, size.line, anchor))


def _lines(one: _Placed, lettering: Lettering) -> list[Edge]:
    """Return the line between the arrowheads, broken where the words stand, or the two tails outside."""
    left, right = _ends(one.size)
    line, y, gap = one.size.line, one.y_mm, lettering.gap_mm / 2
    box = one.words.box
    if not _has_heads_inside(one.size, lettering):
        tail = _TAIL * lettering.head_mm
        return [Segment(left - tail, y, left, y, line), Segment(right, y, right + tail, y, line)]
    if left <= box[0] and box[2] <= right:
        return [Segment(left, y, box[0] - gap, y, line), Segment(box[2] + gap, y, right, y, line)]
    return [Segment(left, y, right, y, line)]


def _heads(one: _Placed, lettering: Lettering) -> list[Head]:
    left, right = _ends(one.size)
    back = lettering.head_mm if _has_heads_inside(one.size, lettering) else -lettering.head_mm
    slim, y = _HEAD_SLIM * lettering.head_mm, one.y_mm
    return [
        Head(((x, y), (x + way * back, y + slim), (x + way * back, y - slim)), one.size.line)
        for x, way in ((left, 1), (right, -1))
    ]


def _extensions(one: _Placed, boxes: Sequence[Box], lettering: Lettering) -> list[Edge]:
    """Return the thin lines from what is measured out to the row, broken where words of other rows stand."""
    past = _PAST * lettering.head_mm * (1 if one.size.is_above else -1)
    edges: list[Edge] = []
    for x, from_y in (one.size.first, one.size.second):
        low, high = sorted((from_y, one.y_mm + past))
        for begins, ends in _outside(x, low, high, boxes, aside_mm=_ROOM_ASIDE * lettering.gap_mm):
            edges.append(Segment(x, begins, x, ends, Line.SIZE))
    return edges


def _outside(x: float, low: float, high: float, boxes: Sequence[Box], *, aside_mm: float) -> list[tuple[float, float]]:
    """Return the pieces of an upright line that lie in no box."""
    pieces, begins = [], low
    for left, bottom, right, top in sorted(boxes, key=lambda box: box[1]):
        if left - aside_mm < x < right + aside_mm and top > begins and bottom < high:
            if bottom > begins:
                pieces.append((begins, bottom))
            begins = top
    if begins < high:
        pieces.append((begins, high))
    return pieces
