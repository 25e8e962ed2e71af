"""What one reading taken on the bench says of what is known: it agrees, it contradicts, or it leaves it open."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from enum import Enum, auto
from functools import lru_cache
from itertools import combinations

from xref_app.core.fields.fields import Field, Kind, all_fields
from xref_app.core.fit.geometry import turns_that_meet
from xref_app.core.model.known import Dimension, Fact, Hole, Known, Pattern, Seats
from xref_app.core.model.words import Axis, Oil, Turn
from xref_app.core.parts.joints import form_or_none, thread_or_none
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.thread_table import Family
from xref_app.core.standards.key_widths import widths_meeting_key, widths_meeting_keyway
from xref_app.core.standards.shaft_sizes import sizes_meeting_bore, sizes_meeting_shaft

# One value by field id, as read on the bench.
Readings = Mapping[str, Known]

# House rule: plates print bar for psi and litres for gallons rounded, so two of them within this share are one rating.
# The nearest two speeds that must be told apart, 3400 and 3450 rpm, lie further from each other.
PLATE_ROUNDING = 0.01
_ON_PLATES = frozenset({"bar", "lpm", "rpm", "kw", "c"})

# House rule: what the owner changes, sets or screws in without changing the unit it belongs to, and what depends on how
# the unit was held. Agreeing counts; a difference excludes nothing.
CHANGEABLE = frozenset(
    {
        *(field for field in all_fields() if field.startswith(("has_", "supply_", "discharge_", "room_"))),
        "face_bolt_length_mm",
        "nozzle_number",
        "outlet_direction_deg",
        "working_pressure_bar",
    }
)

# Whoever sees one of two ways on the bench cannot see that the maker allows both.
_FOR_BOTH = frozenset({str(Axis.BOTH), str(Turn.EITHER), str(Oil.VENT_BOTH)})

# Threads that a gauge does not tell apart: one pitch and one size; taper or straight, cut or rolled, dry seal or not.
_ONE_GAUGE: tuple[frozenset[Family], ...] = (
    frozenset({Family.R, Family.RP, Family.RC}),
    frozenset({Family.NH, Family.NHR}),
    frozenset({Family.NPT, Family.NPTF}),
)


class Match(Enum):
    """What a reading says of an entry's value."""

    AGREES = auto()
    OPEN = auto()
    CONTRADICTS = auto()


def match_of(field: Field, reading: Known, versions: Sequence[Known]) -> Match:
    """Return what a reading says of a field known in ``versions``: it contradicts only what it contradicts in each."""
    if not versions or not reading.how.decides:
        return Match.OPEN
    found = {_one_match(field, reading, version) for version in versions if version.how.decides}
    if Match.AGREES in found:
        return Match.AGREES
    is_open = Match.OPEN in found or not found or field.field_id in CHANGEABLE
    return Match.OPEN if is_open else Match.CONTRADICTS


def _one_match(field: Field, reading: Known, known: Known) -> Match:
    if isinstance(reading, Dimension) and isinstance(known, Dimension):
        return _agrees(_meets(field, reading.range, known.range))
    if isinstance(reading, Pattern) and isinstance(known, Pattern):
        return _agrees(_same_pattern(reading, known))
    if isinstance(reading, Seats) and isinstance(known, Seats):
        return _seats_match(reading, known)
    if isinstance(reading, Fact) and isinstance(known, Fact):
        return _fact_match(field, reading.value, known.value)
    return Match.OPEN


def _agrees(is_same: bool) -> Match:  # noqa: FBT001 - what it turns into words
    return Match.AGREES if is_same else Match.CONTRADICTS


# Features made in standard sizes: the limits of each size that a reading meets. A size named on a sheet is the nominal
# one, which the finished feature need not touch.
_LIMITS: Mapping[str, Callable[[Range], Iterator[Range]]] = {
    "shaft_diameter_mm": lambda reading: (size.shaft_mm for size in sizes_meeting_shaft(reading)),
    "bore_diameter_mm": lambda reading: (size.bore_mm for size in sizes_meeting_bore(reading)),
    "shaft_key_width_mm": lambda reading: (width.key_mm for width in widths_meeting_key(reading)),
    "bore_keyway_width_mm": lambda reading: (width.keyway_mm for width in widths_meeting_keyway(reading)),
}


def plate_rounding(field: Field) -> float:
    """Return by which share of itself a value of the field may be rounded either way: 0 where no plate tells it."""
    return PLATE_ROUNDING / 2 if field.unit in _ON_PLATES else 0.0


