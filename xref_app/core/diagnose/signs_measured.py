"""What the measurements say for and against each cause."""

from __future__ import annotations

from typing import Final

from xref_app.core.diagnose.house_rules import (
    DECIDES,
    FAIR,
    HOT_SUPPLY_C,
    LOW_PRESSURE_NOZZLE_BAR,
    NOZZLE_OVER_SHARE,
    NOZZLE_UNDER_SHARE,
    PLATE_NOZZLE_HIGH_SHARE,
    PLATE_NOZZLE_LOW_SHARE,
    PRESSURE_LOW_SHARE,
    SHUT_HIGH_SHARE,
    SLIGHT,
    SLIP_FALL_SHARE,
    SOAP_NOZZLE_SHARE,
    SOUND_SHARE,
    SPEED_SHARE,
    STRONG,
    SUPPLY_SHARE,
    WEAK_SHARE,
)
from xref_app.core.diagnose.signs import (
    ARITHMETIC,
    PRACTICE,
    Facts,
    Sign,
    surely_above,
    surely_at_least,
    surely_at_most,
    surely_below,
)
from xref_app.core.diagnose.words import Cause
from xref_app.core.sentence import marked

FLOW_LOW = marked("diagnose", "It delivers {figure} % of what the plate promises at this speed.")
FLOW_RIGHT = marked("diagnose", "It delivers {figure} % of what the plate promises at this speed: all there is.")
PLATE_LOW = marked("diagnose", "It delivers {figure} % of the plate's flow; the speed is not known.")
PLATE_RIGHT = marked("diagnose", "It delivers {figure} % of the plate's flow; the speed is not known.")
LARGE = marked("diagnose", "The nozzle acts as {figure} % of its number.")
FAR_TOO_LARGE = marked("diagnose", "The nozzle acts as {figure} % of its number: no jet wears so far.")
SMALL = marked("diagnose", "Nozzle, wand and hose together act as only {figure} % of the nozzle's number.")
AS_FITTED = marked("diagnose", "Flow and pressure go with the nozzle that is in: it acts as {figure} % of its number.")
VERY_LARGE = marked("diagnose", "The flow is there, and hardly any pressure.")
PRESSURE_LOW = marked("diagnose", "It sprays with {figure} % of the rated pressure.")
PRESSURE_RIGHT = marked("diagnose", "It sprays with {figure} % of the rated pressure.")
TOO_LARGE = marked("diagnose", "The fitted number makes only {figure} % of the rated pressure of the plate's flow.")
TOO_SMALL = marked("diagnose", "The fitted number makes {figure} % of the rated pressure of the plate's flow.")
SHUT_HIGH = marked("diagnose", "With the trigger shut the pressure goes up to {figure} % of the rated one.")
SHUT_LOW = marked("diagnose", "With the trigger shut the pressure reaches only {figure} % of the rated one.")
SHUT_RIGHT = marked("diagnose", "With the trigger shut the pressure reaches {figure} % of the rated one.")
SUPPLY_SHORT = marked("diagnose", "The supply gives {figure} % of what the pump takes.")
SUPPLY_AMPLE = marked("diagnose", "The supply gives {figure} % of what the pump takes: enough.")
SUPPLY_HOT = marked("diagnose", "The water supplied is too hot for a cold-water pump.")
SLOW = marked("diagnose", "The pump's shaft turns at {figure} % of the rated speed.")
SPEED_RIGHT = marked("diagnose", "The pump's shaft turns at {figure} % of the rated speed.")
FALLS = marked("diagnose", "Under pressure it loses {figure} % of the flow that it has with the nozzle off.")
STAYS = marked("diagnose", "Under pressure it keeps its flow: it loses {figure} % of what it has with the nozzle off.")

LOW_FLOW_CAUSES: Final = (Cause.SUPPLY_STARVED, Cause.SCREEN_CLOGGED, Cause.AIR_LEAK, Cause.UNLOADER)
_INLET: Final = (Cause.SUPPLY_STARVED, Cause.SCREEN_CLOGGED, Cause.AIR_LEAK)
_LOSES_FLOW: Final = {
    **dict.fromkeys((*LOW_FLOW_CAUSES, Cause.VALVES, Cause.SEALS, Cause.RELIEF_OPEN), FAIR),
    **dict.fromkeys((Cause.WAND_OR_HOSE, Cause.NOZZLE_WRONG, Cause.FROZEN_HEAD), SLIGHT),
    Cause.NOZZLE_WORN: -STRONG,
    Cause.INJECTOR: -FAIR,
    Cause.HEALTHY: -DECIDES,
}
_KEEPS_FLOW: Final = {
    **dict.fromkeys((*LOW_FLOW_CAUSES, Cause.VALVES, Cause.SEALS, Cause.RELIEF_OPEN, Cause.FROZEN_HEAD), -STRONG),
    Cause.WAND_OR_HOSE: -FAIR,
    **dict.fromkeys((Cause.NOZZLE_WORN, Cause.NOZZLE_WRONG, Cause.INJECTOR, Cause.HEALTHY), FAIR),
}


