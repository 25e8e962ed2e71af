"""The same answers as from the table of values, entry by entry and without a table: the long way round."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from xref_app.core.fields.fields import Field, Kind, field_for
from xref_app.core.model.known import Dimension, Known
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.services.catalog import Catalog
from xref_app.services.duplicates import FEWEST_AGREEING, Duplicate
from xref_app.services.machine_side import Values
from xref_app.services.measure_order import asked_in_order, minutes_of, off_already
from xref_app.services.size_match import CHANGEABLE, Match, Readings, limits_met, match_of, widened
from xref_app.services.size_search import SizeHit, bench_ids

MOST_COMPARED = 64
LEAST_MINUTES = 0.25


def known_of_kind(catalog: Catalog, kind: str) -> dict[str, Values]:
    """Return what is known of every entry of ``kind``, by entry."""
    return {
        entry_id: catalog.known(*bench_ids(catalog, entry_id))
        for entry_id, entry in catalog.entries.items()
        if entry.kind == kind
    }


def meeting(catalog: Catalog, known: Mapping[str, Values], readings: Readings) -> tuple[SizeHit, ...]:
    """Return the entries that no reading contradicts, and damaged ones; ``known`` is what is known of every entry."""
    hits: list[SizeHit] = []
    for hit in hits_of(catalog, known, readings):
        if not hit.contradicting:
            hits.append(hit)
        elif catalog.damaged.touches(*bench_ids(catalog, hit.entry_id)):
            hits.append(replace(hit, contradicting=(), unknown=(*hit.unknown, *hit.contradicting)))
    return tuple(sorted(hits, key=lambda hit: (-len(hit.agreeing), hit.number, hit.entry_id)))


def hits_of(catalog: Catalog, known: Mapping[str, Values], readings: Readings) -> Iterator[SizeHit]:
    """Yield what the readings say of every entry, whether they contradict it or not."""
    for entry_id, values in known.items():
        by_match: dict[Match, list[str]] = {match: [] for match in Match}
        for field_id, reading in readings.items():
            by_match[match_of(field_for(field_id), reading, values.get(field_id, ()))].append(field_id)
        entry = catalog.entries[entry_id]
        yield SizeHit(
            entry_id=entry_id,
            number=catalog.number_of(entry_id),
            maker=entry.maker,
            name=entry.name,
            agreeing=tuple(by_match[Match.AGREES]),
            contradicting=tuple(by_match[Match.CONTRADICTS]),
            unknown=tuple(by_match[Match.OPEN]),
        )


def same_sizes(
    catalog: Catalog, known: Mapping[str, Values], readings: Readings, leaving_out: str
) -> tuple[Duplicate, ...]:
    """Return the entries that agree in four sizes or more while nothing differs, those that agree in most first."""
    kinds = {Kind.NUMBER, Kind.HOLES, Kind.HEIGHTS, Kind.THREAD}
    found: list[Duplicate] = []
    for hit in hits_of(catalog, known, readings):
        sizes = tuple(field_for(field).title for field in hit.agreeing if field_for(field).kind in kinds)
        if hit.entry_id != leaving_out and not hit.contradicting and len(sizes) >= FEWEST_AGREEING:
            found.append(Duplicate(hit.entry_id, hit.number, hit.maker, sizes, ""))
    return tuple(sorted(found, key=lambda one: (-len(one.agreeing), one.number, one.entry_id)))


def possible(catalog: Catalog, known: Mapping[str, Values], readings: Readings) -> list[Values]:
    """Return what is known of each entry that ``readings`` leave; ``known`` is what is known of every one."""
    return [
        values
        for entry_id, values in known.items()
        if catalog.damaged.touches(*bench_ids(catalog, entry_id))
        or all(
            match_of(field_for(field), reading, values.get(field, ())) is not Match.CONTRADICTS
            for field, reading in readings.items()
        )
    ]


def next_field(
    kind: str, left: Sequence[Values], readings: Readings, skipped: Collection[str]
) -> tuple[str, float] | None:
    """Return the field to measure next and how many of ``left``, the entries still possible, it is to rule out."""
    fields = asked_in_order(kind, readings, skipped)
    off = off_already(readings)
    ruled = {field.field_id: ruled_out(field, left) for field in fields}
    best = max(fields, key=lambda one: ruled[one.field_id] / max(minutes_of(one, off), LEAST_MINUTES), default=None)
    return None if best is None else (best.field_id, ruled[best.field_id])


def ruled_out(field: Field, left: Sequence[Values]) -> float:
    """Return how many entries a reading of ``field`` is expected to exclude, counted over each of them."""
    if len(left) < 2 or field.field_id in CHANGEABLE:
        return 0.0
    said = Counter(versions for values in left if (versions := _deciding(values.get(field.field_id, ()))))
    if field.kind is Kind.NUMBER:
        return _apart_by_size(field, said) / len(left)
    return _apart_by_pairs(field, said) / len(left)


def _deciding(versions: Sequence[Known]) -> tuple[Known, ...]:
    return tuple(one for one in versions if one.how.decides)


def _apart_by_size(field: Field, said: Counter[tuple[Known, ...]]) -> float:
    """Return how many ordered pairs of entries lie so far apart that a reading of one excludes the other."""
    spans = [(_span(field, versions), count) for versions, count in said.items()]
    lows = sorted(span.low for span, count in spans for _ in range(count))
    highs = sorted(span.high for span, count in spans for _ in range(count))
    below = sum(count * bisect_left(highs, span.low - SAME_MM) for span, count in spans)
    above = sum(count * (len(lows) - bisect_right(lows, span.high + SAME_MM)) for span, count in spans)
    return float(below + above)


def _span(field: Field, versions: Sequence[Known]) -> Range:
    """Return from the least to the most that a reading of this entry can be, all its versions and its limits held."""
    sizes = [
        Range.around(one.value, max(one.doubt, field.default_doubt)) for one in versions if isinstance(one, Dimension)
    ]
    held = [widened(field, size) for size in sizes] + [limits for size in sizes for limits in limits_met(field, size)]
    return Range(min(one.low for one in held), max(one.high for one in held))


def _apart_by_pairs(field: Field, said: Counter[tuple[Known, ...]]) -> float:
    """Return the same for words, threads and patterns; beyond the most compared, as if the rest were like those."""
    compared = said.most_common(MOST_COMPARED)
    pairs = 0
    for place, (ours, our_count) in enumerate(compared):
        for theirs, their_count in compared[place + 1 :]:
            if all(match_of(field, one, theirs) is Match.CONTRADICTS for one in ours):
                pairs += 2 * our_count * their_count
    share = said.total() / max(1, sum(count for _, count in compared))
    return pairs * share * share