def widened(field: Field, reading: Range) -> Range:
    """Return a range with what plates round off, where the field's values are read off plates."""
    rounding = plate_rounding(field) * max(abs(reading.low), abs(reading.high))
    return Range(reading.low - rounding, reading.high + rounding) if rounding else reading


def has_standard_sizes(field: Field) -> bool:
    """Say whether what the field measures is made in standard sizes, each with its limits."""
    return field.field_id in _LIMITS


def limits_met(field: Field, reading: Range) -> tuple[Range, ...]:
    """Return the limits of every standard size that a reading may stand for; none where the field has no such sizes."""
    limits = _LIMITS.get(field.field_id)
    return () if limits is None else tuple(limits(reading))


def _meets(field: Field, reading: Range, known: Range) -> bool:
    if widened(field, reading).meets(widened(field, known)):
        return True
    return any(limits.meets(known) for limits in limits_met(field, reading))


def _same_pattern(reading: Pattern, known: Pattern) -> bool:
    """Say whether both can be the holes of one face, listed in any order and turned any way.

    Each coordinate of each side carries its doubt, so one hole may be listed √2 times the sum of the doubts apart.
    """
    if len(reading.holes) != len(known.holes):
        return False
    if reading.holes == known.holes:
        return True
    reach = math.sqrt(2) * (reading.doubt_mm + known.doubt_mm)
    return _may_be_same(reading.holes, known.holes, reach) and (
        bool(turns_that_meet(reading.holes, known.holes, reach_mm=reach))
        or bool(turns_that_meet(known.holes, reading.holes, reach_mm=reach))
    )


def _may_be_same(ours: tuple[Hole, ...], theirs: tuple[Hole, ...], reach: float) -> bool:
    """Say, quickly, whether radii and distances between holes leave it open; slots may lie anywhere along theirs."""
    play = reach + max(hole.slot_mm for hole in (*ours, *theirs)) / 2 + 1e-6
    pairs = [(_radii(ours), _radii(theirs), play), (_apart(ours), _apart(theirs), 2 * play)]
    return all(
        abs(one - other) <= most for mine, others, most in pairs for one, other in zip(mine, others, strict=True)
    )


@lru_cache(maxsize=4096)
def _radii(holes: tuple[Hole, ...]) -> tuple[float, ...]:
    return tuple(sorted(math.hypot(hole.x_mm, hole.y_mm) for hole in holes))


@lru_cache(maxsize=4096)
def _apart(holes: tuple[Hole, ...]) -> tuple[float, ...]:
    pairs = combinations(holes, 2)
    return tuple(sorted(math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm) for one, other in pairs))


def _seats_match(reading: Seats, known: Seats) -> Match:
    """Compare seats below the highest one, beginning anywhere and going round either way.

    Seats that were listed in other numbers say nothing: the holes tell how many there are.
    """
    ours, theirs = _below_highest(reading), _below_highest(known)
    if len(ours) != len(theirs):
        return Match.OPEN
    rounds = [theirs[start:] + theirs[:start] for start in range(len(theirs))]
    rounds += [tuple(reversed(one)) for one in rounds]
    return _agrees(any(all(one.meets(other) for one, other in zip(ours, turned, strict=True)) for turned in rounds))


def _below_highest(seats: Seats) -> tuple[Range, ...]:
    highest = max(seats.heights_mm)
    return tuple(Range.around(height - highest, seats.doubt_mm) for height in seats.heights_mm)


def _fact_match(field: Field, reading: object, known: object) -> Match:
    if field.kind is Kind.THREAD:
        return _thread_match(str(reading), str(known))
    if reading == known:
        return Match.AGREES
    return Match.OPEN if _FOR_BOTH & {str(reading), str(known)} else Match.CONTRADICTS


@lru_cache(maxsize=4096)
def _thread_match(reading: str, known: str) -> Match:
    """Compare two thread calls; one that nobody understands excludes nothing."""
    if reading.casefold().split() == known.casefold().split():
        return Match.AGREES
    ours, theirs = thread_or_none(reading), thread_or_none(known)
    if ours is None or theirs is None:
        return Match.OPEN
    if ours.designation == theirs.designation:
        forms = {form_or_none(reading), form_or_none(known)} - {None}
        return Match.AGREES if len(forms) < 2 else Match.CONTRADICTS
    alike = any({ours.family, theirs.family} <= families for families in _ONE_GAUGE)
    return Match.OPEN if alike and ours.nominal == theirs.nominal else Match.CONTRADICTS
