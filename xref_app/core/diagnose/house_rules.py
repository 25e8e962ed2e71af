"""Every limit of the diagnosis that no standard sets, each in one place with what kind of figure it is."""

from typing import Final

WEAK_SHARE: Final = 0.80
"""A pump that surely delivers less of its rated flow at speed is weak: rated flows are printed high. House rule."""

SOUND_SHARE: Final = 0.90
"""A pump that surely delivers this share of its rated flow at speed is sound. House rule."""

PRESSURE_COUNTS_SHARE: Final = 0.50
"""Flow read at surely less of the rated pressure clears no pump: a plate printed low hides the slip. House rule."""

SLIP_FALL_SHARE: Final = 0.08
"""Flow lost between an open end and the nozzle, above which it slips with pressure. House rule."""

NOZZLE_OVER_SHARE: Final = 1.10
"""A nozzle that surely acts this much larger than its number is worn or is another one. House rule."""

SOAP_NOZZLE_SHARE: Final = 2.2
"""A nozzle that surely acts this much larger is the low-pressure one, or there is none in. House rule."""

NOZZLE_UNDER_SHARE: Final = 0.88
"""A nozzle and wand that surely act this much smaller than the number are partly blocked. House rule."""

HOSE_LOSS_SHARE: Final = 0.12
"""Most of the pressure that a sound hose, gun and wand take between pump and nozzle. House rule."""

GUN_LOSS_SHARE: Final = 0.06
"""Most of the pressure that a sound gun and wand take between the gauge at the gun and the nozzle. House rule."""

PRESSURE_LOW_SHARE: Final = 0.85
"""A pressure surely below this share of the expected or the rated one is low. House rule."""

PLATE_NOZZLE_LOW_SHARE: Final = 0.75
"""A nozzle whose number makes less of the rated pressure is too large for the pump. House rule."""

PLATE_NOZZLE_HIGH_SHARE: Final = 1.35
"""A nozzle whose number makes more of the rated pressure is too small for the pump. House rule."""

SHUT_HIGH_SHARE: Final = 1.35
"""An unloader that lets the pressure go beyond this with the trigger shut is stuck or set too high. House rule."""

SPEED_SHARE: Final = 0.94
"""A shaft surely slower than this share of the rated speed is slow. House rule."""

LONG_BYPASS_MINUTES: Final = 2.0
"""Longer than this with the trigger shut is hard on seals. Common practice, no published source: 2 to 5 minutes."""

HOT_SUPPLY_C: Final = 60.0
"""Warmer supply cavitates in a cold-water pump. Common practice, no published source: 52 to 63 °C."""

COOL_SUPPLY_C: Final = 50.0
"""Supply surely no warmer than this is never at fault for its heat. House rule, below the 52 °C of common practice."""

SUPPLY_SHARE: Final = 1.2
"""Supply flow over what the pump takes. Common practice, no published source."""

LOW_PRESSURE_NOZZLE_BAR: Final = 30.0
"""A machine surely below this with all its flow runs through a low-pressure nozzle or none. House rule."""

# How much a sign says for or against a cause, in steps of about e to one: they rank, they prove nothing. House rule.
DECIDES: Final = 8.0
STRONG: Final = 3.0
FAIR: Final = 1.5
SLIGHT: Final = 0.5
