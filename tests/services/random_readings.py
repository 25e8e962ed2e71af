"""Readings such as somebody takes on the bench, made at random: of one unit or of several, near and far off."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace

from xref_app.core.fields.fields import all_fields
from xref_app.core.model.known import Dimension, Fact, Hole, How, Known, Pattern
from xref_app.services.machine_side import Values


def random_readings(known: Mapping[str, Values], rng: random.Random, most: int) -> dict[str, Known]:
    """Return up to ``most`` readings: each of what some entry of ``known`` says, read again or off by a little.

    Three in four are of one and the same entry, so that something agrees.
    """
    entries = list(known.values())
    truth = rng.choice(entries)
    found: dict[str, Known] = {}
    for _ in range(rng.randint(0, most)):
        values = truth if rng.random() < 0.75 else rng.choice(entries)
        if values:
            field = rng.choice(list(values))
            found[field] = again(rng.choice(values[field]), rng, coarse=rng.random() < 0.5)
    if rng.random() < 0.1:
        found[rng.choice(list(all_fields()))] = Fact("what nobody says")
    return found


def again(known: Known, rng: random.Random, *, coarse: bool) -> Known:
    """Return what ``known`` is read as once more: in any way, coarser and off by up to three times its doubt."""
    how = rng.choice([How.MEASURED, How.MEASURED, How.PLATE, How.CLAIMED, How.TYPICAL])
    if not coarse:
        return replace(known, how=how)
    if isinstance(known, Dimension):
        doubt = max(known.doubt, 0.02) * rng.choice((0.5, 1.0, 3.0))
        return Dimension(known.value + rng.uniform(-3, 3) * doubt, doubt, how)
    if isinstance(known, Pattern):
        return Pattern(_any_order(known.holes, rng), known.doubt_mm + rng.random(), how)
    return replace(known, how=how)


def _any_order(holes: Sequence[Hole], rng: random.Random) -> tuple[Hole, ...]:
    return tuple(rng.sample(list(holes), len(holes)))
