"""At which turns of the pump do its holes meet the bolts: exact critical angles, no stepping."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from xref_app.core.model.known import Hole

# Turns closer together than this are one turn (radians); a hole 150 mm out moves 0.15 nanometres in it.
_SAME_ANGLE = 1e-12
# Added to every reach so that two holes that meet exactly are not parted by rounding, mm.
_ROUNDING_MM = 1e-9
_FULL = 2 * math.pi


@dataclass(frozen=True, slots=True)
class Turn:
    """A closed interval of turns (radians, counter-clockwise in the view of the holes) and who meets whom in it.

    ``pairs`` holds (index of machine hole, index of pump hole), one per bolt used. ``only_pairing`` says that no
    other pairing is possible there.
    """

    low: float
    high: float
    pairs: tuple[tuple[int, int], ...]
    only_pairing: bool

    @property
    def middle(self) -> float:
        """Return the turn half way, radians."""
        return (self.low + self.high) / 2

    @property
    def degrees(self) -> float:
        """Return the turn half way, degrees, 0 up to 360."""
        return math.degrees(self.middle) % 360


# Several checks of one case, and many pumps of one family, ask about the same two patterns.
@lru_cache(maxsize=4096)
def turns_that_meet(bolts: tuple[Hole, ...], holes: tuple[Hole, ...], *, reach_mm: float) -> tuple[Turn, ...]:
    """Return every turn at which each bolt used lies within ``reach_mm`` of the centre (or centre line) of its hole.

    All of the side with fewer holes are used, each with a partner of its own.

    Args:
        bolts: m ≥ 1 bolt centres on the machine, mm about the shaft's axis (round).
        holes: n ≥ 1 pump holes, mm about the bore's axis; slots allowed.
        reach_mm: largest distance that still lets a bolt through, mm; a negative one meets nothing.
    """
    if reach_mm < -_ROUNDING_MM:
        return ()
    reach = max(reach_mm, 0.0) + _ROUNDING_MM
    critical = sorted(_critical_angles(bolts, holes, reach))
    if not critical:
        critical = [0.0]
    spans = [(here, here) for here in critical]
    spans += [(here, after) for here, after in zip(critical, [*critical[1:], critical[0] + _FULL], strict=True)]
    found: list[Turn] = []
    for low, high in sorted(spans):
        if low == high or high - low > _SAME_ANGLE:
            turn = _turn_or_none(bolts, holes, reach, (low, high))
            if turn is not None:
                found.append(turn)
    return _joined(found)


def _turn_or_none(bolts: Sequence[Hole], holes: Sequence[Hole], reach: float, span: tuple[float, float]) -> Turn | None:
    """Return the turn of ``span`` if its middle works: nothing changes inside a span between critical angles."""
    middle = (span[0] + span[1]) / 2
    partners = [[j for j, hole in enumerate(holes) if distance_mm(bolt, hole, middle) <= reach] for bolt in bolts]
    pairs = _pairing_or_none(partners, len(holes))
    if pairs is None:
        return None
    return Turn(*span, pairs, only_pairing=_is_only_pairing(partners))


def distance_mm(bolt: Hole, hole: Hole, turn: float) -> float:
    """Return how far a bolt lies from the centre (or centre line) of a pump hole turned by ``turn`` radians, mm."""
    x, y = _turned(bolt, -turn)
    dx, dy = x - hole.x_mm, y - hole.y_mm
    if hole.slot_mm:
        along_x, along_y = math.cos(math.radians(hole.slot_deg)), math.sin(math.radians(hole.slot_deg))
        along = max(-hole.slot_mm / 2, min(hole.slot_mm / 2, dx * along_x + dy * along_y))
        dx, dy = dx - along * along_x, dy - along * along_y
    return math.hypot(dx, dy)


def _turned(hole: Hole, turn: float) -> tuple[float, float]:
    cos, sin = math.cos(turn), math.sin(turn)
    return hole.x_mm * cos - hole.y_mm * sin, hole.x_mm * sin + hole.y_mm * cos


def _critical_angles(bolts: Sequence[Hole], holes: Sequence[Hole], reach: float) -> set[float]:
    """Return the turns at which some bolt enters or leaves the reach of some hole.

    Seen from the pump, a bolt runs round a circle; the reach of a hole is a disc, that of a slot two discs and two
    lines. Where the circle crosses those outlines is where anything can change.
    """
    found: set[float] = set()
    for bolt in bolts:
        radius, bearing = math.hypot(bolt.x_mm, bolt.y_mm), math.atan2(bolt.y_mm, bolt.x_mm)
        for hole in holes:
            for place in _crossings(radius, hole, reach):
                found.add((bearing - place) % _FULL)
    return found


def _crossings(radius: float, hole: Hole, reach: float) -> Iterator[float]:
    """Yield the bearings where a circle about the origin meets the outline of what ``hole`` reaches."""
    along = math.radians(hole.slot_deg)
    half_x, half_y = hole.slot_mm / 2 * math.cos(along), hole.slot_mm / 2 * math.sin(along)
    ends = {(hole.x_mm - half_x, hole.y_mm - half_y), (hole.x_mm + half_x, hole.y_mm + half_y)}
    for x, y in ends:
        yield from _circle_crossings(radius, math.hypot(x, y), math.atan2(y, x), reach)
    if hole.slot_mm:
        across = along + math.pi / 2
        offset = hole.x_mm * math.cos(across) + hole.y_mm * math.sin(across)
        for line in (offset - reach, offset + reach):
            if abs(line) <= radius:
                yield across + math.acos(line / radius) if radius else across
                yield across - math.acos(line / radius) if radius else across


def _circle_crossings(radius: float, away: float, bearing: float, reach: float) -> Iterator[float]:
    if radius == 0 or away == 0:
        return
    cosine = (radius * radius + away * away - reach * reach) / (2 * radius * away)
    if -1 <= cosine <= 1:
        half = math.acos(cosine)
        yield bearing + half
        yield bearing - half


def _pairing_or_none(partners: Sequence[Sequence[int]], holes: int) -> tuple[tuple[int, int], ...] | None:
    """Return a pairing that uses all of the smaller side, or None (augmenting paths; sides are small)."""
    bolt_of: dict[int, int] = {}

    def place(bolt: int, tried: set[int]) -> bool:
        for hole in partners[bolt]:
            if hole not in tried:
                tried.add(hole)
                if hole not in bolt_of or place(bolt_of[hole], tried):
                    bolt_of[hole] = bolt
                    return True
        return False

    placed = sum(place(bolt, set()) for bolt in range(len(partners)))
    if placed < min(len(partners), holes):
        return None
    return tuple(sorted((bolt, hole) for hole, bolt in bolt_of.items()))


def _is_only_pairing(partners: Sequence[Sequence[int]]) -> bool:
    seen = [hole for some in partners for hole in some]
    return all(len(some) <= 1 for some in partners) and len(seen) == len(set(seen))


def _joined(turns: Sequence[Turn]) -> tuple[Turn, ...]:
    """Join spans that touch and pair alike, also across the full turn."""
    joined: list[Turn] = []
    for turn in turns:
        if joined and _continues(joined[-1], turn):
            last = joined.pop()
            only = last.only_pairing and turn.only_pairing
            joined.append(Turn(last.low, max(last.high, turn.high), turn.pairs, only))
        else:
            joined.append(turn)
    if len(joined) > 1 and _continues(joined[-1], _shifted(joined[0])):
        first, last = joined[0], joined.pop()
        joined[0] = Turn(last.low - _FULL, first.high, first.pairs, first.only_pairing and last.only_pairing)
    return tuple(joined)


def _continues(one: Turn, other: Turn) -> bool:
    return other.low <= one.high + _SAME_ANGLE and one.pairs == other.pairs


def _shifted(turn: Turn) -> Turn:
    return Turn(turn.low + _FULL, turn.high + _FULL, turn.pairs, turn.only_pairing)
