"""CASE.json in: one question for the judge, checked against its schema, every fault in one sentence."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xref_app.core.fields.fields import Field, field_for_case
from xref_app.core.model.assemble import MOST_COMBINATIONS, Versions, cases
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, How, Known, Pattern, Seats
from xref_app.core.model.shelf import Part, PartEnd, Shelf
from xref_app.core.model.typed import typed
from xref_app.core.model.words import Gender, PartKind
from xref_app.exchange.case_errors import CaseError
from xref_app.exchange.case_schema import check_against_schema

# A case is a page of numbers; anything larger is not one (house rule).
MOST_BYTES = 1_000_000

_HOWS = {how.word: how for how in How}


@dataclass(frozen=True, slots=True)
class CaseFile:
    """A case read: one Case per combination of versions, and the fields that come in several."""

    cases: tuple[Case, ...]
    contradicted: tuple[str, ...]


def load_case(path: Path) -> CaseFile:
    """Return the case in the file at ``path``.

    Raises:
        CaseError: the file is missing, is no JSON, is not a case, or holds something implausible.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise CaseError(str(path), f"cannot be read ({error.strerror})", "check its name and try again") from error
    if len(raw) > MOST_BYTES:
        raise CaseError(str(path), f"{len(raw)} bytes", "that is no case; a case is a page of numbers")
    try:
        data = json.loads(raw.decode("utf-8-sig"), parse_constant=_refuse_constant)
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError) as error:
        raise CaseError(str(path), f"is not JSON ({error})", "write it anew, in UTF-8") from error
    if not isinstance(data, dict):
        raise CaseError(str(path), "holds no case", "it must start with { and name machine and pump")
    return read_case_file(data)


def read_case(data: Mapping[str, object]) -> tuple[Case, ...]:
    """Return the case in ``data``, several where a value has several versions.

    Raises:
        CaseError: ``data`` is not a case, or holds something implausible.
    """
    return read_case_file(data).cases


def read_case_file(data: Mapping[str, object]) -> CaseFile:
    """Return the case in ``data`` with the ids of the fields that come in several versions.

    Raises:
        CaseError: ``data`` is not a case, or holds something implausible.
    """
    check_against_schema(data)
    by_path = {path: tuple(_versions(path, value)) for path, value in _leaves(data)}
    versions = Versions({path: found for path, found in by_path.items() if found})
    if versions.combinations > MOST_COMBINATIONS:
        raise CaseError(
            ", ".join(versions.contradicted),
            f"{versions.combinations} combinations of versions",
            f"settle some of them first; at most {MOST_COMBINATIONS} are judged",
        )
    _check_together(versions)
    guessed = data.get("guessed_number") is True
    return CaseFile(
        cases(versions, shelf=_shelf(data.get("shelf") or ()), guessed_number=guessed),
        tuple(field_for_case(path).field_id for path in versions.contradicted),
    )


def _refuse_constant(name: str) -> float:
    raise CaseError("case", f"the number {name}", "leave out what is not known, or write null")


def _leaves(data: Mapping[str, object]) -> Iterator[tuple[str, object]]:
    """Yield (path, value) of everything a field stands for; groups are walked into, null is left out."""
    stack: list[tuple[str, object]] = [(name, data.get(name)) for name in ("machine", "pump", "old_pump")]
    while stack:
        path, value = stack.pop(0)
        if value is None:
            continue
        if isinstance(value, Mapping) and not {"value", "either"} & value.keys():
            stack = [(f"{path}.{name}", inner) for name, inner in value.items()] + stack
        else:
            yield path, value


def _versions(path: str, value: object) -> Iterator[Known]:
    if isinstance(value, Mapping) and "either" in value:
        for one in value["either"]:
            yield from _versions(path, one)
    elif value is not None:
        yield _known(field_for_case(path), path, value)


def _known(field: Field, path: str, value: object) -> Known:
    given: Mapping[str, Any] = value if isinstance(value, Mapping) else {"value": value}  # JSON, schema-checked
    found = typed(field, given["value"], how=_HOWS[given.get("how", "measured")], doubt=given.get("doubt"))
    if isinstance(found, Dimension):
        _check_plausible(field, path, found)
    return found


def _check_plausible(field: Field, path: str, found: Dimension) -> None:
    low, high = field.minimum, field.maximum
    if (low is not None and found.value < low) or (high is not None and found.value > high):
        unit = f" {field.unit}" if field.unit else ""
        raise CaseError(
            path, f"{found.value:g}{unit} is outside {low:g} to {high:g}{unit}", "check the number and its unit"
        )


def _check_together(versions: Versions) -> None:
    """Refuse values that cannot both be true of one unit, so that the judge never has to guess which one to believe."""
    for rated in versions.by_path.get("pump.rating.speed_rpm", ()):
        for most in versions.by_path.get("pump.rating.max_speed_rpm", ()):
            if isinstance(rated, Dimension) and isinstance(most, Dimension) and most.value < rated.value:
                raise CaseError(
                    "pump.rating.max_speed_rpm",
                    f"{most.value:g} rpm is below the rated {rated.value:g} rpm",
                    "read both off the plate again",
                )
    for side in ("machine.face", "pump.flange"):
        _check_heights(versions, side)


def _check_heights(versions: Versions, side: str) -> None:
    for pattern in versions.by_path.get(f"{side}.holes_xy_mm", ()):
        for seats in versions.by_path.get(f"{side}.seat_heights_mm", ()):
            if not isinstance(pattern, Pattern) or not isinstance(seats, Seats):
                continue
            if len(pattern.holes) != len(seats.heights_mm):
                raise CaseError(
                    f"{side}.seat_heights_mm",
                    f"{len(seats.heights_mm)} heights for {len(pattern.holes)} holes",
                    "give one height for each hole, in the order of the holes",
                )


def _shelf(rows: object) -> Shelf:
    if not isinstance(rows, Sequence):
        return ()
    return tuple(_part(row) for row in rows)


def _part(row: Mapping[str, object]) -> Part:
    given = dict(row)
    ends = tuple(_part_end(end) for end in given.pop("ends", None) or ())  # type: ignore[attr-defined]  # schema-checked
    kind = PartKind(str(given.pop("kind")))
    return Part(kind=kind, ends=ends, **given)  # type: ignore[arg-type]  # schema-checked: names and types are Part's own


def _part_end(end: Mapping[str, object]) -> PartEnd:
    seal = end.get("seal_mm")
    return PartEnd(
        thread=str(end["thread"]),
        gender=Gender(str(end["gender"])),
        seal_mm=float(seal) if isinstance(seal, int | float) else None,
        swivel=end.get("swivel") is True,
    )
