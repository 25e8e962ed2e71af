"""Oil filling, vent and envelope: seen at a glance once the pump is in hand."""

from __future__ import annotations

from xref_app.core.fit.finding import Finding, Quantity
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.show import span
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.words import Axis, Oil
from xref_app.core.quantity.range import SAME_MM
from xref_app.core.sentence import Sentence, marked

OIL = Question("oil", "oil filling and vent for this axis", "the pump's own vent", on_arrival=True)
ROOM = Question("room", "room for the pump's length", "measured envelope", on_arrival=True)

OIL_SUITS = marked("findings", "The pump is {oil}, which suits a {axis} shaft.")
OIL_WRONG = marked("findings", "The pump is {oil}; on a {axis} shaft it would run dry or leak.")
CHANGE_VENT = marked("findings", "A pump sealed, or vented for a {axis} shaft.")
LOOK_OIL = marked("findings", "Look when it is in your hands: oil plug and vent must stand upright on a {axis} shaft.")
LOOK_ROOM = marked("findings", "Look when it is in your hands: is there room for the pump's length?")
CHANGE_ROOM = marked("findings", "A pump no longer than {room} mm.")
ROOM_ENOUGH = marked("findings", "The pump is {length} mm long, {room} mm are free.")
ROOM_SHORT = marked("findings", "The pump is {length} mm long and only {room} mm are free.")

_AXIS_OF_VENT = {Oil.VENT_HORIZONTAL: Axis.HORIZONTAL, Oil.VENT_VERTICAL: Axis.VERTICAL}


def judge_oil(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:  # noqa: ARG001 - one signature for all checks
    """Judge whether the oil vent suits the way the shaft lies."""
    axis, oil = machine.shaft.axis, pump.oil
    readings = (("shaft_axis", axis), ("oil", oil))
    words = axis.value.value if axis else "horizontal or vertical"
    if axis is None or oil is None:
        missing = tuple(field for field, value in readings if value is None)
        return OIL.unsure(Sentence(LOOK_OIL, {"axis": words}), readings, missing)
    values = {"oil": oil.value.value, "axis": words}
    if _AXIS_OF_VENT.get(oil.value, axis.value) is axis.value:
        return OIL.passes(Sentence(OIL_SUITS, values), readings)
    return OIL.fails(Sentence(OIL_WRONG, values), readings, change=CHANGE_VENT)


def judge_room(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:  # noqa: ARG001 - one signature for all checks
    """Judge the pump's length against the length the machine leaves."""
    room, length = machine.room.length_mm, pump.length_mm
    readings = (("room_length_mm", room), ("pump_length_mm", length))
    if room is None or length is None:
        return ROOM.unsure(Sentence(LOOK_ROOM), readings, tuple(field for field, value in readings if value is None))
    spare = room.range - length.range
    shown = Answer(Quantity(length.range, "mm"), Quantity(room.range, "mm"), Quantity(spare, "mm"))
    values = {"length": span(length.range, 0), "room": span(room.range, 0)}
    if spare.low >= -SAME_MM:
        return ROOM.passes(Sentence(ROOM_ENOUGH, values), readings, shown)
    if spare.high < -SAME_MM:
        return ROOM.fails(Sentence(ROOM_SHORT, values), readings, shown, change=CHANGE_ROOM)
    return ROOM.unsure(Sentence(LOOK_ROOM), readings, ("room_length_mm", "pump_length_mm"), shown)
