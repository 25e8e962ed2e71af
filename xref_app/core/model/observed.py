"""Observations of the catalog turned into the values a case is made of, the strongest kept, contradictions too."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from xref_app.core.fields.fields import Field, Kind, all_fields
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Dimension, Fact, How, Known, Pattern, Seats
from xref_app.core.model.typed import Plain, typed

_HOWS = {how.word: how for how in How}
_YES_NO = {"yes": True, "no": False}

PORT_VALUES = ("thread", "gender", "seal_mm", "direction_deg")
"""What a port row says, by the ending of the field it stands for."""


def values_by_field(
    observations: Iterable[Observation], ports: Iterable[PortRow] = ()
) -> Mapping[str, tuple[Known, ...]]:
    """Return what is known of one entry by field id: one value, or several where equal-rank readings contradict.

    Only readings known in the strongest way count; a weaker one never argues with a stronger. Where readings of that
    rank agree within their doubts, all hold, and what all allow is kept.
    """
    gathered: dict[str, list[Known]] = {}
    fields = all_fields()
    for one in observations:
        if one.field in fields and not _is_blank(fields[one.field], one):
            gathered.setdefault(one.field, []).append(known_of(fields[one.field], one))
    for port in ports:
        for name, value in _of_port(port):
            if name in fields:
                how = _HOWS[port.how]
                gathered.setdefault(name, []).append(typed(fields[name], value, how=how))
    return {field: _versions(values) for field, values in gathered.items()}


def _is_blank(field: Field, observation: Observation) -> bool:
    """Say whether a reading says nothing: never a zero."""
    return observation.value is None if field.kind is Kind.NUMBER else observation.text == ""


def known_of(field: Field, observation: Observation) -> Known:
    """Return one observation as the model holds it."""
    plain = _plain(field, observation)
    return typed(field, plain, how=_HOWS[observation.how], doubt=observation.doubt)


def _plain(field: Field, observation: Observation) -> Plain:
    text = observation.text
    match field.kind:
        case Kind.NUMBER:
            if observation.value is None:
                raise ValueError(f"observation {observation.observation_id} of {field.field_id} has no value")
            return observation.value
        case Kind.YES_NO:
            return _YES_NO[text]
        case Kind.HOLES | Kind.SECTORS:
            return [[float(number) for number in row.split()] for row in text.split(";")]
        case Kind.HEIGHTS:
            return [float(number) for number in text.split(";")]
        case Kind.WORD | Kind.THREAD:
            return text


def _of_port(port: PortRow) -> Iterable[tuple[str, Plain]]:
    for ending in PORT_VALUES:
        value = getattr(port, ending)
        if value is not None and value != "":
            yield f"{port.port}_{ending}", value


def _versions(values: Sequence[Known]) -> tuple[Known, ...]:
    """Return the strongest readings: as one where all of them agree, else each that differs, in no order of arrival."""
    strongest = min(value.how for value in values)
    kept = [value for value in values if value.how is strongest]
    sizes: list[Dimension] = [value for value in kept if isinstance(value, Dimension)]
    if len(sizes) < len(kept):
        return tuple(_saying(kept).values())
    shared = _shared_or_none(sizes)
    if shared is not None:
        return (shared,)
    distinct: list[Dimension] = sorted(set(sizes), key=lambda size: (size.value, size.doubt))
    return tuple(distinct)


def _shared_or_none(sizes: Sequence[Dimension]) -> Dimension | None:
    """Return what all readings allow, or None where they contradict."""
    low, high = max(size.range.low for size in sizes), min(size.range.high for size in sizes)
    if low > high:
        return None
    if len({size.value for size in sizes}) == 1:
        return min(sizes, key=lambda size: size.doubt)
    return Dimension((low + high) / 2, (high - low) / 2, sizes[0].how)


def _saying(values: Sequence[Known]) -> dict[object, Known]:
    """Return one reading for each different thing said, by what it says."""
    return {_said(value): value for value in values}


def _said(value: Known) -> object:
    match value:
        case Fact():
            return value.value
        case Pattern():
            return value.holes
        case Seats():
            return value.heights_mm
        case Dimension():
            return (value.value, value.doubt)
