"""The parts of the sample: every size, rating and cost is invented but of the kind that is sold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import count

from tests.sample.chain_fittings import chain_fittings
from tests.sample.fittings import fittings
from tests.sample.said import canonical
from xref_app.core.model.catalog import PartRow

Makes = Iterator[PartRow]


def all_parts() -> tuple[PartRow, ...]:
    """Return every part with its running number."""
    kinds: Sequence[Makes] = (
        _spacers(),
        _shims(),
        _bolts(),
        _keys(),
        _stepped_keys(),
        _sleeves(),
        _couplings(),
        _valves_and_screens(),
        _nozzles(),
        fittings(),
        chain_fittings(),
    )
    numbers = count(1)
    return tuple(replace(part, part_id=f"T-{next(numbers):03d}") for parts in kinds for part in parts)


def _spacers() -> Makes:
    for hole, inside_mm in (("5/16", 8.5), ("3/8", 10.2)):
        for said in ("0.8 mm", "1.6 mm", "2 mm", "2.4 mm", "3.2 mm", "4 mm", "4.8 mm", "6.4 mm", "8 mm", "9.5 mm"):
            thickness = canonical(said)
            name = f"Spacer {said} for {hole} in"
            yield PartRow("", "spacer", name, thickness, inside_mm + 8, inside_mm, cost=round(0.3 + thickness / 10, 2))
    for hole, inside_mm in (("M6", 6.6), ("M8", 8.6)):
        for said in ("1 mm", "1.5 mm", "3 mm", "5 mm"):
            thickness = canonical(said)
            name = f"Spacer {said} for {hole}"
            yield PartRow("", "spacer", name, thickness, inside_mm + 7, inside_mm, cost=round(0.25 + thickness / 10, 2))


def _shims() -> Makes:
    for hole, inside_mm in (("5/16", 8.5), ("3/8", 10.2)):
        for thickness in (0.1, 0.2, 0.3, 0.5):
            yield PartRow(
                "", "shim", f"Shim {thickness} mm for {hole} in", thickness, inside_mm + 8, inside_mm, cost=0.15
            )


def _bolts() -> Makes:
    inch = ("3/4 in", "1 in", "1 1/4 in", "1 1/2 in", "1 3/4 in", "2 in")
    metric = ("20 mm", "25 mm", "30 mm", "35 mm", "40 mm", "50 mm")
    threads = (
        ("5/16-18 UNC", inch),
        ("5/16-24 UNF", inch),
        ("3/8-16 UNC", inch),
        ("M6x1", metric[:4]),
        ("M8x1.25", metric),
    )
    for thread, lengths in threads:
        for said in lengths:
            length = canonical(said)
            name = f"Bolt {thread} x {said}"
            yield PartRow("", "bolt", name, length_mm=length, thread=thread, cost=round(0.2 + length / 100, 2))


def _keys() -> Makes:
    for width, lengths in (("3/16 in", ("1 in", "1 1/2 in", "2 in")), ("1/4 in", ("1 1/2 in", "2 in"))):
        for said in lengths:
            side = canonical(width)
            name = f"Key {width} square x {said}"
            yield PartRow("", "key", name, width_mm=side, height_mm=side, length_mm=canonical(said), cost=1.1)
    for width_mm, height_mm, length_mm in (
        (5.0, 5.0, 32.0),
        (6.0, 6.0, 32.0),
        (6.0, 6.0, 40.0),
        (8.0, 7.0, 40.0),
        (8.0, 7.0, 50.0),
    ):
        name = f"Key {width_mm:g} x {height_mm:g} x {length_mm:g} mm"
        yield PartRow("", "key", name, width_mm=width_mm, height_mm=height_mm, length_mm=length_mm, cost=0.9)


def _stepped_keys() -> Makes:
    for shaft, hub, height, hub_height, length in (
        ("3/16 in", "1/4 in", "4.76 mm", "2.4 mm", "1 1/2 in"),
        ("3/16 in", "1/4 in", "8 mm", "5.5 mm", "1 1/2 in"),
        ("3/16 in", "6 mm", "4.76 mm", "2.4 mm", "1 1/2 in"),
        ("5 mm", "3/16 in", "5 mm", "2.3 mm", "32 mm"),
        ("6 mm", "3/16 in", "6 mm", "2.6 mm", "32 mm"),
    ):
        yield PartRow(
            "",
            "stepped key",
            f"Stepped key {shaft} x {height} in the shaft, {hub} in the pump",
            width_mm=canonical(shaft),
            height_mm=canonical(height),
            hub_width_mm=canonical(hub),
            hub_height_mm=canonical(hub_height),
            length_mm=canonical(length),
            cost=6.8,
        )


def _sleeves() -> Makes:
    for inside, outside, length in (
        ("3/4 in", "1 in", "2 in"),
        ("3/4 in", "7/8 in", "2 in"),
        ("7/8 in", "1 in", "2 1/2 in"),
        ("19 mm", "24 mm", "40 mm"),
    ):
        name = f"Sleeve {inside} to {outside}"
        inside_mm, outside_mm, length_mm = canonical(inside), canonical(outside), canonical(length)
        yield PartRow("", "sleeve", name, inside_mm=inside_mm, outside_mm=outside_mm, length_mm=length_mm, cost=14.5)


def _couplings() -> Makes:
    for a, b, torque in (
        ("24 mm", "24 mm", 40.0),
        ("1 in", "24 mm", 60.0),
        ("3/4 in", "24 mm", 35.0),
        ("7/8 in", "24 mm", 35.0),
        ("28 mm", "24 mm", 60.0),
    ):
        name = f"Elastic coupling {a} to {b}"
        bores = canonical(a), canonical(b)
        yield PartRow(
            "", "coupling", name, length_mm=66.0, bore_a_mm=bores[0], bore_b_mm=bores[1], torque_nm=torque, cost=38.0
        )


def _valves_and_screens() -> Makes:
    for thread, rating in (
        ("3/8-18 NPT", 250.0),
        ("3/8-18 NPT", 310.0),
        ("G3/8", 200.0),
        ("G3/8", 280.0),
        ("M22x1.5", 250.0),
    ):
        name = f"Unloader {thread}, {rating:g} bar"
        yield PartRow("", "unloader", name, thread=thread, rating_bar=rating, max_c=60.0, cost=42.0 + rating / 20)
    for thread, opens_c in (("1/8-27 NPT", 60.0), ("1/4-18 NPT", 60.0), ("G1/4", 63.0), ("1/2-14 NPT", 63.0)):
        name = f"Thermal relief valve {thread}"
        yield PartRow("", "thermal relief valve", name, thread=thread, rating_bar=12.0, max_c=opens_c, cost=9.5)
    for thread in ("3/8-18 NPT", "G3/8", "M22x1.5"):
        name = f"Chemical inlet {thread}"
        yield PartRow("", "chemical inlet", name, thread=thread, rating_bar=280.0, max_c=60.0, cost=17.0)
    for thread in ("3/4-11.5 NH", "G3/4", "1/2-14 NPT"):
        yield PartRow(
            "", "inlet screen", f"Inlet screen {thread}", thread=thread, rating_bar=12.0, max_c=80.0, cost=4.2
        )


def _nozzles() -> Makes:
    for number in (2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.5, 7, 8):
        yield PartRow("", "nozzle", f"Nozzle 25 degrees {number:g}", rating_bar=350.0, number=float(number), cost=3.9)
