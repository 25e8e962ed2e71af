"""Observations of the catalog turned into the values a case is made of, the strongest kept, contradictions too."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from xref_app.core.fields.fields import Field, Kind, all_fields
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Dimension, Fact, How, Known, Pattern, Seats
from xref_app.core.model.typed import Plain, typed

_HOWS = {how.word: how for how in How}
_YES_NO = {"yes": True, "no": False}

# What a port row says, by the ending of the field it stands for.
_PORT_VALUES = ("thread", "gender", "seal_mm", "direction_deg")


def values_by_field(
    observations: Iterable[Observation], ports: Iterable[PortRow] = ()
) -> Mapping[str, tuple[Known, ...]]:
    """Return what is known of one entry by field id: one value, or several where equal-rank readings contradict.

    Only readings known in the strongest way count; a weaker one never argues with a stronger. Where readings of that
    rank agree within their doubts, both hold, and what both allow is kept.
    """
    gathered: dict[str, list[Known]] = {}
    fields = all_fields()
    for one in observations:
        if one.field in fields:
            gathered.setdefault(one.field, []).append(known_of(fields[one.field], one))
    for port in ports:
        for name, value in _of_port(port):
            if name in fields:
                how = _HOWS[port.how]
                gathered.setdefault(name, []).append(typed(fields[name], value, how=how))
    return {field: _versions(values) for field, values in gathered.items()}


def known_of(field: Field, observation: Observation) -> Known:
    """Return one observation as the model holds it."""
    plain = _plain(field, observation)
    return typed(field, plain, how=_HOWS[observation.how], doubt=observation.doubt)


def _plain(field: Field, observation: Observation) -> Plain:
    text = observation.text
    match field.kind:
        case Kind.NUMBER:
            return 0.0 if observation.value is None else observation.value
        case Kind.YES_NO:
            return _YES_NO[text]
        case Kind.HOLES | Kind.SECTORS:
            return [[float(number) for number in row.split()] for row in text.split(";")]
        case Kind.HEIGHTS:
            return [float(number) for number in text.split(";")]
        case Kind.WORD | Kind.THREAD:
            return text


def _of_port(port: PortRow) -> Iterable[tuple[str, Plain]]:
    for ending in _PORT_VALUES:
        value = getattr(port, ending)
        if value is not None and value != "":
            yield f"{port.port}_{ending}", value


def _versions(values: Sequence[Known]) -> tuple[Known, ...]:
    strongest = min(value.how for value in values)
    kept: list[Known] = []
    for value in values:
        if value.how is not strongest:
            continue
        for place, other in enumerate(kept):
            shared = _shared_or_none(other, value)
            if shared is not None:
                kept[place] = shared
                break
        else:
            kept.append(value)
    return tuple(kept)


def _shared_or_none(one: Known, other: Known) -> Known | None:
    """Return what two readings both allow, or None where they contradict."""
    if isinstance(one, Dimension) and isinstance(other, Dimension):
        shared = one.range.overlap_or_none(other.range)
        if shared is None:
            return None
        if one.value == other.value:
            return Dimension(one.value, min(one.doubt, other.doubt), one.how)
        return Dimension(shared.middle, shared.doubt, one.how)
    return one if _same(one, other) else None


def _same(one: Known, other: Known) -> bool:
    """Say whether two readings that are no sizes say the same thing."""
    match one, other:
        case Fact(), Fact():
            return one.value == other.value
        case Pattern(), Pattern():
            return one.holes == other.holes
        case Seats(), Seats():
            return one.heights_mm == other.heights_mm
    return False
