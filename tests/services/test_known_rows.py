"""Rows in the same words understood once give what each entry's own rows give."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

import pytest

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.tiny import reading
from xref_app.core.model.catalog import PortRow
from xref_app.core.model.known import Fact
from xref_app.services.sayings import known_together
from xref_app.services.size_search import bench_ids

SAMPLE = catalog_of(sample_rows())
Row = TypeVar("Row")


@pytest.mark.parametrize("kind", ["pump", "driver", "machine"])
def test_every_entry_of_the_sample_is_understood_as_by_itself(kind: str) -> None:
    for _ in range(2):
        for entry_id, entry in SAMPLE.entries.items():
            if entry.kind == kind:
                together = bench_ids(SAMPLE, entry_id)
                assert known_together(SAMPLE, *together) == SAMPLE.known(*together)


def test_rows_shuffled_between_entries_are_understood_as_by_themselves() -> None:
    """More contradictions, doublings and two ranks in one field than any real entry has."""
    rng = random.Random(12)
    observations, ports = shuffled(SAMPLE.observations, rng), shuffled(SAMPLE.ports, rng)
    catalog = replace(SAMPLE, observations=observations, ports=ports)
    several = 0
    for entry_id in observations:
        known = catalog.known(entry_id)
        assert known_together(catalog, entry_id) == known
        several += any(len(versions) > 1 for versions in known.values())
    assert several


def shuffled(rows: Mapping[str, tuple[Row, ...]], rng: random.Random) -> dict[str, tuple[Row, ...]]:
    """Return the same rows, dealt out again; some of them twice."""
    flat = [row for of_entry in rows.values() for row in of_entry]
    return {entry_id: tuple(rng.choices(flat, k=len(of_entry) + 9)) for entry_id, of_entry in rows.items()}


def test_a_port_and_an_observation_of_one_field_stand_side_by_side() -> None:
    port = PortRow("P9", "outlet", "G3/8", "male", how="measured")
    catalog = replace(SAMPLE, observations={"P9": (reading("P9", "outlet_thread", "G1/2"),)}, ports={"P9": (port,)})
    known = known_together(catalog, "P9")
    assert known["outlet_thread"] == (Fact("G1/2"), Fact("G3/8"))
    assert known == catalog.known("P9")


def test_what_is_known_alike_is_one_object() -> None:
    catalog = replace(SAMPLE, observations={one: (reading(one, "bore_depth_mm", 61.0),) for one in "AB"}, ports={})
    assert known_together(catalog, "A")["bore_depth_mm"] is known_together(catalog, "B")["bore_depth_mm"]
