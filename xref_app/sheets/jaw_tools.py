"""Caliper, depth rod, straightedge and thread gauge, laid on the two points they touch."""

from __future__ import annotations

import math
from itertools import pairwise

from xref_app.sheets.jaw_shapes import Ink, Path, Point, Shape, arrow, box

# Proportions of a drawn caliper, mm (house rule: looks only).
_BLADE, _TIP, _BEAM, _OVERHANG, _STICK = 7.0, 2.2, 6.0, 9.0, 4.0
ROD = 1.2
"""Half the thickness of the depth rod."""


def outside_jaws(a: Point, b: Point, reach: float) -> tuple[Shape, ...]:
    """Return a caliper whose outside jaws close on ``a`` and ``b``; its beam lies ``reach`` to the left of a to b."""
    return (*_caliper(a, b, reach, inside=False), *arrow(a, b))


def inside_jaws(a: Point, b: Point, reach: float) -> tuple[Shape, ...]:
    """Return a caliper whose inside jaws open against ``a`` and ``b``; its beam lies ``reach`` to the left."""
    return (*_caliper(a, b, reach, inside=True), *arrow(a, b))


def depth_rod(mouth: Point, bottom: Point, width: float, beside: float = 4.5) -> tuple[Shape, ...]:
    """Return a caliper standing on the plane through ``mouth`` with its rod down on ``bottom``.

    ``width`` is half that of its foot; the arrow runs ``beside`` the rod, to the left of mouth to bottom.
    """
    length = math.dist(mouth, bottom)
    ux, uy = (bottom[0] - mouth[0]) / length, (bottom[1] - mouth[1]) / length
    nx, ny = -uy, ux

    def at(along: float, across: float) -> Point:
        return (mouth[0] + ux * along + nx * across, mouth[1] + uy * along + ny * across)

    foot = Path((at(0, -width), at(0, width), at(-_BEAM, width), at(-_BEAM, -width)), Ink.TOOL, closed=True)
    rod = Path((at(-_BEAM, -ROD), at(length, -ROD), at(length, ROD), at(-_BEAM, ROD)), Ink.TOOL, closed=True)
    beam = Path((at(-_BEAM, -3), at(-_BEAM, 3), at(-_BEAM - 18, 3), at(-_BEAM - 18, -3)), Ink.TOOL, closed=True)
    return (beam, foot, rod, *arrow(at(0, beside), at(length, beside)))


def straightedge(left: float, right: float, height: float) -> tuple[Shape, ...]:
    """Return a straightedge lying on ``height``."""
    return (box(left, height, right, height + 7, Ink.TOOL),)


def feelers(left: float, right: float, bottom: float, top: float) -> tuple[Shape, ...]:
    """Return leaves that fill the gap from ``bottom`` to ``top``, fanned out a little to the right."""
    leaves, each = 3, (top - bottom) / 3
    return tuple(
        box(left, bottom + each * number, right - 6 * number, bottom + each * (number + 1), Ink.TOOL)
        for number in range(leaves)
    )


def rule(left: float, right: float, height: float) -> tuple[Shape, ...]:
    """Return a rule along x from ``left``, a little longer than to ``right``, its marks above, and what it reads."""
    strip = box(left, height - 9, right + 10, height, Ink.TOOL)
    steps = int((right + 8 - left) / 4)
    ticks = tuple(
        Path(((left + 4 * one, height), (left + 4 * one, height - (4 if one % 5 == 0 else 2.4))), Ink.TOOL)
        for one in range(1, steps + 1)
    )
    return (strip, *ticks, *arrow((left, height + 4), (right, height + 4)))


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
    stick, beyond = math.copysign(_STICK, -reach), math.copysign(_BEAM, reach)
    blades = [
        Path(
            (at(edge, stick), at(edge, reach), at(edge + way * blade, reach), at(edge + way * tip, stick)),
            Ink.TOOL,
            closed=True,
        )
        for edge, way in ((0.0, out), (length, -out))
    ]
    begin, end = -_BLADE - _OVERHANG / 3, length + _BLADE + _OVERHANG
    beam = Path(
        (at(begin, reach), at(end, reach), at(end, reach + beyond), at(begin, reach + beyond)), Ink.TOOL, closed=True
    )
    return (*blades, beam)
