"""What the shelf lacks where no chain leads from hose to port: the ends it gets nearest with, and the piece between."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum

from xref_app.core.parts.burden import NO_BURDEN, Burden
from xref_app.core.parts.chains import Chain
from xref_app.core.parts.fitting_index import FittingIndex, Step
from xref_app.core.parts.house_rules import MOST_FITTINGS
from xref_app.core.parts.joints import ReadEnd, mates


class Apart(IntEnum):
    """How far two ends are from being one joint, nearest first. House rule: what a counter most likely finds."""

    GENDER_OR_SEAL = 0
    SIZE = 1
    KIND = 2


@dataclass(frozen=True, slots=True)
class Gap:
    """Listed fittings from the hose and from the port, and the two ends between which one fitting is missing."""

    from_hose: tuple[Step, ...]
    ours: ReadEnd
    theirs: ReadEnd
    to_port: tuple[Step, ...]
    apart: Apart
    burden: Burden


@dataclass(frozen=True, slots=True)
class _Reached:
    steps: tuple[Step, ...]
    end: ReadEnd
    burden: Burden


def nearest_gap(index: FittingIndex, ours: ReadEnd, theirs: ReadEnd) -> Gap:
    """Return the gap that one more fitting would close, its two ends as near to each other as the shelf allows.

    Of two gaps as near as each other the one that takes the lesser burden. The ends are ``ours`` and ``theirs``
    themselves where nothing listed comes nearer.
    """
    here, there = list(_reached(index, ours)), list(_reached(index, theirs))
    gaps = (
        gap
        for one in here
        for other in there
        if one.burden.pieces + other.burden.pieces < MOST_FITTINGS
        for gap in [_gap(one, other)]
        if _is_there(gap)
    )
    return min(gaps, key=lambda gap: (gap.apart, gap.burden))


def _reached(index: FittingIndex, start: ReadEnd) -> Iterator[_Reached]:
    """Yield every kind of end that fittings bring ``start`` to, the least way to each number of pieces."""
    level = {start: _Reached((), start, NO_BURDEN)}
    for _ in range(MOST_FITTINGS):
        yield from level.values()
        following: dict[ReadEnd, _Reached] = {}
        for one in level.values():
            for into in index.mating_with(one.end):
                for steps in index.steps.get(into, {}).values():
                    _keep_lesser(following, one, steps[0])
        level = following


def _keep_lesser(known: dict[ReadEnd, _Reached], one: _Reached, step: Step) -> None:
    burden = one.burden + step.burden
    if burden.pieces < MOST_FITTINGS and (step.out_end not in known or burden < known[step.out_end].burden):
        known[step.out_end] = _Reached((*one.steps, step), step.out_end, burden)


def _gap(one: _Reached, other: _Reached) -> Gap:
    return Gap(one.steps, one.end, other.end, other.steps[::-1], _apart(one.end, other.end), one.burden + other.burden)


def _apart(one: ReadEnd, other: ReadEnd) -> Apart:
    if one.thread.designation == other.thread.designation:
        return Apart.GENDER_OR_SEAL
    return Apart.SIZE if one.thread.family == other.thread.family else Apart.KIND


def _is_there(gap: Gap) -> bool:
    """Say whether the shelf holds every piece at once, and one more fitting is really what is missing."""
    pieces = Chain((*gap.from_hose, *gap.to_port), gap.burden).pieces
    return not mates(gap.ours, gap.theirs) and all(pieces.count(piece) <= piece.count for piece in pieces)
