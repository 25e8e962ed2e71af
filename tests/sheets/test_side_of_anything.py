"""Whatever is known or not, and however odd the sizes, the side view is drawn, laid out and written without a fault."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sheets.test_layout import lettering
from tests.sheets.test_side_drawing import case
from xref_app.core.fit.coupled import goes_in_directly
from xref_app.core.model.known import Dimension, Fact, Hole, Pattern, Seats
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import HoleKind, PilotKind
from xref_app.sheets.face_drawing import face_drawing
from xref_app.sheets.laid_out import LaidOut
from xref_app.sheets.layout import laid_out
from xref_app.sheets.shapes import Line
from xref_app.sheets.side_drawing import side_drawing
from xref_app.sheets.side_lengths import Between
from xref_app.sheets.svg_file import svg_bytes

LENGTHS = st.floats(0, 150, allow_nan=False).map(lambda mm: Dimension(round(mm, 2), 0.1))
HOLES = st.lists(
    st.builds(Hole, st.floats(-90, 90), st.floats(-90, 90), st.sampled_from([0.0, 6.0]), st.floats(0, 360)), max_size=5
).map(lambda holes: Pattern(tuple(holes), 0.1))


def mangled(draw: st.DrawFn, value: Any) -> Any:  # a tree of dataclasses
    """Return ``value`` with every reading in it kept, left out or replaced by another that could be read."""
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {field.name: _other(draw, getattr(value, field.name), field.name) for field in fields(value)}
    return replace(value, **changed)


def _other(draw: st.DrawFn, value: Any, name: str) -> Any:  # as above
    if value is not None and not isinstance(value, Dimension | Fact | Pattern | Seats):
        return mangled(draw, value)
    others = {
        "pilot_kind": st.sampled_from(PilotKind).map(Fact),
        "hole_kind": st.sampled_from(HoleKind).map(Fact),
        "holes_xy_mm": HOLES,
        "seat_heights_mm": st.just(value),
    }
    other = others.get(name, LENGTHS if name.endswith("_mm") else st.just(value))
    return draw(st.one_of(st.just(value), st.none(), other))


@st.composite
def pairs(draw: st.DrawFn) -> tuple[Machine, Pump, Between]:
    example = case()
    between = Between(
        spacers_mm=tuple(draw(st.lists(st.floats(0.5, 12), max_size=2))),
        plate_mm=draw(st.none() | st.floats(6, 30)),
        bolt_length_mm=draw(st.none() | st.floats(5, 90)),
    )
    return mangled(draw, example.machine), mangled(draw, example.pump), between


@settings(max_examples=200, deadline=None)
@given(pairs())
def test_any_machine_and_any_pump_can_be_drawn(pair: tuple[Machine, Pump, Between]) -> None:
    machine, pump, between = pair
    for drawing in (side_drawing(machine, pump, between), face_drawing(machine, pump, None)):
        plain = laid_out(drawing, lettering())
        assert isinstance(plain, LaidOut)
        assert svg_bytes(drawing).endswith(b"</svg>")


@settings(max_examples=200, deadline=None)
@given(pairs())
def test_the_bottom_clearance_is_plain_arithmetic_and_marked_where_it_may_be_too_small(
    pair: tuple[Machine, Pump, Between],
) -> None:
    machine, pump, between = pair
    found = [one for one in side_drawing(machine, pump, between).sizes if "clearance" in str(one.text)]
    shaft, depth = machine.shaft.projection_mm, pump.bore.depth_mm
    if shaft is None or depth is None or goes_in_directly(machine, pump) is False:
        assert not found
        return
    parts = [*between.spacers_mm, *([] if between.plate_mm is None else [between.plate_mm])]
    middle = depth.value - shaft.value + sum(parts)
    # 0.1 mm on both readings, 0.05 mm on every part.
    low, high = middle - 0.2 - 0.05 * len(parts), middle + 0.2 + 0.05 * len(parts)
    told = [float(one) for one in re.findall(r"-?\d+\.\d", str(found[0].text))]
    assert told[0] == pytest.approx(low, abs=0.1001)
    assert told[0] <= low + 1e-6
    assert told[1] >= high - 1e-6
    if abs(low - 1.6) > 1e-6:
        assert (found[0].line is Line.MISS) == (low < 1.6)
