"""What shaft and bore have in common when they are identified: sizes in pairs with their key, wear, and what next."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations

from xref_app.core.identify.answer import Candidate, Evidence, Identified, NextMeasurement
from xref_app.core.identify.shaft_evidence import best_first, evidence_mm
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.quantity.readings import refuse_unless_positive
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.keys import KeyedPair, keyed_pairs
from xref_app.core.standards.table_files import FROM_MEMORY

# House rule: what lies further from a published size than this was never made to it.
MOST_WEAR_MM = 0.5

WORN = marked("identify", "It reads {least:.3f} to {most:.3f} mm {way} {size}: worn, or none of the published sizes.")
WORN_KEY_AGREES = marked(
    "identify",
    "It reads {least:.3f} to {most:.3f} mm {way} {size}, whose key it has: worn, or none of the published sizes.",
)
NOT_AS_MADE = marked(
    "identify",
    "It reads {least:.3f} to {most:.3f} mm {way} {size}: burred, rusty or plated, or none of the published sizes.",
)
AS_MADE = marked(
    "identify", "It reads {least:.3f} to {most:.3f} mm {way} {size}, which is still as such sizes are made."
)
NONE_NEAR = marked("identify", "No published size lies within {near:g} mm of what was read.")
KEY_CONTRADICTS = marked(
    "identify",
    "{read} is not the {what} that the tables give to {sizes}: measure both again, or it is no standard pair.",
)
KEY_WIDTH, KEY_HEIGHT = marked("identify", "key or keyway width"), marked("identify", "height over the key or keyway")


@dataclass(frozen=True, slots=True)
class Feature:
    """One thing that is read of the shaft or bore, by its name in the input, and its limits in a pair."""

    name: str
    limits: Callable[[KeyedPair], Range]
    ask: str


@dataclass(frozen=True, slots=True)
class Side:
    """The three features of one side, and which way it wears: a shaft gets smaller (-1), a bore larger (+1).

    ``limits_source`` says where the limits of the diameter come from; those of the key come with the pair.
    """

    diameter: Feature
    width: Feature
    height: Feature
    wears: int
    limits_source: str


@dataclass(frozen=True, slots=True)
class SideReadings:
    """What was read of one side, mm; None where it was not."""

    diameter: Range
    width: Range | None
    height: Range | None


def identify_side(side: Side, readings: SideReadings) -> Identified:
    """Return what a shaft or a bore can be."""
    _refuse_unusable(readings)
    by_diameter = [pair for pair in keyed_pairs() if side.diameter.limits(pair).meets(readings.diameter)]
    if not by_diameter:
        return Identified((), ambiguous=False, notes=_misses(side, readings))
    taken = _features_read(side, readings)
    pairs, used = _best_agreement(by_diameter, taken)
    unmet = taken[len(used) :]
    ambiguous = len(pairs) > 1 or bool(unmet)
    return Identified(
        candidates=best_first(_candidate(side, pair, [(side.diameter, readings.diameter), *used]) for pair in pairs),
        ambiguous=ambiguous,
        next_measurement=_next(side, readings, pairs, unmet) if ambiguous else None,
        notes=_off_nominal(pairs, readings) + _contradictions(pairs, unmet, side, readings),
    )


def _refuse_unusable(readings: SideReadings) -> None:
    refuse_unless_positive("The diameter", readings.diameter)
    for name, reading in (("The key or keyway width", readings.width), ("The height over it", readings.height)):
        if reading is not None:
            refuse_unless_positive(name, reading)


Read = tuple[Feature, Range]


def _features_read(side: Side, readings: SideReadings) -> list[Read]:
    read = ((side.width, readings.width), (side.height, readings.height))
    return [(feature, reading) for feature, reading in read if reading is not None]


def _best_agreement(pairs: Sequence[KeyedPair], read: list[Read]) -> tuple[Sequence[KeyedPair], list[Read]]:
    """Return the pairs that meet all that was read, or as much as any meets, leaving out the height first."""
    for count in range(len(read), 0, -1):
        meeting = [pair for pair in pairs if all(one.limits(pair).meets(value) for one, value in read[:count])]
        if meeting:
            return meeting, read[:count]
    return pairs, []


def _candidate(side: Side, pair: KeyedPair, read: Sequence[Read]) -> Candidate:
    evidence: tuple[Evidence, ...] = tuple(
        evidence_mm(feature.name, value, feature.limits(pair), pair.label) for feature, value in read
    )
    return Candidate(
        label=pair.label,
        system=pair.system,
        nominal_mm=pair.diameter_mm,
        evidence=evidence,
        decides=not pair.confidence.startswith(FROM_MEMORY),
        source=f"{pair.source}; {side.limits_source}",
    )


def _contradictions(
    pairs: Sequence[KeyedPair], unmet: Sequence[Read], side: Side, readings: SideReadings
) -> tuple[Sentence, ...]:
    if not unmet:
        return ()
    feature, value = unmet[0]
    what = KEY_WIDTH if feature is side.width else KEY_HEIGHT
    sizes = ", ".join(pair.label for pair in pairs)
    read = f"{value.low:.3f} to {value.high:.3f} mm"
    worn = _misses(side, readings, besides=pairs) if feature is side.width else ()
    agreeing = tuple(note for note in worn if note.template == WORN_KEY_AGREES)
    return (Sentence(KEY_CONTRADICTS, {"read": read, "what": what, "sizes": sizes}), *agreeing)


def _misses(side: Side, readings: SideReadings, besides: Sequence[KeyedPair] = ()) -> tuple[Sentence, ...]:
    """Say by how much the diameter misses the sizes about it, nearest first."""
    others = [pair for pair in keyed_pairs() if pair not in besides]
    near = [pair for pair in others if abs(pair.diameter_mm - readings.diameter.middle) <= MOST_WEAR_MM]
    near.sort(key=lambda pair: abs(pair.diameter_mm - readings.diameter.middle))
    if not near:
        return (Sentence(NONE_NEAR, {"near": MOST_WEAR_MM}),)
    return tuple(_miss(pair, side, readings) for pair in near)


def _miss(pair: KeyedPair, side: Side, readings: SideReadings) -> Sentence:
    worn = (readings.diameter.middle - pair.diameter_mm) * side.wears > 0
    key_agrees = readings.width is not None and side.width.limits(pair).meets(readings.width)
    template = (WORN_KEY_AGREES if key_agrees else WORN) if worn else NOT_AS_MADE
    return _said_off(template, pair, readings)


def _off_nominal(pairs: Sequence[KeyedPair], readings: SideReadings) -> tuple[Sentence, ...]:
    """Say by how much the diameter misses those sizes that it surely misses, although they are made so."""
    nominal = [(pair, Range.exactly(pair.diameter_mm)) for pair in pairs]
    return tuple(_said_off(AS_MADE, pair, readings) for pair, size in nominal if not size.meets(readings.diameter))


def _said_off(template: str, pair: KeyedPair, readings: SideReadings) -> Sentence:
    over = readings.diameter - pair.diameter_mm
    way, by = ("over", over) if over.middle > 0 else ("under", -over)
    return Sentence(template, {"least": max(by.low, 0.0), "most": by.high, "way": way, "size": pair.label})


def _next(
    side: Side, readings: SideReadings, pairs: Sequence[KeyedPair], unmet: Sequence[Read]
) -> NextMeasurement | None:
    """Return what contradicts, or the reading that tells most of the pairs apart: the unread before the coarse."""
    if unmet:
        return _asked(unmet[0][0], pairs)
    unread = [one for one, value in ((side.width, readings.width), (side.height, readings.height)) if value is None]
    telling = max(unread, key=lambda one: _told_apart(one, pairs), default=None)
    if telling is not None and _told_apart(telling, pairs):
        return _asked(telling, pairs)
    return _again(side, readings, pairs)


def _again(side: Side, readings: SideReadings, pairs: Sequence[KeyedPair]) -> NextMeasurement | None:
    """Return a reading to be taken again, finer, where its doubt is what leaves the pairs open."""
    read = [(side.diameter, readings.diameter), *_features_read(side, readings)]
    for feature, value in sorted(read, key=lambda one: -_told_apart(one[0], pairs)):
        if _told_apart(feature, pairs) and value.doubt > SAME_MM:
            return _asked(feature, pairs)
    return None


def _told_apart(feature: Feature, pairs: Sequence[KeyedPair]) -> int:
    """Count the couples of pairs that an exact reading of ``feature`` tells apart."""
    return sum(not feature.limits(one).meets(feature.limits(other)) for one, other in combinations(pairs, 2))


def _asked(feature: Feature, pairs: Sequence[KeyedPair]) -> NextMeasurement:
    expected = "; ".join(f"{pair.label}: {_span(feature.limits(pair))}" for pair in pairs)
    return NextMeasurement(
        reading=feature.name,
        ask=Sentence(feature.ask, {"expected": expected}),
        between=tuple(pair.label for pair in pairs),
    )


def _span(limits: Range) -> str:
    return f"{limits.low:.3f} to {limits.high:.3f} mm"
