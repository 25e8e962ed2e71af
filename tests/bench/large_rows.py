"""Rows of a very large invented catalog, one entry after the other, the same for the same seed.

Three of five entries are pumps, one is a driver and one a machine, in step with catalog_numbers.py, whose numbers they
carry. Faces, ratings and ports are the sample's, put together anew as in big_catalog.py; so are drivers and machines.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from tests.bench.big_catalog import FACES_AND_DRIVES, MISSING, PUMPS_PER_FACE, with_many_pumps
from tests.bench.catalog_numbers import KINDS, MAKERS, MadeUp, entry_id, made_up_numbers
from tests.bench.ready_rows import ReadyRow, ready
from tests.sample.in_memory import catalog_of
from xref_app.core.fields.fields import field_for
from xref_app.core.model.catalog import (
    DriverRow,
    Entry,
    MachineRow,
    Number,
    Observation,
    OutcomeRow,
    PortRow,
    ReplacedBy,
)
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.services.catalog import Catalog

# What the four blocks of catalog_numbers.py are on the plate, and how each is known.
ROLES: Final = (("maker", "sheet"), ("old", "sheet"), ("seller", "claimed"), ("model", "plate"))
FACES_DISTINCT: Final = 0.63  # of faces picked with repeats as often as there are faces: 1 - 1/e
REPLACED, SISTER_BUILD, PUMP_NOT_KNOWN, WITH_OUTCOME = 0.05, 0.3, 0.2, 0.02
RESULTS: Final = ("installed and fine", "installed with parts", "did not fit")
PUMPS_OF_FIVE, DRIVER_OF_FIVE = 3, 3  # how many of five neighbours are pumps; which is the driver


@dataclass(frozen=True, slots=True)
class EntryRows:
    """One entry and all that is said of it."""

    entry: Entry
    numbers: tuple[Number, ...]
    observations: tuple[ReadyRow, ...]
    others: tuple[PortRow | DriverRow | MachineRow | ReplacedBy | OutcomeRow, ...]


@dataclass(frozen=True, slots=True)
class _Kit:
    """What entries are put together from."""

    faces: Sequence[tuple[ReadyRow, ...]]
    ratings: Sequence[tuple[ReadyRow, ...]]
    pump_ports: Sequence[tuple[PortRow, ...]]
    drivers: Sequence[tuple[DriverRow, tuple[ReadyRow, ...]]]
    machines: Sequence[tuple[str, tuple[PortRow, ...], tuple[ReadyRow, ...]]]
    makers: Sequence[str]


def large_rows(sample: CatalogRows, entries: int, seed: int) -> Iterator[EntryRows]:
    """Yield the entries by id; ``entries`` is a multiple of five, so that every machine has a driver before it."""
    rng = random.Random(seed)
    kit = _kit(catalog_of(sample), entries, rng)
    models = _Models(rng)
    for place, numbers in enumerate(_numbers_by_entry(made_up_numbers(entries, seed), entries)):
        match KINDS[place % len(KINDS)]:
            case "pump":
                yield _pump(kit, place, numbers, entries, rng)
            case "driver":
                yield _driver(kit, place, numbers, rng)
            case _:
                yield _machine(kit, place, models.numbers(numbers), rng)


def random_pump(entries: int, rng: random.Random) -> str:
    """Return the id of some pump."""
    return entry_id(rng.randrange(entries // 5) * 5 + rng.randrange(PUMPS_OF_FIVE))


def _kit(sample: Catalog, entries: int, rng: random.Random) -> _Kit:
    faces = max(1, round(entries * PUMPS_OF_FIVE / len(KINDS) / PUMPS_PER_FACE / FACES_DISTINCT))
    pool = with_many_pumps(sample, faces, rng.randrange(1 << 30), pumps_per_face=1)
    observed = {kind: [one for one in sample.entries.values() if one.kind == kind] for kind in KINDS}
    known = {pump.entry_id: sample.observations.get(pump.entry_id, ()) for pump in observed["pump"]}
    makers = sorted({one.maker for one in sample.entries.values()})
    return _Kit(
        faces=[ready(one for one in pool.observations[pump.entry_id] if _is_face(one)) for pump in pool.pumps()],
        ratings=[ready(one for one in rows if not _is_face(one)) for rows in known.values() if rows],
        pump_ports=[sample.ports[pump] for pump in known if pump in sample.ports],
        drivers=[(row, ready(sample.observations.get(key, ()))) for key, row in sample.drivers.items()],
        machines=[
            (one.name, sample.ports.get(one.entry_id, ()), ready(sample.observations.get(one.entry_id, ())))
            for one in observed["machine"]
        ],
        makers=[f"{makers[at % len(makers)]} {chr(ord('A') + at // len(makers))}" for at in range(MAKERS)],
    )


def _is_face(row: Observation) -> bool:
    return field_for(row.field).field_id.startswith(FACES_AND_DRIVES)


class _Models:
    """Gives some machines the model of the machine before: builds of one model, told apart by their dates."""

    def __init__(self, rng: random.Random) -> None:
        self._rng = rng
        self._last: Number | None = None

    def numbers(self, numbers: tuple[Number, ...]) -> tuple[Number, ...]:
        """Return the machine's numbers, its model last."""
        own = replace(numbers[-1], role="model", how="plate")
        if self._last is not None and self._rng.random() < SISTER_BUILD:
            own = replace(self._last, entry_id=own.entry_id)
        self._last = own
        return (*(one for one in numbers[:-1] if one.number != own.number), own)


