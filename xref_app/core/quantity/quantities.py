"""One door to every kind of quantity."""

from __future__ import annotations

from typing import Protocol

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.flows import parse_flow_lpm
from xref_app.core.quantity.lengths import LENGTH
from xref_app.core.quantity.powers import parse_power_kw
from xref_app.core.quantity.pressures import parse_pressure_bar
from xref_app.core.quantity.speeds import parse_speed_rpm
from xref_app.core.quantity.temperatures import parse_temperature_c
from xref_app.core.quantity.times import parse_time_s
from xref_app.core.quantity.torques import parse_torque_nm
from xref_app.core.quantity.units import (
    BAR,
    CELSIUS,
    DEGREE,
    KW,
    LPM,
    MM,
    NEWTON_METRE,
    NO_UNIT,
    RPM,
    Kind,
    Unit,
)
from xref_app.core.quantity.volumes import parse_volume_l

ANGLE = Manner(Kind.ANGLE, "90 or 90°", below_zero=True)
COUNT = Manner(Kind.COUNT, "3.5")

# The units of the fields, as in their names (_mm, _bar ...), and the unit each stands for.
FIELD_UNITS = {
    "mm": MM,
    "bar": BAR,
    "lpm": LPM,
    "rpm": RPM,
    "kw": KW,
    "nm": NEWTON_METRE,
    "c": CELSIUS,
    "deg": DEGREE,
    "": NO_UNIT,
}


class Parser(Protocol):
    """What reads the text of one kind of quantity."""

    def __call__(self, text: str, *, default_unit: Unit | None = None) -> Amount:
        """Return the amount, or raise MeasureError."""
        ...


def parse_quantity(text: str, kind: Kind, *, default_unit: Unit | None = None) -> Amount:
    """Return the amount of ``kind`` that ``text`` names, exactly, in the canonical unit of that kind.

    Args:
        text: As typed.
        kind: What is measured.
        default_unit: The unit of a bare number; None refuses one, except that a plain number never has a unit.

    Raises:
        MeasureError: the text is no such quantity, or could mean two.
    """
    return _PARSERS[kind](text, default_unit=NO_UNIT if kind is Kind.COUNT else default_unit)


def _by(manner: Manner) -> Parser:
    def parse(text: str, *, default_unit: Unit | None = None) -> Amount:
        return parse_amount(text, manner, default_unit=default_unit)

    return parse


_PARSERS: dict[Kind, Parser] = {
    Kind.LENGTH: _by(LENGTH),
    Kind.PRESSURE: parse_pressure_bar,
    Kind.FLOW: parse_flow_lpm,
    Kind.POWER: parse_power_kw,
    Kind.SPEED: parse_speed_rpm,
    Kind.TEMPERATURE: parse_temperature_c,
    Kind.TORQUE: parse_torque_nm,
    Kind.ANGLE: _by(ANGLE),
    Kind.VOLUME: parse_volume_l,
    Kind.TIME: parse_time_s,
    Kind.COUNT: _by(COUNT),
}
