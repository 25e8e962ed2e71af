"""The spacers to make, side by side: each seen along the bolt and cut through, with a table of their sizes.

Everything is in mm; the row of pieces lies about the origin, its cuts to the right of what is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from xref_app.core.fit.house_rules import PICKED_DOUBT_MM
from xref_app.core.plan.house_rules import MADE_OUTSIDE_MM, MATERIAL, OVERSIZE_MM
from xref_app.core.plan.made_pieces import MadePiece
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.section import Band, Cut, section
from xref_app.sheets.shapes import CentreLine, Circle, Drawing, Label, Line, Segment, Shape, SizeLine

TITLE = marked("drawing", "Spacers to make")
HEADINGS = (
    marked("drawing", "Piece"),
    marked("drawing", "Make"),
    marked("drawing", "Thick mm"),
    marked("drawing", "Hole mm"),
    marked("drawing", "Outside mm"),
    marked("drawing", "Under the bolt at (x, y) mm"),
)
PIECE = marked("drawing", "{name}")
PIECE_AND_MAKE = marked("drawing", "{name}: make {count}")
MAKE = marked("drawing", "{count}")
THICK = marked("drawing", "{size:.2f} ± {off:.2f}")
HOLE = marked("drawing", "{size:.1f} +{over:.1f}/-0")
OUTSIDE = marked("drawing", "{size:.1f} ± {off:.1f}")
EVERY_BOLT = marked("drawing", "every bolt")
PLACES = marked("drawing", "{places}")
HOLE_SIZE = marked("drawing", "hole {size} mm")
OUTSIDE_SIZE = marked("drawing", "outside {size} mm")
THICK_SIZE = marked("drawing", "thick {size} mm")
FLAT = marked("drawing", "{material}; both sides flat, edges broken")
AS_MADE = marked(
    "drawing",
    "As made: hole up to {over:.1f} mm larger, never smaller, and in the middle; outside ± {outside:.1f} mm",
)
ALIKE = marked(
    "drawing",
    "Pieces of one thickness alike within {alike:.2f} mm: make them together, and measure each with the micrometer",
)
SEEN = marked("drawing", "x right and y up from the shaft, looking at the engine's face")
# From a piece to its cut and from a cut to the next piece; how far an axis runs past (house rule: looks only).
_TO_CUT_MM, _TO_NEXT_MM, _AXIS_PAST_MM = 8.0, 16.0, 3.0
_HATCH_DEG = 45.0


@dataclass(frozen=True, slots=True)
class _Placed:
    """A piece with its name, and where it stands: the middle of its round view and the near side of its cut, mm."""

    name: str
    piece: MadePiece
    middle_mm: float
    cut_mm: float


def spacer_drawing(pieces: Sequence[MadePiece]) -> Drawing:
    """Return all of ``pieces`` (n ≥ 1), each named, with a table that says how many of each go where.

    One bolt goes through them all, so hole and outside are written once, at the first.
    """
    placed = tuple(_placed(pieces))
    return Drawing(
        (*_across(placed[0]), *(shape for one in placed for shape in _shapes(one))),
        tuple(_notes(pieces)),
        title=Sentence(TITLE),
        table=(tuple(Sentence(heading) for heading in HEADINGS), *(_row(one) for one in placed)),
    )


def _placed(pieces: Sequence[MadePiece]) -> Iterator[_Placed]:
    """Yield the pieces from left to right, the whole row about the origin."""
    wide = sum(one.outside_mm + _TO_CUT_MM + one.thickness_mm for one in pieces) + _TO_NEXT_MM * (len(pieces) - 1)
    left = -wide / 2
    for name, one in zip(ascii_uppercase, pieces, strict=False):
        cut = left + one.outside_mm + _TO_CUT_MM
        yield _Placed(name, one, left + one.outside_mm / 2, cut)
        left = cut + one.thickness_mm + _TO_NEXT_MM


def _shapes(one: _Placed) -> Iterator[Shape]:
    x, piece, outside = one.middle_mm, one.piece, one.piece.outside_mm / 2
    yield Circle(x, 0.0, piece.outside_mm, Line.PART)
    yield Circle(x, 0.0, piece.hole_mm, Line.PART)
    yield from _cut(one)
    yield CentreLine(x, -outside - _AXIS_PAST_MM, x, outside + _AXIS_PAST_MM)
    yield CentreLine(x - outside - _AXIS_PAST_MM, 0.0, one.cut_mm + piece.thickness_mm + _AXIS_PAST_MM, 0.0)
    named = Sentence(PIECE_AND_MAKE, {"name": one.name, "count": piece.count})
    yield Label(x, 0.0, named, Line.PART, -90.0, outside + _AXIS_PAST_MM)
    ends = (one.cut_mm, outside), (one.cut_mm + piece.thickness_mm, outside)
    thick = f"{piece.thickness_mm:.2f} ± {piece.thickness_doubt_mm:.2f}"
    yield SizeLine(*ends, Sentence(THICK_SIZE, {"size": thick}), is_above=True)


def _across(one: _Placed) -> Iterator[SizeLine]:
    x, piece = one.middle_mm, one.piece
    for template, size, is_above in ((HOLE_SIZE, piece.hole_mm, True), (OUTSIDE_SIZE, piece.outside_mm, False)):
        ends = (x - size / 2, 0.0), (x + size / 2, 0.0)
        yield SizeLine(*ends, Sentence(template, {"size": f"{size:.1f}"}), is_above=is_above)


def _cut(one: _Placed) -> Iterator[Shape]:
    """Yield the piece cut along its axis, with the rims of the hole that are seen behind the cut."""
    near, far = one.cut_mm, one.cut_mm + one.piece.thickness_mm
    hole, outside = one.piece.hole_mm / 2, one.piece.outside_mm / 2
    for up in (1, -1):
        yield from section([Band(hole, outside, ((near, far),))], Cut(Line.PART, _HATCH_DEG, up=up))
    for x in (near, far):
        yield Segment(x, -hole, x, hole, Line.PART)


def _notes(pieces: Sequence[MadePiece]) -> Iterator[Sentence]:
    yield Sentence(FLAT, {"material": MATERIAL.value})
    yield Sentence(AS_MADE, {"over": OVERSIZE_MM, "outside": MADE_OUTSIDE_MM})
    if any(one.count > 1 for one in pieces):
        yield Sentence(ALIKE, {"alike": PICKED_DOUBT_MM})
    if any(one.under for one in pieces):
        yield Sentence(SEEN)


def _row(one: _Placed) -> tuple[Sentence, ...]:
    piece = one.piece
    places = " ".join(f"({x + 0.0:.1f}, {y + 0.0:.1f})" for x, y in piece.under)
    return (
        Sentence(PIECE, {"name": one.name}),
        Sentence(MAKE, {"count": piece.count}),
        Sentence(THICK, {"size": piece.thickness_mm, "off": piece.thickness_doubt_mm}),
        Sentence(HOLE, {"size": piece.hole_mm, "over": OVERSIZE_MM}),
        Sentence(OUTSIDE, {"size": piece.outside_mm, "off": MADE_OUTSIDE_MM}),
        Sentence(PLACES, {"places": places}) if places else Sentence(EVERY_BOLT),
    )
