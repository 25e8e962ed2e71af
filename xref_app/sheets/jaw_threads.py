"""Where jaws, gauge and leaf go on a thread, and on the plug or socket that seals."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.jaw_shapes import Ink, JawDrawing, Path, Point, Round, Shape, arrow, axis, box
from xref_app.sheets.jaw_tools import gauge, inside_jaws, outside_jaws

LARGE = marked("jaws", "Outside jaws over the crests at the large end, away from the tip.")
SMALL = marked("jaws", "Outside jaws over the first full crests at the small end.")
INSIDE = marked("jaws", "Inside jaws across the crests of the inside thread, close to the mouth.")
GAUGE = marked("jaws", "The leaf of the thread gauge that fills the thread.")
TAPER = marked("jaws", "Large end and small end compared: on a tapered thread the crests run together.")
ANGLE = marked("jaws", "Two leaves against the light: one fills the flanks, past the other light shows.")
SEAL = marked("jaws", "Outside jaws on the plug that seals, or inside jaws in the socket it goes into.")

# Looks only (house rule): pitch, depth and size of the drawn thread, its crests, plug and socket.
PITCH, DEEP, CREST_R, CRESTS, TAPERS = 7.5, 4.0, 22.0, 9, 7.0
SEAL_R, SOCKET_AT = 14.0, 112.0


def thread_drawing(step: str) -> JawDrawing | None:
    """Return the picture of one step of a thread's card, None where nothing is laid on."""
    draw = _STEPS.get(step)
    return None if draw is None else draw()


def seal_drawing() -> JawDrawing:
    """Return the plug of a male end between jaws, and beside it the socket of a female one."""
    male, crests = male_thread(taper=0.0, count=5)
    tip = crests[-1][0] + PITCH / 2
    plug = box(tip, -SEAL_R, tip + 20, SEAL_R, Ink.PART)
    a, b = (tip + 14, -SEAL_R), (tip + 14, SEAL_R)
    c, d = (SOCKET_AT - 40, -SEAL_R), (SOCKET_AT - 40, SEAL_R)
    socket = (*female_thread(SOCKET_AT, deeper=26.0, inner=SEAL_R), *inside_jaws(c, d, -48))
    return JawDrawing((*male, plug, *outside_jaws(a, b, -16), *socket), (a, b), Sentence(SEAL))


def male_thread(*, taper: float, count: int = CRESTS) -> tuple[tuple[Shape, ...], tuple[Point, ...]]:
    """Return a male thread from the side, its tip to the right, and its upper crests from the large end on.

    ``taper`` is how much the radius shrinks from the large end to the tip.
    """
    crests = tuple((-30 + PITCH * number, CREST_R - taper * number / (count - 1)) for number in range(count))
    upper: list[Point] = [(-42, CREST_R - DEEP)]
    for x, y in crests:
        upper += [(x - PITCH / 2, y - DEEP), (x, y)]
    upper.append((crests[-1][0] + PITCH / 2, crests[-1][1] - DEEP))
    body = Path((*upper, *((x, -y) for x, y in reversed(upper))), Ink.PART, closed=True)
    head = box(-56, -30, -42, 30, Ink.PART)
    return (head, body, axis((-62, 0), (crests[-1][0] + 12, 0))), crests


def female_thread(mouth: float, *, deeper: float = 8.0, inner: float = CREST_R - 2 * DEEP) -> tuple[Shape, ...]:
    """Return a female thread cut open, its mouth at x = ``mouth`` looking right, a bore of ``inner`` behind it."""
    runs = 4
    wall: list[Point] = [(mouth, CREST_R + 10), (mouth, CREST_R)]
    for number in range(runs):
        x = mouth - PITCH * number
        wall += [(x - PITCH / 2, CREST_R - DEEP), (x - PITCH, CREST_R)]
    end = mouth - PITCH * runs
    wall += [(end, inner), (end - deeper, inner), (end - deeper, CREST_R + 10)]
    lower = tuple((x, -y) for x, y in wall)
    ends = tuple(Path(((x, y), (x, -y)), Ink.PART) for x, y in ((mouth, CREST_R), (end, inner)))
    centre = axis((end - deeper - 6, 0), (mouth + 8, 0))
    return (Path(tuple(wall), Ink.CUT, closed=True), Path(lower, Ink.CUT, closed=True), *ends, centre)


