"""Which entries of the catalog a unit on the bench can be, by what has been measured of it so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from xref_app.core.fields.fields import field_for
from xref_app.services.catalog import Catalog
from xref_app.services.kept_tables import bench_ids, table_of_kind
from xref_app.services.size_match import Match, Readings, match_of

__all__ = ["SizeHit", "bench_ids", "best_meeting", "entries_meeting", "entry_against"]


@dataclass(frozen=True, slots=True)
class SizeHit:
    """One entry and the fields of the readings that agree with it, that contradict it, and that it leaves open."""

    entry_id: str
    number: str
    maker: str
    name: str
    agreeing: tuple[str, ...]
    contradicting: tuple[str, ...]
    unknown: tuple[str, ...]


def entries_meeting(catalog: Catalog, kind: str, readings: Readings) -> tuple[SizeHit, ...]:
    """Return the entries of ``kind`` that no reading contradicts, those that agree in most fields first.

    What is not known of an entry, or known as a habit only, never excludes it. An entry with damaged rows is not
    excluded at all: the reading that would agree may be the one that was set aside.

    Args:
        catalog: Where to look.
        kind: ``pump``, ``driver`` or ``machine`` (the machine together with its engine).
        readings: What was measured, by field id.

    Raises:
        UnknownFieldError: a reading is of no field there is.
    """
    return best_meeting(catalog, kind, readings, most=len(table_of_kind(catalog, kind)))[0]


def best_meeting(catalog: Catalog, kind: str, readings: Readings, *, most: int) -> tuple[tuple[SizeHit, ...], int]:
    """Return the first ``most`` of ``entries_meeting``, and how many there are altogether.

    Raises:
        UnknownFieldError: a reading is of no field there is.
    """
    from xref_app.services.held_against import HeldAgainst, not_excluded  # noqa: PLC0415 - numpy only when asked

    held = HeldAgainst.of(table_of_kind(catalog, kind), readings)
    meeting = not_excluded(catalog, held)
    hits = (_hit(catalog, held.table.ids[at], held.of_entry(at)) for at in held.best(meeting, most))
    return tuple(_spared(hit) for hit in hits), int(meeting.sum())


def entry_against(catalog: Catalog, entry_id: str, readings: Readings) -> SizeHit:
    """Return what the readings say of one entry.

    A number that was guessed is settled where one measured value agrees and nothing contradicts.
    """
    values = catalog.known(*bench_ids(catalog, entry_id))
    by_match: dict[Match, list[str]] = {match: [] for match in Match}
    for field_id, reading in readings.items():
        by_match[match_of(field_for(field_id), reading, values.get(field_id, ()))].append(field_id)
    return _hit(catalog, entry_id, by_match)


def _hit(catalog: Catalog, entry_id: str, by_match: Mapping[Match, list[str]]) -> SizeHit:
    """Return an entry by its number, with the fields that agree, that contradict and that stay open."""
    entry = catalog.entries[entry_id]
    return SizeHit(
        entry_id=entry_id,
        number=catalog.number_of(entry_id),
        maker=entry.maker,
        name=entry.name,
        agreeing=tuple(by_match[Match.AGREES]),
        contradicting=tuple(by_match[Match.CONTRADICTS]),
        unknown=tuple(by_match[Match.OPEN]),
    )


def _spared(hit: SizeHit) -> SizeHit:
    """Return a hit that stays whatever contradicts it, because rows of it are damaged: that is left open."""
    return replace(hit, contradicting=(), unknown=(*hit.unknown, *hit.contradicting)) if hit.contradicting else hit
