"""What may be concluded: only what holds for every value of every reading, with a thing not looked at counting as any.

The pump is shown bad in two ways. By sight: a cracked head, water running from the weep holes, oil milky again after a
change. Or by the balance of water: the water is there, nothing keeps it from the pump, none of it leaves on the way,
and still too little arrives. What a look says is borne out by something else there: screen and air by the noise,
unloader and relief valve by the flow with the nozzle off and the pressure with the trigger shut, the nozzle by another
wand. It is shown good by the same balance at a pressure that counts, or by a cure elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.house_rules import (
    COOL_SUPPLY_C,
    PRESSURE_COUNTS_SHARE,
    PRESSURE_LOW_SHARE,
    SOUND_SHARE,
    SUPPLY_SHARE,
    WEAK_SHARE,
)
from xref_app.core.diagnose.signs import Facts, surely_at_least, surely_at_most, surely_below
from xref_app.core.diagnose.words import (
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
    Try,
    Verdict,
)

# Symptoms that say something of flow and pressure only: a pump that delivers all of its flow explains none of them.
_OF_FLOW: Final = frozenset({Symptom.NO_PRESSURE, Symptom.LOW_PRESSURE, Symptom.NO_FLOW})


@dataclass(frozen=True, slots=True)
class Condition:
    """One thing that must be known before a conclusion, and what to do to come to know it."""

    holds: Callable[[Facts], bool]
    by: Try


def _cool(facts: Facts) -> bool:
    supply = facts.evidence.supply_c
    return supply is not None and supply.surely_at_most(COOL_SUPPLY_C)


def _nozzle_clear(facts: Facts) -> bool:
    return facts.evidence.nozzle is Nozzle.GOOD or Part.NOZZLE in facts.evidence.no_change_by


def _weak(facts: Facts) -> bool:
    return surely_below(facts.workings.held_share, WEAK_SHARE)


def _lost_inside(facts: Facts) -> bool:
    """Say whether a second thing beside looking shows that unloader and relief valve do not let it go.

    Without pressure they let hardly anything go, so a flow that is too low even then is lost inside; and with the
    trigger shut the pressure would not come up. One look that was wrong must not cost a good pump.
    """
    workings = facts.workings
    tried = {Part.UNLOADER, Part.RELIEF} <= facts.evidence.no_change_by
    holds = surely_at_least(workings.shut_share, PRESSURE_LOW_SHARE)
    return tried or (holds and surely_below(workings.open_share, WEAK_SHARE))


WATER_BALANCE: Final = (
    Condition(lambda facts: facts.evidence.leak is Leak.NONE, Try.LOOK_FOR_LEAKS),
    Condition(lambda facts: facts.evidence.rated_lpm is not None, Try.READ_PLATE),
    Condition(lambda facts: facts.evidence.rated_rpm is not None, Try.READ_PLATE),
    Condition(_cool, Try.FEEL_SUPPLY),
    Condition(lambda facts: facts.evidence.noise in {Noise.EVEN, Noise.TICK}, Try.LISTEN),
    Condition(lambda facts: facts.evidence.screen is Screen.CLEAN, Try.LOOK_AT_SCREEN),
    Condition(_nozzle_clear, Try.LOOK_AT_NOZZLE),
    Condition(lambda facts: surely_at_least(facts.workings.supply_share, SUPPLY_SHARE), Try.TIME_SUPPLY),
    Condition(lambda facts: facts.workings.due_lpm is not None, Try.READ_SPEED),
    Condition(lambda facts: facts.workings.held_share is not None, Try.TIME_BUCKET),
    Condition(_lost_inside, Try.TIME_OPEN_BUCKET),
    Condition(lambda facts: facts.evidence.relief is Relief.SHUT, Try.WATCH_RELIEF),
    Condition(lambda facts: facts.evidence.flow_back is FlowBack.NONE, Try.WATCH_FLOW_BACK),
    Condition(lambda facts: facts.evidence.suction_air is SuctionAir.NONE, Try.WATCH_AIR),
    Condition(lambda facts: Part.WAND_AND_HOSE in facts.evidence.no_change_by, Try.SWAP_WAND),
)
"""All that must hold, beside too little flow, before the pump itself is named; the cheapest and safest first."""


def verdict(facts: Facts) -> Verdict:
    """Return the answer.

    A wider reading never leads from “cannot tell yet” to a conclusion, nor from one conclusion to the other: sight and
    cures know no ranges, and a flow that is surely too low is not surely enough.
    """
    if shown_by_sight(facts.evidence):
        return Verdict.PUMP
    if _cured_elsewhere(facts.evidence):
        return Verdict.NOT_PUMP
    # What another part cured is not put on the pump, whatever else keeps it from being cleared.
    is_cured = bool(facts.evidence.cured_by)
    if not is_cured and _weak(facts) and all(condition.holds(facts) for condition in WATER_BALANCE):
        return Verdict.PUMP
    if pump_is_sound(facts) and _flow_explains_all(facts.evidence):
        return Verdict.NOT_PUMP
    return Verdict.CANNOT_TELL


def shown_by_sight(evidence: Evidence) -> bool:
    """Say whether somebody saw what only the pump itself can do."""
    return evidence.leak in {Leak.CRACK, Leak.WEEP_HOLES} or evidence.oil is Oil.MILKY_AGAIN


def pump_is_sound(facts: Facts) -> bool:
    """Say whether it surely delivers its flow, and would at its rated pressure too."""
    workings = facts.workings
    delivers = surely_at_least(workings.held_share, SOUND_SHARE)
    at_work = surely_at_least(workings.pressure_share, PRESSURE_COUNTS_SHARE)
    return delivers and at_work and surely_at_most(workings.slip_at_rated_share, 1 - WEAK_SHARE)


def _cured_elsewhere(evidence: Evidence) -> bool:
    """Say whether something else cured it, and no leak and no milky oil is left that could be the pump's."""
    leak_looked_at = Symptom.LEAKS not in evidence.symptoms or evidence.leak is not None
    return bool(evidence.cured_by) and leak_looked_at and _oil_clear(evidence)


def _flow_explains_all(evidence: Evidence) -> bool:
    """Say whether a pump that delivers all of its flow explains none of what was seen and heard."""
    other = evidence.symptoms - _OF_FLOW - {Symptom.LEAKS, Symptom.MILKY_OIL, Symptom.DROPS_LATER}
    in_time = Symptom.DROPS_LATER not in evidence.symptoms or evidence.taken_while_bad is True
    leaks_elsewhere = Symptom.LEAKS not in evidence.symptoms or evidence.leak in {Leak.HOSE_OR_GUN, Leak.INLET_JOINT}
    sounds_bad = evidence.noise in {Noise.TICK, Noise.GRAVEL}
    return not other and in_time and leaks_elsewhere and not sounds_bad and _oil_clear(evidence)


def _oil_clear(evidence: Evidence) -> bool:
    milky = Symptom.MILKY_OIL in evidence.symptoms or evidence.oil is Oil.MILKY
    return not milky or evidence.oil is Oil.CLEAR
