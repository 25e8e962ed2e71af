"""A catalog of many invented pumps: faces, ports and ratings of the sample's pumps, put together anew and varied.

Makers build a few faces in many ratings; so do these: about one face in fifty pumps, some values of it missing.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from xref_app.core.fields.fields import field_for
from xref_app.core.model.catalog import Entry, Number, Observation, PortRow
from xref_app.services.catalog import Catalog

FACES_AND_DRIVES: Final = ("bore_", "flange_", "pump_length")
PUMPS_PER_FACE: Final = 50
MISSING: Final = 0.01


def with_many_pumps(sample: Catalog, pumps: int, seed: int, *, pumps_per_face: int = PUMPS_PER_FACE) -> Catalog:
    """Return ``sample`` with ``pumps`` made-up pumps in place of its own, the same for the same seed."""
    rng = random.Random(seed)
    own = [entry.entry_id for entry in sample.pumps()]
    faces = [list(_varied(sample, rng.choice(own), rng)) for _ in range(max(1, pumps // pumps_per_face))]
    ratings = {pump: [one for one in sample.observations.get(pump, ()) if not _is_face(one)] for pump in own}
    entries = {key: entry for key, entry in sample.entries.items() if entry.kind != "pump"}
    numbers = {key: rows for key, rows in sample.numbers.items() if key in entries}
    observations = {key: rows for key, rows in sample.observations.items() if key in entries}
    ports: dict[str, tuple[PortRow, ...]] = {key: rows for key, rows in sample.ports.items() if key in entries}
    for place in range(pumps):
        name, watered = f"B-{place:07}", rng.choice(own)
        entries[name] = Entry(name, "pump", "Lowmarsh", f"made up {place}")
        numbers[name] = (Number(name, f"LX{place:07}", "maker", "sheet"),)
        rows = [*rng.choice(faces), *ratings[rng.choice(own)]]
        observations[name] = tuple(
            replace(one, observation_id=place * 100 + at, entry_id=name) for at, one in enumerate(rows)
        )
        ports[name] = tuple(replace(one, entry_id=name) for one in sample.ports.get(watered, ()))
    return replace(sample, entries=entries, numbers=numbers, observations=observations, ports=ports)


def all_different(catalog: Catalog, seed: int) -> Catalog:
    """Return the catalog with every size of an entry off by its own trifle, as if all had been measured."""
    rng = random.Random(seed)

    def off(row: Observation) -> Observation:
        return row if row.value is None else replace(row, value=row.value * rng.gauss(1, 0.01))

    observations = {entry_id: tuple(off(row) for row in rows) for entry_id, rows in catalog.observations.items()}
    return replace(catalog, observations=observations)


def _varied(sample: Catalog, pump: str, rng: random.Random) -> Iterator[Observation]:
    """Yield what is known of a pump's bore and flange, lengths a little longer or shorter."""
    for one in sample.observations.get(pump, ()):
        if not _is_face(one) or rng.random() < MISSING:
            continue
        is_length = one.value is not None and one.field in {"bore_depth_mm", "flange_thickness_mm"}
        yield replace(one, value=one.value + rng.choice((-2.0, 0.0, 0.0, 1.5))) if is_length and one.value else one


def _is_face(row: Observation) -> bool:
    return field_for(row.field).field_id.startswith(FACES_AND_DRIVES)
