"""The rules of the plate once more, by another route: corners of all doubts, plain loops, the figures written out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import cached_property
from itertools import product

from tests.core.bolts_as_sold import lengths_sold_mm, washers_sold_mm
from tests.core.plan.pairs import BOLTS_MM, Pair
from xref_app.core.model.known import Dimension
from xref_app.core.model.words import HoleKind, Material, PilotKind
from xref_app.core.standards.bolts import standard_lengths_mm
from xref_app.core.standards.threads import bolt_major_mm

STOCK = [5 / 16 * 25.4, 8, 3 / 8 * 25.4, 10, 12, 12.7, 15, 5 / 8 * 25.4, 16, 3 / 4 * 25.4, 20]
# Head diameter, head height, clearance hole by nominal size, mm (ASME B18.3, B18.2.8; ISO 4762, ISO 273).
SCREWS = {
    6.35: (0.375 * 25.4, 6.35, 9 / 32 * 25.4),
    7.9375: (0.469 * 25.4, 7.9375, 11 / 32 * 25.4),
    9.525: (0.562 * 25.4, 9.525, 13 / 32 * 25.4),
    12.7: (0.75 * 25.4, 12.7, 9 / 16 * 25.4),
    6.0: (10.22, 6.0, 6.6),
    8.0: (13.27, 8.0, 9.0),
    10.0: (16.27, 10.0, 11.0),
}
SLACK = 1e-7


def ends(size: Dimension) -> tuple[float, float]:
    return size.value - size.doubt, size.value + size.doubt


def first_step(step: float, does: Callable[[float], bool]) -> float:
    """Return the first whole number of steps that does."""
    return next(round(index * step, 6) for index in range(1, 100000) if does(index * step))


class Naive:
    """What holds for one pair at one thickness; every rule returns True where it is kept whatever the doubts are."""

    def __init__(self, pair: Pair) -> None:
        self.pair = pair
        self.face, self.flange = pair.case.machine.face, pair.case.pump.flange
        self.thread = str(self.face.bolt.value) if self.face.bolt else ""
        self.nominal = BOLTS_MM[self.thread]
        self.through = self.face.hole_kind is not None and self.face.hole_kind.value is HoleKind.THROUGH
        self.ours = self.face.holes_xy_mm.holes if self.face.holes_xy_mm else ()
        self.theirs = self.flange.holes_xy_mm.holes if self.flange.holes_xy_mm else ()

    def too_few(self) -> bool:
        counts = sorted((len(self.ours), len(self.theirs)))
        return counts[0] in (1, 2) and counts[0] != counts[1]

    # In the plane.

    @staticmethod
    def away(doubt: float) -> float:
        signs = list(product((-1, 1), repeat=6))
        return max(
            math.hypot(a * doubt + b * 0.05 + c * 0.05, d * doubt + e * 0.05 + f * 0.05) for a, b, c, d, e, f in signs
        )

    def screws_pass(self) -> bool:
        assert self.face.holes_xy_mm
        free = (SCREWS[self.nominal][2] - self.nominal) / 2
        return free >= self.away(self.face.holes_xy_mm.doubt_mm) - SLACK

    @cached_property
    def pump_thread(self) -> str:
        assert self.flange.hole_mm
        assert self.flange.holes_xy_mm
        away = self.away(self.flange.holes_xy_mm.doubt_mm)
        for name in (self.thread, "M10x1.5", "3/8-16 UNC", "M8x1.25", "5/16-18 UNC", "M6x1"):
            if min((hole - BOLTS_MM[name]) / 2 for hole in ends(self.flange.hole_mm)) >= away - SLACK:
                return name
        return ""

    def seats_flat(self, side: str) -> bool:
        seats = (self.face if side == "engine" else self.flange).seat_heights_mm
        if seats is None:
            return True
        return all(
            abs(one - other) + seats.doubt_mm <= 0.15 + SLACK or one == other
            for one in seats.heights_mm
            for other in seats.heights_mm
        ) and (seats.doubt_mm <= 0.15)

    def bore(self) -> float:
        shaft = self.pair.case.machine.shaft
        assert shaft.diameter_mm
        assert shaft.key_top_mm
        reach = max(
            max(top - across / 2, across / 2) for top in ends(shaft.key_top_mm) for across in ends(shaft.diameter_mm)
        )
        return first_step(0.5, lambda bore: (bore - 0.05) / 2 - self.away(0.0) >= reach + 1 - SLACK)

    def boss(self, side: str) -> tuple[float, float, float] | None:
        """Return the diameter and depth of the recess for a side's boss, and the boss's greatest height."""
        of = self.face if side == "engine" else self.flange
        if not of.pilot_kind or of.pilot_kind.value is not PilotKind.BOSS or not of.pilot_mm or not of.pilot_depth_mm:
            return None
        widest, highest = ends(of.pilot_mm)[1], ends(of.pilot_depth_mm)[1]
        across = first_step(0.5, lambda size: (size - 0.05) / 2 - self.away(0.0) >= widest / 2 - SLACK)
        return across, first_step(0.1, lambda depth: depth - 0.05 >= highest + 0.5 - SLACK), highest

    def middles(self) -> Iterator[tuple[float, float, float, float, float]]:
        """Yield bore, engine recess (diameter, depth), pump recess (diameter, depth); 0 where there is none."""
        engine, pump = self.boss("engine"), self.boss("pump")
        for open_engine, open_pump in product((False, True), repeat=2):
            bore = max(
                self.bore(),
                engine[0] if engine and open_engine else 0,
                pump[0] if pump and open_pump else 0,
            )
            ours = engine[:2] if engine and engine[0] > bore else (0.0, 0.0)
            theirs = pump[:2] if pump and pump[0] > bore else (0.0, 0.0)
            yield bore, *ours, *theirs

    @cached_property
    def sunk(self) -> tuple[float, float]:
        """Return diameter and depth of the counterbore."""
        head, height, clear = SCREWS[self.nominal]
        limits = bolt_major_mm(self.thread)
        assert limits
        sideways = (clear + 0.2 - limits.low) / 2 + math.hypot(0.05, 0.05)
        return (
            first_step(0.5, lambda size: size / 2 >= head / 2 + sideways - SLACK),
            first_step(0.1, lambda deep: deep - 0.05 - height >= 0.2 - SLACK),
        )

    def web(self, middle: tuple[float, float, float, float, float], turn: int) -> float:
        """Return the least web as drawn at that turn; below 0 where two cavities meet."""
        bore, ours, _, theirs, _ = middle
        spin = complex(math.cos(math.radians(turn)), math.sin(math.radians(turn)))
        heads = [complex(hole.x_mm, hole.y_mm) for hole in self.ours]
        taps = [complex(hole.x_mm, hole.y_mm) * spin for hole in self.theirs]
        big, small = self.sunk[0] / 2, BOLTS_MM[self.pump_thread] / 2
        holes = [(at, big) for at in heads] + [(at, small) for at in taps]
        webs = [abs(a - b) - r - s for i, (a, r) in enumerate(holes) for b, s in holes[:i]]
        webs += [abs(at) - radius - max(bore, theirs) / 2 for at, radius in holes]
        webs += [abs(at) - big - ours / 2 for at in heads]
        if ours:
            webs += [max(abs(at) - small - ours / 2, ours / 2 - abs(at) - small) for at in taps]
        return min(webs)

    def best_web(self, middle: tuple[float, float, float, float, float]) -> float:
        return max(self.web(middle, turn) for turn in range(360))

    # Along the axis: every rule at every corner of the doubts.

    def broken(self, thickness: float, middle: tuple[float, float, float, float, float]) -> set[str]:
        """Return the rules that a plate of that thickness and middle may break."""
        _, ours, ours_deep, _theirs, theirs_deep = middle
        small = [-0.05, 0.05]
        plates = [thickness + off for off in small]
        deep = self.sunk[1]
        floors = [plate - deep - off for plate in plates for off in small]
        broken = set()
        if min(floors) < self.nominal / 2 - SLACK:
            broken.add("floor")
        high = [boss[2] for boss in (self.boss("engine"), self.boss("pump")) if boss]
        if high and sum(high) + 0.5 > min(plates) + SLACK:
            broken.add("bosses")
        taken = [one + 0.05 for one in (ours_deep, theirs_deep) if one]
        if taken and min(plates) - sum(taken) < 3 - SLACK:
            broken.add("recess")
        inside = any(math.hypot(hole.x_mm, hole.y_mm) < ours / 2 for hole in self.theirs)
        thread = min(plates) - (ours_deep + 0.05 if ours and inside else 0)
        name = self.pump_thread
        least = BOLTS_MM[name] * (1.5 if self.pair.material is Material.ALUMINIUM else 1)
        if thread < least - SLACK:
            broken.add("thread")
        if not any(self._screw_holds(sold, floors) for sold in self._lengths(self.thread)):
            broken.add("screw")
        assert self.flange.thickness_mm
        grips = [
            flange + washer for flange in ends(self.flange.thickness_mm) for washer in washers_sold_mm(BOLTS_MM[name])
        ]
        if not any(
            all(least - SLACK <= length - grip <= thread + SLACK for grip in grips for length in sold)
            for sold in self._lengths(name)
        ):
            broken.add("bolt")
        return broken

    @staticmethod
    def _lengths(thread: str) -> list[tuple[float, float]]:
        """Return the shortest and longest of each length sold."""
        is_metric = thread.startswith("M")
        return [
            lengths_sold_mm(length, is_metric=is_metric, nominal_mm=BOLTS_MM[thread])
            for length in standard_lengths_mm("metric" if is_metric else "inch")
        ]

    def _screw_holds(self, sold: tuple[float, float], floors: list[float]) -> bool:
        assert self.face.tapped_depth_mm
        hard = self.face.material is not None and self.face.material.value is not Material.ALUMINIUM
        least = self.nominal * (1 if hard else 1.5)
        most = ends(self.face.tapped_depth_mm)[0]
        return all(least - SLACK <= length - floor <= most + SLACK for floor in floors for length in sold)

    def in_window(self) -> list[float]:
        window = self.pair.window_mm
        return [size for size in STOCK if size - 0.05 >= window.low - SLACK and size + 0.05 <= window.high + SLACK]

    def good_middles(self) -> list[tuple[float, float, float, float, float]]:
        lost = 2 * math.hypot(0.05, 0.05) + 0.2
        return [middle for middle in self.middles() if self.best_web(middle) >= 3 + lost - SLACK]

    def thicknesses(self) -> list[float]:
        """Return every stock thickness that keeps every rule."""
        good = self.good_middles()
        return [size for size in self.in_window() if any(not self.broken(size, middle) for middle in good)]
