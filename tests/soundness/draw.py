"""Possible truths of a case, drawn inside its doubts.

A missing value is drawn too: half the time the value the case was made from, half the time anything at all. So is the
form of a water end that nobody looked at.
Standard sizes follow design.md section 3: shaft with key and bore with keyway are pairs of one table where a pair
meets both readings.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

from tests.core.bolts_as_sold import washers_sold_mm
from tests.soundness.fields import (
    ABSENT_IS_ALLOWED,
    FLAGS,
    HEIGHT_DOUBT_MM,
    HEIGHTS,
    HOLE_DOUBT_MM,
    PATTERNS,
    SECTORS,
    SIZES,
    SOLD_WITH,
    WORDS,
    Json,
    look_up,
)
from tests.soundness.oracle import bolt_major_and_pitch_mm
from tests.soundness.realisation import Hole, Realisation
from tests.soundness.standard_sizes import Limits, Pair, diameters_meeting, pairs_meeting, widths_meeting

SEALS_MM = (14.0, 15.0)
NUT_PER_DIAMETER = (0.8, 1.0)  # hex nuts of ISO 4032 and ASME B18.2.2 are 0.8 to 1.0 diameters high


class Picker:
    """Draws one number inside limits, in the manner of one realisation: at the limits, in the middle, or anywhere."""

    def __init__(self, rng: random.Random) -> None:
        self.rng = rng
        self.manner = rng.choices(("corner", "middle", "low", "high", "any"), (30, 3, 5, 5, 57))[0]

    def inside(self, low: float, high: float) -> float:
        """Return a number from low to high."""
        if self.manner == "any":
            return low + (high - low) * self.rng.random()
        if self.manner == "middle":
            return (low + high) / 2
        return low if self.manner == "low" or (self.manner == "corner" and self.rng.random() < 0.5) else high


@dataclass(frozen=True)
class _Source:
    """What is shown under one path (several where two versions contradict) and what it was made from."""

    shown: tuple[Any, ...]  # JSON values
    made_from: tuple[Any, ...]  # JSON values


def _versions(node: Any) -> tuple[Any, ...]:  # JSON values
    """Return the versions of a value; habit (``typical``) decides nothing, so it counts as not shown."""
    if node is None or (isinstance(node, dict) and node.get("how") == "typical"):
        return ()
    if isinstance(node, dict) and "either" in node:
        return tuple(one for version in node["either"] for one in _versions(version))
    return (node,)


def _plain(node: Any) -> Any:  # a JSON value
    return node["value"] if isinstance(node, dict) else node


class Sampler:
    """Draws realisations of one case; ``made_from`` is the same case before any value was taken away."""

    def __init__(self, shown: Json, made_from: Json) -> None:
        paths = {field: path for field, (path, *_) in SIZES.items()} | {
            field: path for field, (path, _) in WORDS.items()
        }
        paths |= FLAGS | {f"{side}_holes": path for side, path in PATTERNS.items()}
        paths |= {f"{side}_heights": path for side, path in HEIGHTS.items()} | {"sectors": SECTORS}
        self._sources = {
            field: _Source(_versions(look_up(shown, path)), _versions(look_up(made_from, path)))
            for field, path in paths.items()
        }

    def draw(self, rng: random.Random) -> Realisation:
        """Return one possible truth."""
        return _Draw(self._sources, rng).realisation()


class _Draw:
    def __init__(self, sources: dict[str, _Source], rng: random.Random) -> None:
        self.sources, self.rng, self.pick = sources, rng, Picker(rng)
        self.wild = rng.random() < 0.5

    def known(self, field: str) -> Any:  # a JSON value
        source = self.sources[field]
        versions = source.shown or (() if self.wild else source.made_from)
        if not versions:
            return None
        return versions[0] if len(versions) == 1 else self.rng.choice(versions)

    def realisation(self) -> Realisation:
        real = Realisation(nut_per_diameter=self.pick.inside(*NUT_PER_DIAMETER))
        for field, (_, choices) in WORDS.items():
            word = _plain(self.known(field))
            if word is None and field not in ABSENT_IS_ALLOWED:
                word = self.rng.choice(choices)
            if word is not None:
                real.words[field] = self.looked_at(word) if field.endswith("_thread") else word
        real.washer_mm = self.pick.inside(*washers_sold_mm(bolt_major_and_pitch_mm(real.words["face_bolt"])[0]))
        for field in FLAGS:
            flag = _plain(self.known(field))
            real.flags[field] = self.rng.random() < 0.5 if flag is None else flag
        readings = {field: self.reading(field) for field in SIZES}
        real.sizes = {f: self.pick.inside(*limits) for f, limits in readings.items() if limits is not None}
        self.standards(real, readings)
        self.seals(real, readings)
        for side in PATTERNS:
            real.holes[side] = self.pattern(side)
            real.seats[side] = self.heights(side, real)
        sectors = _plain(self.known("sectors"))
        real.sectors = None if sectors is None else tuple((start, end) for start, end in sectors)
        return real

    def looked_at(self, thread: str) -> str:
        """Return the end with what it really seals by: any form it is sold with where nobody said one."""
        forms = SOLD_WITH.get(thread[0], ())
        return thread if " " in thread or thread == "M22x1.5" or not forms else f"{thread} {self.rng.choice(forms)}"

    def reading(self, field: str) -> Limits | None:
        node = self.known(field)
        _, doubt, wild_low, wild_high = SIZES[field]
        if node is None:
            if field in ABSENT_IS_ALLOWED:
                return None
            value = self.rng.uniform(wild_low, wild_high)
            return Limits(value, value)
        if isinstance(node, dict):
            value, doubt = node["value"], node.get("doubt", doubt)
        else:
            value = node
        return Limits(value - doubt, value + doubt)

    def standards(self, real: Realisation, readings: dict[str, Limits | None]) -> None:
        shaft = self.side(real, readings, "shaft_diameter_mm", "shaft_key_width_mm", bore=False)
        bore = self.side(real, readings, "bore_diameter_mm", "bore_keyway_width_mm", bore=True)
        if shaft is not None:
            real.key_height_mm = shaft.key_height_mm
        top, floor = readings["shaft_key_top_mm"], readings["bore_keyway_floor_mm"]
        if shaft is None or bore is None or shaft.table != bore.table or top is None or floor is None:
            return
        top_limits = shaft.side.overlap(top) if self.sources["shaft_key_top_mm"].shown else shaft.side
        floor_limits = bore.side.overlap(floor) if self.sources["bore_keyway_floor_mm"].shown else bore.side
        if top_limits is not None and floor_limits is not None:
            real.sizes["shaft_key_top_mm"] = self.pick.inside(*top_limits)
            real.sizes["bore_keyway_floor_mm"] = self.pick.inside(*floor_limits)

    def side(
        self, real: Realisation, readings: dict[str, Limits | None], diameter: str, width: str, *, bore: bool
    ) -> Pair | None:
        across, wide = readings[diameter], readings[width]
        assert across is not None
        assert wide is not None
        pairs = pairs_meeting(across, wide, bore)
        if pairs:
            pair = self.rng.choice(pairs)
            real.sizes[diameter] = self.pick.inside(*pair.diameter)
            real.sizes[width] = pair.width_mm
            return pair
        diameters, widths = diameters_meeting(across, bore), widths_meeting(wide, bore)
        if diameters:
            real.sizes[diameter] = self.pick.inside(*self.rng.choice(diameters))
        if widths:
            real.sizes[width] = self.rng.choice(widths)
        return None

    def seals(self, real: Realisation, readings: dict[str, Limits | None]) -> None:
        """A seal is 14 or 15 mm, whichever the reading meets; else as read."""
        for field in ("supply_seal_mm", "discharge_seal_mm", "inlet_seal_mm", "outlet_seal_mm"):
            reading = readings[field]
            meeting = [size for size in SEALS_MM if reading is not None and reading.low <= size <= reading.high]
            if meeting or not self.sources[field].shown:
                real.sizes[field] = self.rng.choice(meeting or SEALS_MM)

    def pattern(self, side: str) -> tuple[Hole, ...]:
        node = self.known(f"{side}_holes")
        doubt = HOLE_DOUBT_MM
        if node is None:
            count, radius = self.rng.choice((2, 3, 4)), self.rng.uniform(30, 90)
            return tuple(Hole(radius * self.rng.uniform(-1, 1), radius * self.rng.uniform(-1, 1)) for _ in range(count))
        if isinstance(node, dict):
            node, doubt = node["value"], node.get("doubt", doubt)
        inside = self.pick.inside
        return tuple(Hole(inside(x - doubt, x + doubt), inside(y - doubt, y + doubt), *slot) for x, y, *slot in node)

    def heights(self, side: str, real: Realisation) -> tuple[float, ...]:
        """Read against a straightedge on the highest seats: none stands above it."""
        node = self.known(f"{side}_heights")
        doubt = HEIGHT_DOUBT_MM
        if node is None:
            if real.words[{"machine": "face_seat_kind", "pump": "flange_seat_kind"}[side]] == "flat face":
                return ()
            return tuple(self.rng.choice((0.0, self.rng.uniform(-4, 0))) for _ in real.holes[side])
        if isinstance(node, dict):
            node, doubt = node["value"], node.get("doubt", doubt)
        top = max(node)
        if len(node) != len(real.holes[side]):
            return tuple(self.rng.uniform(-4, 0) for _ in real.holes[side])
        return tuple(self.pick.inside(v - top - doubt, min(0.0, v - top + doubt)) for v in node)


def draw(shown: Json, made_from: Json, count: int, seed: int) -> list[Realisation]:
    """Return ``count`` realisations of a case, repeatable by seed."""
    rng, sampler = random.Random(seed), Sampler(shown, made_from)
    return [sampler.draw(rng) for _ in range(count)]