def _too_large(facts: Facts) -> bool:
    return surely_above(facts.workings.nozzle_share, NOZZLE_OVER_SHARE)


def _as_fitted(facts: Facts) -> bool:
    share = facts.workings.nozzle_share
    return (
        share is not None
        and share.value.low > NOZZLE_UNDER_SHARE - _LOOSE
        and share.value.high < NOZZLE_OVER_SHARE + _LOOSE
    )


def _all_flow_no_pressure(facts: Facts) -> bool:
    gauge = facts.evidence.gauge_bar
    share = facts.workings.held_share or facts.workings.plate_share
    return gauge is not None and gauge.surely_below(LOW_PRESSURE_NOZZLE_BAR) and surely_at_least(share, WEAK_SHARE)


def _hot(facts: Facts) -> bool:
    supply = facts.evidence.supply_c
    return supply is not None and supply.surely_above(HOT_SUPPLY_C)


# Hose and gun leave the acting number open by 6 %: so much wider is what still counts as the fitted one. House rule.
_LOOSE: Final = 0.06

MEASURED_SIGNS: Final = (
    Sign(
        FLOW_LOW,
        lambda facts: surely_below(facts.workings.held_share, WEAK_SHARE),
        {**_LOSES_FLOW, Cause.ENGINE_SLOW: -STRONG},
        lambda workings: workings.held_share,
        ARITHMETIC,
    ),
    Sign(
        FLOW_RIGHT,
        lambda facts: surely_at_least(facts.workings.held_share, SOUND_SHARE),
        _KEEPS_FLOW,
        lambda workings: workings.held_share,
        ARITHMETIC,
    ),
    Sign(
        PLATE_LOW,
        lambda facts: surely_below(facts.workings.plate_share, WEAK_SHARE),
        {**_LOSES_FLOW, Cause.ENGINE_SLOW: FAIR},
        lambda workings: workings.plate_share,
        ARITHMETIC,
    ),
    Sign(
        PLATE_RIGHT,
        lambda facts: surely_at_least(facts.workings.plate_share, SOUND_SHARE),
        {**_KEEPS_FLOW, Cause.ENGINE_SLOW: -STRONG},
        lambda workings: workings.plate_share,
        ARITHMETIC,
    ),
    Sign(
        LARGE,
        _too_large,
        {Cause.NOZZLE_WORN: STRONG, Cause.NOZZLE_WRONG: STRONG - SLIGHT, Cause.INJECTOR: FAIR, Cause.HEALTHY: -DECIDES},
        lambda workings: workings.nozzle_share,
        ARITHMETIC,
    ),
    Sign(
        FAR_TOO_LARGE,
        lambda facts: surely_above(facts.workings.nozzle_share, SOAP_NOZZLE_SHARE),
        {Cause.INJECTOR: STRONG, Cause.NOZZLE_WRONG: SLIGHT, Cause.NOZZLE_WORN: -FAIR},
        lambda workings: workings.nozzle_share,
        ARITHMETIC,
    ),
    Sign(
        SMALL,
        lambda facts: surely_below(facts.workings.nozzle_share, NOZZLE_UNDER_SHARE),
        {
            Cause.NOZZLE_WRONG: STRONG,
            Cause.WAND_OR_HOSE: STRONG,
            Cause.NOZZLE_WORN: -STRONG,
            Cause.INJECTOR: -STRONG,
            Cause.UNLOADER: -FAIR,
            Cause.HEALTHY: -DECIDES,
        },
        lambda workings: workings.nozzle_share,
        ARITHMETIC,
    ),
    Sign(
        AS_FITTED,
        _as_fitted,
        {Cause.NOZZLE_WORN: -STRONG, Cause.NOZZLE_WRONG: -FAIR, Cause.INJECTOR: -STRONG, Cause.HEALTHY: SLIGHT},
        lambda workings: workings.nozzle_share,
        ARITHMETIC,
    ),
    Sign(
        VERY_LARGE,
        _all_flow_no_pressure,
        {Cause.INJECTOR: STRONG, Cause.NOZZLE_WRONG: FAIR, Cause.NOZZLE_WORN: -FAIR},
        source=ARITHMETIC,
    ),
    Sign(
        PRESSURE_LOW,
        lambda facts: surely_below(facts.workings.pressure_share, PRESSURE_LOW_SHARE),
        {Cause.HEALTHY: -STRONG},
        lambda workings: workings.pressure_share,
        ARITHMETIC,
    ),
    Sign(
        PRESSURE_RIGHT,
        lambda facts: surely_at_least(facts.workings.pressure_share, PRESSURE_LOW_SHARE),
        {
            **dict.fromkeys((*_INLET, Cause.VALVES, Cause.SEALS, Cause.INJECTOR), -FAIR),
            **dict.fromkeys((Cause.NOZZLE_WORN, Cause.ENGINE_SLOW, Cause.RELIEF_OPEN), -FAIR),
            **dict.fromkeys((Cause.NOZZLE_WRONG, Cause.WAND_OR_HOSE), SLIGHT),
            Cause.HEALTHY: FAIR,
        },
        lambda workings: workings.pressure_share,
        ARITHMETIC,
    ),
    Sign(
        TOO_LARGE,
        lambda facts: surely_below(facts.workings.plate_nozzle_share, PLATE_NOZZLE_LOW_SHARE),
        {Cause.NOZZLE_WRONG: STRONG + FAIR, Cause.HEALTHY: -STRONG},
        lambda workings: workings.plate_nozzle_share,
        ARITHMETIC,
    ),
    Sign(
        TOO_SMALL,
        lambda facts: surely_above(facts.workings.plate_nozzle_share, PLATE_NOZZLE_HIGH_SHARE),
        {Cause.NOZZLE_WRONG: STRONG + FAIR, Cause.HEALTHY: -STRONG},
        lambda workings: workings.plate_nozzle_share,
        ARITHMETIC,
    ),
    Sign(
        SHUT_HIGH,
        lambda facts: surely_above(facts.workings.shut_share, SHUT_HIGH_SHARE),
        {Cause.UNLOADER: DECIDES, Cause.HEALTHY: -DECIDES},
        lambda workings: workings.shut_share,
        ARITHMETIC,
    ),
    Sign(
        SHUT_LOW,
        lambda facts: surely_below(facts.workings.shut_share, PRESSURE_LOW_SHARE),
        {
            Cause.UNLOADER: FAIR,
            Cause.FROZEN_HEAD: SLIGHT,
            Cause.NOZZLE_WORN: -FAIR,
            Cause.NOZZLE_WRONG: -FAIR,
            Cause.HEALTHY: -FAIR,
        },
        lambda workings: workings.shut_share,
        ARITHMETIC,
    ),
    Sign(
        SHUT_RIGHT,
        lambda facts: surely_at_least(facts.workings.shut_share, PRESSURE_LOW_SHARE),
        {Cause.UNLOADER: -SLIGHT, Cause.FROZEN_HEAD: -SLIGHT, Cause.NOZZLE_WORN: SLIGHT, Cause.NOZZLE_WRONG: SLIGHT},
        lambda workings: workings.shut_share,
        ARITHMETIC,
    ),
    Sign(
        SUPPLY_SHORT,
        lambda facts: surely_below(facts.workings.supply_share, 1.0),
        {Cause.SUPPLY_STARVED: STRONG + FAIR, Cause.HEALTHY: -STRONG},
        lambda workings: workings.supply_share,
        PRACTICE,
    ),
    Sign(
        SUPPLY_AMPLE,
        lambda facts: surely_at_least(facts.workings.supply_share, SUPPLY_SHARE),
        {Cause.SUPPLY_STARVED: -STRONG - FAIR, Cause.HEALTHY: SLIGHT},
        lambda workings: workings.supply_share,
        PRACTICE,
    ),
    Sign(SUPPLY_HOT, _hot, {Cause.SUPPLY_STARVED: FAIR, Cause.RELIEF_OPEN: FAIR, Cause.SEALS: SLIGHT}),
    Sign(
        SLOW,
        lambda facts: surely_below(facts.workings.speed_share, SPEED_SHARE),
        {Cause.ENGINE_SLOW: STRONG + FAIR, Cause.HEALTHY: -STRONG},
        lambda workings: workings.speed_share,
        ARITHMETIC,
    ),
    Sign(
        SPEED_RIGHT,
        lambda facts: surely_at_least(facts.workings.speed_share, SPEED_SHARE),
        {Cause.ENGINE_SLOW: -STRONG - FAIR, Cause.HEALTHY: SLIGHT},
        lambda workings: workings.speed_share,
        ARITHMETIC,
    ),
    Sign(
        FALLS,
        lambda facts: surely_above(facts.workings.fall_share, SLIP_FALL_SHARE),
        {
            **dict.fromkeys((Cause.SEALS, Cause.UNLOADER, Cause.RELIEF_OPEN), FAIR),
            **dict.fromkeys((Cause.WAND_OR_HOSE, Cause.NOZZLE_WRONG), SLIGHT),
            **dict.fromkeys((*_INLET, Cause.ENGINE_SLOW, Cause.VALVES), -FAIR),
            Cause.HEALTHY: -FAIR,
        },
        lambda workings: workings.fall_share,
        ARITHMETIC,
    ),
    Sign(
        STAYS,
        lambda facts: surely_at_most(facts.workings.fall_share, SLIP_FALL_SHARE),
        {
            **dict.fromkeys((Cause.SEALS, Cause.UNLOADER, Cause.RELIEF_OPEN, Cause.WAND_OR_HOSE), -FAIR),
            **dict.fromkeys((*_INLET, Cause.VALVES), SLIGHT),
        },
        lambda workings: workings.fall_share,
        ARITHMETIC,
    ),
)
