"""Where the jaws and the gauge go on a thread: outside at either end, inside, over crests, and on what seals."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.sentence import marked
from xref_app.sheets.jaws_shapes import Arrow, JawDrawing, Kind, Point, Sheet, arc, box, plus
from xref_app.sheets.jaws_tools import INSIDE, Grip, caliper

# An invented thread, mm: pitch and taper far coarser than any real one, to be seen.
PITCH_MM, CRESTS, DEEP_MM = 5.0, 9, 3.4
LARGE_MM, SMALL_MM = 44.0, 36.0
PLUG_MM, SOCKET_MM = 26.0, 26.6

LARGE_END, SMALL_END = marked("drawing", "large end"), marked("drawing", "tip")
GAUGE = marked("drawing", "thread gauge")
PLUG, SOCKET = marked("drawing", "plug"), marked("drawing", "socket")
STRAIGHTEDGE = marked("drawing", "straightedge")
ANGLE = marked("drawing", "55° or 60°?")

LARGE_WORDS = marked("drawing", "The outside jaws close on the crests at the large end, away from the tip.")
SMALL_WORDS = marked("drawing", "The outside jaws close on the crests at the tip.")
INSIDE_WORDS = marked("drawing", "The threaded socket cut open; the inside jaws open across the crests near the mouth.")
CRESTS_WORDS = marked(
    "drawing", "The thread from the side; the jaws stand on the first and the last of the crests that are counted."
)
GAUGE_WORDS = marked("drawing", "The leaf of a thread gauge lies along the thread; its teeth fill the grooves.")
TAPER_WORDS = marked(
    "drawing", "Across the crests at the tip and at the large end; a straightedge along the crests shows the taper too."
)
ANGLE_WORDS = marked("drawing", "One groove of the thread, large: a tooth of the gauge stands in it against the light.")
SEAL_WORDS = marked(
    "drawing",
    "The plug of a male end is measured with the outside jaws, the socket of a female one with the inside jaws.",
)


@dataclass(frozen=True, slots=True)
class _Male:
    """Where the crests of a drawn thread are; x runs from the tip to the large end."""

    taper: bool

    def crest(self, number: int) -> Point:
        small = SMALL_MM if self.taper else LARGE_MM
        return PITCH_MM * (number + 0.5), (small + (LARGE_MM - small) * number / (CRESTS - 1)) / 2

    def upper(self) -> list[Point]:
        points: list[Point] = []
        for number in range(CRESTS):
            x, y = self.crest(number)
            points += [(x - PITCH_MM / 2, y - DEEP_MM), (x, y)]
        return [*points, (points[-1][0] + PITCH_MM / 2, points[-1][1] - DEEP_MM)]


def _draw_male(sheet: Sheet, *, taper: bool, is_bolt: bool = False) -> _Male:
    male = _Male(taper)
    upper = male.upper()
    lower = [(x, -y) for x, y in reversed(upper)]
    sheet.fill(Kind.PART, [*upper, *lower])
    for number in range(CRESTS):
        x, y = male.crest(number)
        sheet.line(Kind.EDGE, (x, y), (x, -y))
    end = PITCH_MM * CRESTS
    half = LARGE_MM / 2 + (12 if is_bolt else 6)
    sheet.fill(Kind.PART, box(end, -half, end + 20, half))
    sheet.line(Kind.EDGE, (end, -half / 2), (end + 20, -half / 2))
    sheet.line(Kind.EDGE, (end, half / 2), (end + 20, half / 2))
    if not is_bolt:
        sheet.fill(Kind.PART, box(end + 20, -15, end + 40, 15))
    sheet.line(Kind.CENTRE, (-6, 0), (end + 44, 0))
    return male


def thread_drawing(step: str, *, is_bolt: bool) -> JawDrawing:
    """Return the picture of one step.

    Args:
        step: ``outside large end``, ``outside small end``, ``inside``, ``crests``, ``gauge``, ``taper``, ``angle`` or
            ``seal``; anything else shows the gauge.
        is_bolt: Whether the thread is a bolt's, else that of a hose's end or a port.
    """
    if step == "inside":
        return _inside()
    if step == "angle":
        return _angle()
    if step == "seal":
        return seal()
    on_male = {
        "outside large end": _large_end,
        "outside small end": _small_end,
        "crests": _crests,
        "taper": _taper,
    }
    return on_male.get(step, _gauge)(is_bolt=is_bolt)


def _large_end(*, is_bolt: bool) -> JawDrawing:
    sheet = Sheet()
    x, y = _draw_male(sheet, taper=not is_bolt, is_bolt=is_bolt).crest(CRESTS - 1)
    caliper(sheet, (x, -y), (x, y), Grip((-1, 0), x + 14, tip_mm=1.2))
    sheet.name(LARGE_END, (x + 8, y + 8), 70)
    return sheet.done(LARGE_WORDS)


def _small_end(*, is_bolt: bool) -> JawDrawing:
    sheet = Sheet()
    x, y = _draw_male(sheet, taper=not is_bolt, is_bolt=is_bolt).crest(0)
    caliper(sheet, (x, -y), (x, y), Grip((-1, 0), x + 14, tip_mm=1.6))
    sheet.name(LARGE_END, (CRESTS * PITCH_MM + 8, LARGE_MM / 2 + 8), 70)
    return sheet.done(SMALL_WORDS)


def _crests(*, is_bolt: bool) -> JawDrawing:
    sheet = Sheet()
    male = _draw_male(sheet, taper=False, is_bolt=is_bolt)
    first, last = male.crest(0), male.crest(CRESTS - 1)
    caliper(sheet, first, last, Grip((0, 1), 20, INSIDE, size=0.9, tip_mm=0, over_mm=26))
    sheet.number(1, plus(first, (5, 1)), 70)
    sheet.number(CRESTS, plus(last, (-5, 1)), 110)
    return sheet.done(CRESTS_WORDS)


def _gauge(*, is_bolt: bool) -> JawDrawing:
    sheet = Sheet()
    upper = _draw_male(sheet, taper=False, is_bolt=is_bolt).upper()
    high = LARGE_MM / 2 + 16
    teeth = upper[1:-1]
    leaf: list[Point] = [*teeth, (teeth[-1][0] + 1, high), (-34, high), (-34, high - 13), (teeth[0][0] - 8, high - 13)]
    sheet.fill(Kind.GAUGE, leaf)
    sheet.label(GAUGE, (-2, high - 6.5), 0)
    return sheet.done(GAUGE_WORDS)


def _taper(*, is_bolt: bool) -> JawDrawing:
    sheet = Sheet()
    male = _draw_male(sheet, taper=True, is_bolt=is_bolt)
    first, last = male.crest(0), male.crest(CRESTS - 1)
    slope = (last[1] - first[1]) / (last[0] - first[0])
    ends = [(x, first[1] + slope * (x - first[0])) for x in (-26.0, last[0] + 2)]
    sheet.fill(Kind.TOOL, [*ends, (ends[1][0], ends[1][1] + 7), (ends[0][0], ends[0][1] + 7)])
    for x, y in (first, last):
        sheet.span((x, -y), (x, y))
    sheet.label(STRAIGHTEDGE, (-12, ends[0][1] + 9), 90)
    sheet.name(SMALL_END, (first[0], -first[1] - 1), -110)
    sheet.name(LARGE_END, (last[0], -last[1] - 1), -100)
    return sheet.done(TAPER_WORDS)


def _inside() -> JawDrawing:
    sheet, male = Sheet(), _Male(taper=False)
    root = LARGE_MM / 2
    crest = root - DEEP_MM
    end, outer = PITCH_MM * CRESTS, root + 12
    grooves: list[Point] = [(x, 2 * root - DEEP_MM - y) for x, y in male.upper()]
    upper = [(x, min(y, root)) for x, y in grooves]
    lower = [(x, -y) for x, y in upper]
    back: list[Point] = [(end + 14, -outer), (end + 14, -10), (end, -10), (end, -crest)]
    sheet.fill(Kind.CUT, [(0, outer), (end + 14, outer), (end + 14, 10), (end, 10), *reversed(upper)])
    sheet.fill(Kind.CUT, [*lower, *reversed(back), (0, -outer)])
    for (x, y), (_, below) in zip(upper, lower, strict=True):
        sheet.line(Kind.EDGE, (x, y), (x, below))
    sheet.line(Kind.CENTRE, (-6, 0), (end + 22, 0))
    x, y = upper[3]
    caliper(sheet, (x, -y), (x, y), Grip((-1, 0), x + 16, INSIDE, tip_mm=1.2))
    return sheet.done(INSIDE_WORDS)


def _angle() -> JawDrawing:
    sheet, wide, deep = Sheet(), 24.0, 36.0
    profile: list[Point] = [(-2 * wide, 0), (-wide, deep), (0, 0), (wide, deep), (2 * wide, 0)]
    sheet.fill(Kind.CUT, [*profile, (2 * wide, -14), (-2 * wide, -14)])
    flank = deep / wide
    rise = 4.0
    tooth: list[Point] = [(0, rise), ((deep - 8) / flank, rise + deep - 8), (wide - 2, deep + 20)]
    sheet.fill(Kind.GAUGE, [*tooth, (2 - wide, deep + 20), ((8 - deep) / flank, rise + deep - 8)])
    sheet.arrows.append(Arrow(tuple(arc((0, 0), 26, 56.3, 123.7))))
    sheet.label(ANGLE, (0, 28), 90)
    sheet.label(GAUGE, (wide, deep + 14), 0)
    return sheet.done(ANGLE_WORDS)


def seal() -> JawDrawing:
    """Return the outside jaws on a plug and the inside jaws in a socket."""
    sheet, male, female = Sheet(), -48.0, 44.0
    half = PLUG_MM / 2
    sheet.fill(Kind.PART, box(male + 20, -19, male + 44, 19))
    for turn in range(5):
        sheet.line(Kind.EDGE, (male + 22 + turn * 5, -19), (male + 24 + turn * 5, 19))
    sheet.fill(Kind.PART, box(male, -half, male + 20, half))
    for side in (-1, 1):
        sheet.circle(Kind.EMPTY, (male + 14, side * (half - 1.5)), 2.2)
    sheet.line(Kind.CENTRE, (male - 5, 0), (male + 50, 0))
    caliper(sheet, (male + 5, -half), (male + 5, half), Grip((-1, 0), 20, size=0.8, tip_mm=2.5))
    _socket(sheet, female)
    sheet.name(PLUG, (male + 20, -half - 4), -90)
    sheet.name(SOCKET, (female + 22, -31), -90)
    return sheet.done(SEAL_WORDS)


def _socket(sheet: Sheet, left: float) -> None:
    half, outer, thread = SOCKET_MM / 2, 30.0, 20.0
    for side in (-1, 1):
        wall: list[Point] = [(left, thread), (left, outer), (left + 46, outer), (left + 46, 8), (left + 40, 8)]
        wall += [(left + 40, half), (left + 22, half), (left + 22, thread)]
        sheet.fill(Kind.CUT, [(x, side * y) for x, y in wall])
        for turn in range(5):
            x = left + 1 + turn * 4
            sheet.line(Kind.EDGE, (x, side * thread), (x + 2, side * (thread + 3)))
    for x, y in ((left, thread), (left + 22, half), (left + 40, half)):
        sheet.line(Kind.EDGE, (x, -y), (x, y))
    sheet.line(Kind.CENTRE, (left - 5, 0), (left + 52, 0))
    grip = Grip((-1, 0), 40, INSIDE, size=0.8, tip_mm=3)
    caliper(sheet, (left + 30, -half), (left + 30, half), grip)
