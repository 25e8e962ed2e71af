"""What looking, listening, trying and asking say for and against each cause."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from xref_app.core.diagnose.house_rules import DECIDES, FAIR, LONG_BYPASS_MINUTES, SLIGHT, STRONG
from xref_app.core.diagnose.signs import Facts, Sign
from xref_app.core.diagnose.words import (
    Cause,
    FlowBack,
    Leak,
    Noise,
    Nozzle,
    Oil,
    Part,
    Relief,
    Screen,
    SuctionAir,
    Symptom,
)
from xref_app.core.sentence import marked

NO_PRESSURE = marked("diagnose", "There is no pressure.")
LOW_PRESSURE = marked("diagnose", "The pressure is low.")
NO_FLOW = marked("diagnose", "There is no flow.")
PULSES = marked("diagnose", "It pulses or surges.")
DROPS_LATER = marked("diagnose", "The pressure drops after a while.")
STARTS_HARD = marked("diagnose", "It starts hard or stalls.")
LEAKS = marked("diagnose", "It leaks water.")
MILKY_OIL = marked("diagnose", "Its oil is milky.")
NOISY = marked("diagnose", "It is noisy.")
SCREEN_CLEAN = marked("diagnose", "The inlet screen is clean.")
SCREEN_CLOGGED = marked("diagnose", "The inlet screen is clogged.")
NOZZLE_GOOD = marked("diagnose", "The nozzle looks and sprays right.")
NOZZLE_WIDE = marked("diagnose", "The nozzle is wide or worn.")
NOZZLE_BLOCKED = marked("diagnose", "The nozzle is partly blocked.")
NO_BUBBLES = marked("diagnose", "The pump draws no air.")
BUBBLES = marked("diagnose", "The pump draws air.")
NOTHING_BACK = marked("diagnose", "With the trigger open nothing flows back from the unloader.")
FLOWS_BACK = marked("diagnose", "With the trigger open water flows back from the unloader.")
RELIEF_SHUT = marked("diagnose", "The thermal relief valve is shut.")
RELIEF_OPEN = marked("diagnose", "The thermal relief valve drips or runs.")
NO_LEAK = marked("diagnose", "No water comes out where it should not.")
HOSE_LEAK = marked("diagnose", "Water comes out of hose, gun or wand.")
INLET_LEAK = marked("diagnose", "Water comes out at the joint of the supply.")
WEEP_LEAK = marked("diagnose", "Water runs from the weep holes between head and crankcase.")
CRACK_LEAK = marked("diagnose", "Water comes through a crack in the pump's head.")
OIL_CLEAR = marked("diagnose", "The pump's oil is clear.")
OIL_MILKY = marked("diagnose", "The pump's oil is milky; damp air can do that too.")
OIL_MILKY_AGAIN = marked("diagnose", "The pump's oil is milky again after a change.")
GRAVEL = marked("diagnose", "It rattles as if it pumped gravel.")
TICK = marked("diagnose", "It ticks or knocks once a turn.")
EVEN = marked("diagnose", "It sounds even.")
SOAP_IN = marked("diagnose", "The low-pressure nozzle for the chemical injector is in.")
SOAP_OUT = marked("diagnose", "The low-pressure nozzle for the chemical injector is not in.")
LONG_BYPASS = marked("diagnose", "It was left running with the trigger shut for longer than 2 minutes.")
SHORT_BYPASS = marked("diagnose", "It was never left running with the trigger shut for longer than 2 minutes.")
FROST = marked("diagnose", "It stood in frost with water in it.")
NO_FROST = marked("diagnose", "It did not stand in frost.")
CURED = {
    Part.SUPPLY_HOSE: marked("diagnose", "Another tap and supply hose cured it."),
    Part.SCREEN: marked("diagnose", "Cleaning the inlet screen cured it."),
    Part.SUCTION_JOINT: marked("diagnose", "Sealing the suction side cured it."),
    Part.NOZZLE: marked("diagnose", "A new nozzle of the right number cured it."),
    Part.INJECTOR: marked("diagnose", "Taking out the chemical injector or its nozzle cured it."),
    Part.WAND_AND_HOSE: marked("diagnose", "Another wand, gun and hose cured it."),
    Part.UNLOADER: marked("diagnose", "Another or a newly set unloader cured it."),
    Part.RELIEF: marked("diagnose", "Another thermal relief valve cured it."),
    Part.SPEED: marked("diagnose", "Bringing it to its rated speed cured it."),
}
NO_CHANGE = {
    Part.SUPPLY_HOSE: marked("diagnose", "Another tap and supply hose changed nothing."),
    Part.SCREEN: marked("diagnose", "Cleaning the inlet screen changed nothing."),
    Part.SUCTION_JOINT: marked("diagnose", "Sealing the suction side changed nothing."),
    Part.NOZZLE: marked("diagnose", "A new nozzle of the right number changed nothing."),
    Part.INJECTOR: marked("diagnose", "Taking out the chemical injector or its nozzle changed nothing."),
    Part.WAND_AND_HOSE: marked("diagnose", "Another wand, gun and hose changed nothing."),
    Part.UNLOADER: marked("diagnose", "Another or a newly set unloader changed nothing."),
    Part.RELIEF: marked("diagnose", "Another thermal relief valve changed nothing."),
    Part.SPEED: marked("diagnose", "Bringing it to its rated speed changed nothing."),
}

CAUSES_OF_PART: Final[Mapping[Part, tuple[Cause, ...]]] = {
    Part.SUPPLY_HOSE: (Cause.SUPPLY_STARVED,),
    Part.SCREEN: (Cause.SCREEN_CLOGGED,),
    Part.SUCTION_JOINT: (Cause.AIR_LEAK,),
    Part.NOZZLE: (Cause.NOZZLE_WORN, Cause.NOZZLE_WRONG, Cause.INJECTOR),
    Part.INJECTOR: (Cause.INJECTOR,),
    Part.WAND_AND_HOSE: (Cause.WAND_OR_HOSE,),
    Part.UNLOADER: (Cause.UNLOADER,),
    Part.RELIEF: (Cause.RELIEF_OPEN,),
    Part.SPEED: (Cause.ENGINE_SLOW,),
}
"""What each part that can be changed stands for."""

_C = Cause
_INLET: Final = (Cause.SUPPLY_STARVED, Cause.SCREEN_CLOGGED, Cause.AIR_LEAK)


def _does(symptom: Symptom) -> Callable[[Facts], bool]:
    return lambda facts: symptom in facts.evidence.symptoms


def _is(name: str, value: object) -> Callable[[Facts], bool]:
    return lambda facts: getattr(facts.evidence, name) == value


def _left_running_long(facts: Facts) -> bool:
    minutes = facts.evidence.bypass_minutes
    return minutes is not None and minutes.surely_above(LONG_BYPASS_MINUTES)


def _left_running_briefly(facts: Facts) -> bool:
    minutes = facts.evidence.bypass_minutes
    return minutes is not None and minutes.surely_at_most(LONG_BYPASS_MINUTES)


_NOTHING: Final = {
    **dict.fromkeys((*_INLET, _C.UNLOADER, _C.VALVES, _C.FROZEN_HEAD), SLIGHT),
    _C.HEALTHY: -FAIR,
}

SYMPTOM_SIGNS: Final = (
    Sign(NO_PRESSURE, _does(Symptom.NO_PRESSURE), {**_NOTHING, _C.INJECTOR: SLIGHT}),
    Sign(
        LOW_PRESSURE,
        _does(Symptom.LOW_PRESSURE),
        {_C.NOZZLE_WORN: SLIGHT, _C.UNLOADER: SLIGHT, _C.SUPPLY_STARVED: SLIGHT, _C.HEALTHY: -FAIR},
    ),
    Sign(NO_FLOW, _does(Symptom.NO_FLOW), {**_NOTHING, _C.NOZZLE_WORN: -FAIR, _C.INJECTOR: -FAIR}),
    Sign(
        PULSES,
        _does(Symptom.PULSES),
        {
            **dict.fromkeys((_C.AIR_LEAK, _C.VALVES), FAIR),
            **dict.fromkeys((_C.SCREEN_CLOGGED, _C.SUPPLY_STARVED, _C.UNLOADER, _C.NOZZLE_WRONG), SLIGHT),
            _C.SEALS: -SLIGHT,
            _C.HEALTHY: -FAIR,
        },
    ),
    Sign(
        DROPS_LATER,
        _does(Symptom.DROPS_LATER),
        {_C.RELIEF_OPEN: FAIR, _C.SEALS: SLIGHT, _C.SCREEN_CLOGGED: SLIGHT, _C.SUPPLY_STARVED: SLIGHT},
    ),
    Sign(STARTS_HARD, _does(Symptom.STARTS_HARD), {_C.UNLOADER: STRONG, _C.FROZEN_HEAD: SLIGHT, _C.HEALTHY: -FAIR}),
    Sign(
        LEAKS,
        _does(Symptom.LEAKS),
        {**dict.fromkeys((_C.WAND_OR_HOSE, _C.SEALS, _C.FROZEN_HEAD), FAIR), _C.RELIEF_OPEN: SLIGHT, _C.HEALTHY: -FAIR},
    ),
    Sign(MILKY_OIL, _does(Symptom.MILKY_OIL), {_C.OIL_SEALS: STRONG, _C.HEALTHY: -FAIR}),
    Sign(NOISY, _does(Symptom.NOISY), {**dict.fromkeys(_INLET, FAIR), _C.VALVES: SLIGHT, _C.HEALTHY: -SLIGHT}),
)

LOOK_SIGNS: Final = (
    Sign(SCREEN_CLEAN, _is("screen", Screen.CLEAN), {_C.SCREEN_CLOGGED: -DECIDES, _C.HEALTHY: SLIGHT}),
    Sign(SCREEN_CLOGGED, _is("screen", Screen.CLOGGED), {_C.SCREEN_CLOGGED: STRONG + FAIR, _C.HEALTHY: -STRONG}),
    Sign(
        NOZZLE_GOOD,
        _is("nozzle", Nozzle.GOOD),
        {_C.NOZZLE_WORN: -FAIR, _C.NOZZLE_WRONG: -FAIR, _C.HEALTHY: SLIGHT},
    ),
    Sign(
        NOZZLE_WIDE,
        _is("nozzle", Nozzle.WIDE),
        {_C.NOZZLE_WORN: STRONG, _C.NOZZLE_WRONG: SLIGHT, _C.HEALTHY: -STRONG},
    ),
    Sign(
        NOZZLE_BLOCKED,
        _is("nozzle", Nozzle.BLOCKED),
        {_C.NOZZLE_WRONG: STRONG + FAIR, _C.NOZZLE_WORN: -STRONG, _C.HEALTHY: -STRONG},
    ),
    Sign(NO_BUBBLES, _is("suction_air", SuctionAir.NONE), {_C.AIR_LEAK: -STRONG - FAIR, _C.HEALTHY: SLIGHT}),
    Sign(BUBBLES, _is("suction_air", SuctionAir.BUBBLES), {_C.AIR_LEAK: STRONG + FAIR, _C.HEALTHY: -STRONG}),
    Sign(NOTHING_BACK, _is("flow_back", FlowBack.NONE), {_C.UNLOADER: -STRONG, _C.HEALTHY: SLIGHT}),
    Sign(
        FLOWS_BACK,
        _is("flow_back", FlowBack.FLOWS),
        {
            _C.UNLOADER: STRONG,
            **dict.fromkeys((_C.WAND_OR_HOSE, _C.NOZZLE_WRONG), FAIR),
            **dict.fromkeys((*_INLET, _C.VALVES, _C.SEALS, _C.NOZZLE_WORN, _C.ENGINE_SLOW), -FAIR),
            _C.HEALTHY: -STRONG,
        },
    ),
    Sign(RELIEF_SHUT, _is("relief", Relief.SHUT), {_C.RELIEF_OPEN: -STRONG - FAIR, _C.HEALTHY: SLIGHT}),
    Sign(RELIEF_OPEN, _is("relief", Relief.OPEN), {_C.RELIEF_OPEN: STRONG + FAIR, _C.HEALTHY: -STRONG}),
    Sign(
        NO_LEAK,
        _is("leak", Leak.NONE),
        {_C.FROZEN_HEAD: -STRONG, _C.WAND_OR_HOSE: -SLIGHT, _C.SEALS: -SLIGHT, _C.HEALTHY: SLIGHT},
    ),
    Sign(HOSE_LEAK, _is("leak", Leak.HOSE_OR_GUN), {_C.WAND_OR_HOSE: STRONG + FAIR, _C.HEALTHY: -STRONG}),
    Sign(INLET_LEAK, _is("leak", Leak.INLET_JOINT), {_C.AIR_LEAK: FAIR, _C.SUPPLY_STARVED: SLIGHT, _C.HEALTHY: -FAIR}),
    Sign(
        WEEP_LEAK,
        _is("leak", Leak.WEEP_HOLES),
        {_C.SEALS: STRONG + FAIR, _C.OIL_SEALS: SLIGHT, _C.HEALTHY: -DECIDES},
    ),
    Sign(CRACK_LEAK, _is("leak", Leak.CRACK), {_C.FROZEN_HEAD: DECIDES, _C.HEALTHY: -DECIDES}),
    Sign(OIL_CLEAR, _is("oil", Oil.CLEAR), {_C.OIL_SEALS: -STRONG - FAIR}),
    Sign(OIL_MILKY, _is("oil", Oil.MILKY), {_C.OIL_SEALS: STRONG, _C.HEALTHY: -FAIR}),
    Sign(OIL_MILKY_AGAIN, _is("oil", Oil.MILKY_AGAIN), {_C.OIL_SEALS: DECIDES, _C.HEALTHY: -DECIDES}),
    Sign(
        GRAVEL,
        _is("noise", Noise.GRAVEL),
        {**dict.fromkeys(_INLET, FAIR), _C.VALVES: -SLIGHT, _C.SEALS: -SLIGHT, _C.HEALTHY: -FAIR},
    ),
    Sign(TICK, _is("noise", Noise.TICK), {_C.VALVES: FAIR, _C.HEALTHY: -FAIR}),
    Sign(EVEN, _is("noise", Noise.EVEN), {**dict.fromkeys(_INLET, -SLIGHT), _C.VALVES: -SLIGHT, _C.HEALTHY: SLIGHT}),
    Sign(SOAP_IN, _is("low_pressure_nozzle", True), {_C.INJECTOR: DECIDES, _C.HEALTHY: -STRONG}),  # noqa: FBT003
    Sign(SOAP_OUT, _is("low_pressure_nozzle", False), {_C.INJECTOR: -STRONG, _C.HEALTHY: SLIGHT}),  # noqa: FBT003
    Sign(LONG_BYPASS, _left_running_long, {_C.RELIEF_OPEN: FAIR, _C.SEALS: SLIGHT}),
    Sign(SHORT_BYPASS, _left_running_briefly, {_C.RELIEF_OPEN: -SLIGHT}),
    Sign(FROST, _is("stood_in_frost", True), {_C.FROZEN_HEAD: STRONG, _C.VALVES: SLIGHT}),  # noqa: FBT003
    Sign(NO_FROST, _is("stood_in_frost", False), {_C.FROZEN_HEAD: -STRONG}),  # noqa: FBT003
)


def _trial_sign(part: Part, *, cured: bool) -> Sign:
    causes = CAUSES_OF_PART[part]
    if cured:
        weights = {**dict.fromkeys(causes, DECIDES), _C.HEALTHY: -DECIDES}
        return Sign(CURED[part], lambda facts: part in facts.evidence.cured_by, weights)
    return Sign(NO_CHANGE[part], lambda facts: part in facts.evidence.no_change_by, dict.fromkeys(causes, -STRONG))


TRIAL_SIGNS: Final = tuple(_trial_sign(part, cured=cured) for part in Part for cured in (True, False))
