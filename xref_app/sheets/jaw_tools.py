"""Caliper, depth rod, straightedge and thread gauge, laid on the two points they touch."""

from __future__ import annotations

import math
from itertools import pairwise

from xref_app.sheets.jaw_shapes import Ink, Path, Point, Shape, arrow, box

# Proportions of a drawn caliper, mm (house rule: looks only).
_BLADE, _TIP, _BEAM, _OVERHANG, _STICK = 7.0, 2.2, 6.0, 9.0, 4.0


def outside_jaws(a: Point, b: Point, reach: float) -> tuple[Shape, ...]:
    """Return a caliper whose outside jaws close on ``a`` and ``b``; its beam lies ``reach`` to the left of a to b."""
    return (*_caliper(a, b, reach, inside=False), *arrow(a, b))


def inside_jaws(a: Point, b: Point, reach: float) -> tuple[Shape, ...]:
    """Return a caliper whose inside jaws open against ``a`` and ``b``; its beam lies ``reach`` to the left."""
    return (*_caliper(a, b, reach, inside=True), *arrow(a, b))


def depth_rod(mouth: Point, bottom: Point, width: float) -> tuple[Shape, ...]:
    """Return a caliper standing on the plane through ``mouth`` with its rod down on ``bottom``."""
    length = math.dist(mouth, bottom)
    ux, uy = (bottom[0] - mouth[0]) / length, (bottom[1] - mouth[1]) / length
    nx, ny = -uy, ux

    def at(along: float, across: float) -> Point:
        return (mouth[0] + ux * along + nx * across, mouth[1] + uy * along + ny * across)

    foot = Path((at(0, -width), at(0, width), at(-_BEAM, width), at(-_BEAM, -width)), Ink.TOOL, closed=True)
    rod = Path((at(-_BEAM, -1.2), at(length, -1.2), at(length, 1.2), at(-_BEAM, 1.2)), Ink.TOOL, closed=True)
    beam = Path((at(-_BEAM, -3), at(-_BEAM, 3), at(-_BEAM - 18, 3), at(-_BEAM - 18, -3)), Ink.TOOL, closed=True)
    start, end = at(0, 4.5), at(length, 4.5)
    return (beam, foot, rod, *arrow(start, end))


def straightedge(left: float, right: float, height: float) -> tuple[Shape, ...]:
    """Return a straightedge lying on ``height``."""
    return (box(left, height, right, height + 7, Ink.TOOL),)


def gauge(crests: tuple[Point, ...], depth: float) -> tuple[Shape, ...]:
    """Return a leaf of a thread gauge whose teeth sit between ``crests`` (from left to right), below it the thread."""
    teeth: list[Point] = []
    for one, other in pairwise(crests):
        teeth += [one, ((one[0] + other[0]) / 2, one[1] - depth)]
    teeth.append(crests[-1])
    top = max(y for _, y in crests) + 9
    return (
        Path(
            (*teeth, (crests[-1][0], top), (crests[0][0] - 12, top), (crests[0][0] - 12, crests[0][1])),
            Ink.TOOL,
            closed=True,
        ),
    )


def _caliper(a: Point, b: Point, reach: float, *, inside: bool) -> tuple[Shape, ...]:
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    nx, ny = -uy, ux

    def at(along: float, across: float) -> Point:
        return (a[0] + ux * along + nx * across, a[1] + uy * along + ny * across)

    out = -1.0 if not inside else 1.0
    blade = min(_BLADE, length / 2.5) if inside else _BLADE
    tip = min(_TIP, blade)
    blades = [
        Path(
            (at(edge, -_STICK), at(edge, reach), at(edge + way * blade, reach), at(edge + way * tip, -_STICK)),
            Ink.TOOL,
            closed=True,
        )
        for edge, way in ((0.0, out), (length, -out))
    ]
    begin, end = -_BLADE - _OVERHANG / 3, length + _BLADE + _OVERHANG
    beam = Path(
        (at(begin, reach), at(end, reach), at(end, reach + _BEAM), at(begin, reach + _BEAM)), Ink.TOOL, closed=True
    )
    return (*blades, beam)