def _numbers_by_entry(made_up: MadeUp, entries: int) -> Iterator[tuple[Number, ...]]:
    """Yield the numbers of each entry: the texts come in one block per role, by entry within each."""
    starts = [0, *(at for at in range(1, len(made_up.entries)) if made_up.entries[at] <= made_up.entries[at - 1])]
    ends = [*starts[1:], len(made_up.entries)]
    next_of = list(starts)
    for place in range(entries):
        name, found = entry_id(place), dict[str, Number]()
        for block, (role, how) in enumerate(ROLES):
            at = next_of[block]
            if at < ends[block] and made_up.entries[at] == place:
                next_of[block] += 1
                found.setdefault(made_up.texts[at], Number(name, made_up.texts[at], role, how))
        yield tuple(found.values())


def _thinned(rows: tuple[ReadyRow, ...], rng: random.Random) -> tuple[ReadyRow, ...]:
    return tuple(one for one in rows if rng.random() >= MISSING)


def _dated(rng: random.Random, first: int, last: int) -> str:
    return f"{rng.randint(first, last)}-{rng.randint(1, 12):02}-{rng.randint(1, 28):02}"


def _pump(kit: _Kit, place: int, numbers: tuple[Number, ...], entries: int, rng: random.Random) -> EntryRows:
    name, face = entry_id(place), rng.randrange(len(kit.faces))
    ports = tuple(replace(one, entry_id=name) for one in rng.choice(kit.pump_ports))
    newer = rng.randrange(place + 1, entries) if rng.random() < REPLACED and place + 5 < entries else -1
    chain = (ReplacedBy(name, entry_id(newer), _dated(rng, 2015, 2024), "sheet", "change list"),)
    return EntryRows(
        Entry(name, "pump", rng.choice(kit.makers), f"Pump on face {face}", added_on=_dated(rng, 2020, 2025)),
        numbers,
        (*kit.faces[face], *rng.choice(kit.ratings)),
        (*ports, *(chain if KINDS[newer % len(KINDS)] == "pump" and newer > place else ())),
    )


def _driver(kit: _Kit, place: int, numbers: tuple[Number, ...], rng: random.Random) -> EntryRows:
    name = entry_id(place)
    row, observations = rng.choice(kit.drivers)
    return EntryRows(
        Entry(name, "driver", rng.choice(kit.makers), f"Driver {row.power_kind}", added_on=_dated(rng, 2020, 2025)),
        numbers,
        _thinned(observations, rng),
        (replace(row, entry_id=name),),
    )


def _machine(kit: _Kit, place: int, numbers: tuple[Number, ...], rng: random.Random) -> EntryRows:
    """Return a machine with one of the drivers before it; one in five has lost its pump."""
    name, until = entry_id(place), place + 1
    called, ports, observations = rng.choice(kit.machines)
    pump = "" if rng.random() < PUMP_NOT_KNOWN else random_pump(until, rng)
    driver = entry_id(rng.randrange(until // 5) * 5 + DRIVER_OF_FIVE)
    year = rng.randint(2004, 2020)
    row = MachineRow(name, numbers[-1].number, driver, pump, f"{year}-03-01", f"{year + 2}-11-30")
    outcome = OutcomeRow(
        f"O-{place:07}", name, pump or random_pump(until, rng), rng.choice(RESULTS), seen_on=_dated(rng, 2021, 2025)
    )
    return EntryRows(
        Entry(name, "machine", rng.choice(kit.makers), called, added_on=_dated(rng, 2020, 2025)),
        numbers,
        _thinned(observations, rng),
        (
            *(replace(one, entry_id=name) for one in ports),
            row,
            *((outcome,) if rng.random() < WITH_OUTCOME else ()),
        ),
    )