def inside_crest(mouth: float) -> Point:
    """Return the first crest of a female thread, counted from its mouth."""
    return (mouth - PITCH / 2, CREST_R - DEEP)


def _over(crest: Point) -> tuple[Point, Point]:
    return (crest[0], -crest[1]), crest


def _large() -> JawDrawing:
    part, crests = male_thread(taper=TAPERS)
    a, b = _over(crests[0])
    return JawDrawing((*part, *outside_jaws(a, b, -80)), (a, b), Sentence(LARGE))


def _small() -> JawDrawing:
    part, crests = male_thread(taper=TAPERS)
    a, b = _over(crests[-1])
    return JawDrawing((*part, *outside_jaws(a, b, -20)), (a, b), Sentence(SMALL))


def _taper() -> JawDrawing:
    part, crests = male_thread(taper=TAPERS)
    (a, b), (c, d) = _over(crests[0]), _over(crests[-1])
    slope = (d[1] - b[1]) / (d[0] - b[0])
    left, right = b[0] - 20, d[0] + 26
    rays = tuple(
        Path(((left, sign * (b[1] - 20 * slope)), (right, sign * (d[1] + 26 * slope))), Ink.HIDDEN) for sign in (1, -1)
    )
    shapes = (*part, *rays, *outside_jaws(a, b, -88), *arrow(c, d))
    return JawDrawing(shapes, (a, b), Sentence(TAPER))


def _inside() -> JawDrawing:
    x, y = inside_crest(0)
    a, b = (x, -y), (x, y)
    return JawDrawing((*female_thread(0), *inside_jaws(a, b, -26)), (a, b), Sentence(INSIDE))


def _gauge() -> JawDrawing:
    part, crests = male_thread(taper=0.0)
    a, b = crests[2], crests[6]
    handle = (Round((a[0] - 8, a[1] + 5.5), 3, Ink.TOOL),)
    return JawDrawing((*part, *gauge(crests[2:7], DEEP), *handle), (a, b), Sentence(GAUGE))


def _angle() -> JawDrawing:
    """Return two ridges drawn large: the first leaf lies on the flanks, the second is too steep and touches one tip."""
    half, deep, apart = 17.0, 29.0, 62.0
    ground = ((-40.0, -12.0), (-40.0, 0.0), (-half, 0.0))
    ridges = ((0.0, deep), (half, 0.0), (apart - half, 0.0), (apart, deep), (apart + half, 0.0))
    part = Path((*ground, *ridges, (apart + 40, 0), (apart + 40, -12)), Ink.CUT, closed=True)
    shapes = (part, _leaf(0.0, half, deep), _leaf(apart, half * 1.5, deep))
    return JawDrawing(shapes, ((-half, 0), (0, deep)), Sentence(ANGLE))


def _leaf(middle: float, half: float, deep: float) -> Path:
    """Return a leaf of a gauge with one notch over the ridge at ``middle``, as wide at its foot as twice ``half``."""
    foot, top = 4.0, deep + 14
    run = half * (1 - foot / deep)
    left, right = middle - 29, middle + 29
    points = ((left, foot), (middle - run, foot), (middle, deep), (middle + run, foot), (right, foot))
    return Path((*points, (right, top), (left, top)), Ink.TOOL, closed=True)


_STEPS: Mapping[str, Callable[[], JawDrawing]] = {
    "outside large end": _large,
    "outside small end": _small,
    "inside": _inside,
    "seal": seal_drawing,
    "gauge": _gauge,
    "angle": _angle,
    "taper": _taper,
}
