"""A machine's model typed with the day it was built or with its engine: which of its builds are left."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from xref_app.core.model.catalog import MachineRow
from xref_app.core.sentence import Sentence, marked
from xref_app.services.answers import Found, Hit
from xref_app.services.catalog import Catalog

BUILT = marked("find", "machine model {model}, built {day}. Builds left: {left} of {count}.")
ENGINE = marked("find", "machine model {model}, engine or motor {words}. Builds left: {left} of {count}.")
NONE_THEN = marked("find", "No build of {model} on file was made then; all are shown.")

# A year, a month of a year or a day, as ISO 8601 writes them; 03/04/15 could be three days, so it is not read.
_DAY: Final = re.compile(r"(?P<year>(?:19|20)\d\d)(?:-(?P<month>0[1-9]|1[0-2])(?:-(?P<day>0[1-9]|[12]\d|3[01]))?)?")
MOST_WORDS: Final = 8
"""A longer text is no model with a day or an engine. House rule."""

_PATTERN: Final = frozenset("?*[]")


@dataclass(frozen=True, slots=True)
class Split:
    """A typed text as a model and what was typed after it."""

    model: str
    rest: str


def splits(text: str) -> Iterator[Split]:
    """Yield each way to take the last words off ``text``, the longest model first; a pattern is never taken apart."""
    words = text.split(maxsplit=MOST_WORDS)
    if len(words) > MOST_WORDS or not _PATTERN.isdisjoint(text):
        return
    for count in range(len(words) - 1, 0, -1):
        yield Split(" ".join(words[:count]), " ".join(words[count:]))


def folded(text: str) -> str:
    """Return letters and digits only, case apart."""
    return "".join(letter for letter in text.casefold() if letter.isalnum())


def narrowed(catalog: Catalog, row: MachineRow, rest: str) -> Found | None:
    """Return the model of ``row`` with the builds that ``rest`` leaves; None where it is neither a day nor an engine.

    A build of which nobody knows the days, or the engine's name, is always left.
    """
    builds = catalog.builds_of(row.model)
    day = _DAY.fullmatch(rest.strip())
    if day is not None:
        left = [one for one in builds if _may_be_of(one, day)]
        advice = None if left else Sentence(NONE_THEN, {"model": row.model})
        return _found(catalog, builds, left or builds, Sentence(BUILT, _told(row, builds, left, day=rest)), advice)
    words = [folded(word) for word in rest.split() if folded(word)]
    plates = {one.entry_id: _plate(catalog, one.driver_id) for one in builds}
    if not words or not any(_names(plate, words) for plate in plates.values() if plate):
        return None
    left = [one for one in builds if not plates[one.entry_id] or _names(plates[one.entry_id], words)]
    return _found(catalog, builds, left, Sentence(ENGINE, _told(row, builds, left, words=rest)))


def _told(row: MachineRow, builds: Sequence[MachineRow], left: Sequence[MachineRow], **more: str) -> dict[str, object]:
    return {"model": row.model, "left": len(left), "count": len(builds), **more}


def _may_be_of(row: MachineRow, day: re.Match[str]) -> bool:
    """Say whether a build made on some day of the year, or month, may be of this row; an open end holds everything."""
    first = f"{day['year']}-{day['month'] or '01'}-{day['day'] or '01'}"
    last = f"{day['year']}-{day['month'] or '12'}-{day['day'] or '31'}"
    # An empty day comes before every other.
    return row.built_from <= last and (not row.built_to or row.built_to >= first)


def _plate(catalog: Catalog, driver_id: str) -> tuple[str, ...]:
    """Return the words of the engine's plate, folded; none where nobody knows the engine."""
    entry = catalog.entries.get(driver_id)
    names = () if entry is None else (entry.maker, *entry.name.split())
    numbers = (one.number for one in catalog.numbers.get(driver_id, ()))
    return tuple(word for word in map(folded, (*names, *numbers)) if word)


def _names(plate: Sequence[str], words: Sequence[str]) -> bool:
    """Say whether every typed word begins a word of the plate."""
    return all(any(on_plate.startswith(word) for on_plate in plate) for word in words)


def _found(
    catalog: Catalog,
    builds: Sequence[MachineRow],
    left: Sequence[MachineRow],
    read_as: Sentence,
    advice: Sentence | None = None,
) -> Found:
    first = left[0]
    entry = catalog.entries[first.entry_id]
    matched = tuple(range(len(first.model)))
    among = tuple(one.entry_id for one in left) if len(left) < len(builds) else ()
    hit = Hit(first.entry_id, "machine", first.model, entry.maker, entry.name, matched, (), 100.0, builds=among)
    return Found(read_as, (hit,), 1, advice)
