"""The next thing to try: what was found amiss first, then what is not known yet, the cheapest and safest first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.house_rules import (
    COOL_SUPPLY_C,
    NOZZLE_OVER_SHARE,
    NOZZLE_UNDER_SHARE,
    PLATE_NOZZLE_HIGH_SHARE,
    PLATE_NOZZLE_LOW_SHARE,
    SHUT_HIGH_SHARE,
    SOUND_SHARE,
    SPEED_SHARE,
    SUPPLY_SHARE,
)
from xref_app.core.diagnose.proof import WATER_BALANCE
from xref_app.core.diagnose.signs import Facts, surely_above, surely_at_least, surely_below
from xref_app.core.diagnose.steps import FROZEN, Step, step
from xref_app.core.diagnose.words import (
    FlowBack,
    Leak,
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
from xref_app.core.sentence import Sentence

_Amiss = Callable[[Facts], bool]


def _supply_short(facts: Facts) -> bool:
    hot = facts.evidence.supply_c is not None and facts.evidence.supply_c.surely_above(COOL_SUPPLY_C)
    return hot or surely_below(facts.workings.supply_share, SUPPLY_SHARE)


def _nozzle_amiss(facts: Facts) -> bool:
    looked = facts.evidence.nozzle in {Nozzle.WIDE, Nozzle.BLOCKED}
    acts, makes = facts.workings.nozzle_share, facts.workings.plate_nozzle_share
    wrong = surely_below(makes, PLATE_NOZZLE_LOW_SHARE) or surely_above(makes, PLATE_NOZZLE_HIGH_SHARE)
    return looked or wrong or surely_above(acts, NOZZLE_OVER_SHARE)


def _holds_too_much(facts: Facts) -> bool:
    return surely_above(facts.workings.shut_share, SHUT_HIGH_SHARE)


def _way_out_narrow(facts: Facts) -> bool:
    leaks = facts.evidence.leak is Leak.HOSE_OR_GUN
    return leaks or surely_below(facts.workings.nozzle_share, NOZZLE_UNDER_SHARE)


def _joint_draws(facts: Facts) -> bool:
    return facts.evidence.suction_air is SuctionAir.BUBBLES or facts.evidence.leak is Leak.INLET_JOINT


# What is put right as soon as it is seen: danger first, then the cheapest; not again where that changed nothing.
_FIXES: Final[tuple[tuple[Try, Part | None, _Amiss], ...]] = (
    (Try.LOWER_UNLOADER, Part.UNLOADER, _holds_too_much),
    (Try.SOAP_NOZZLE_OUT, Part.INJECTOR, lambda facts: facts.evidence.low_pressure_nozzle is True),
    (Try.CLEAN_SCREEN, Part.SCREEN, lambda facts: facts.evidence.screen is Screen.CLOGGED),
    (Try.CLEAR_NOZZLE, Part.NOZZLE, _nozzle_amiss),
    (Try.MEND_HOSE, Part.WAND_AND_HOSE, _way_out_narrow),
    (Try.BETTER_SUPPLY, Part.SUPPLY_HOSE, _supply_short),
    (Try.SEAL_SUCTION, Part.SUCTION_JOINT, _joint_draws),
    (Try.SET_SPEED, Part.SPEED, lambda facts: surely_below(facts.workings.speed_share, SPEED_SHARE)),
    (Try.COOL_RELIEF, Part.RELIEF, lambda facts: facts.evidence.relief is Relief.OPEN),
    (Try.SET_UNLOADER, Part.UNLOADER, lambda facts: facts.evidence.flow_back is FlowBack.FLOWS),
    (Try.CHANGE_OIL, None, lambda facts: facts.evidence.oil is Oil.MILKY),
)


_Asked = Callable[[Evidence], bool]

_BEFORE: Final[tuple[tuple[Try, _Asked], ...]] = (
    (Try.LOOK_FOR_LEAKS, lambda evidence: evidence.leak is None),
    (Try.LOOK_AT_OIL, lambda evidence: evidence.oil is None and Symptom.MILKY_OIL in evidence.symptoms),
    (Try.ASK_SOAP_NOZZLE, lambda evidence: evidence.low_pressure_nozzle is None),
)
_AFTER: Final[tuple[tuple[Try, _Asked], ...]] = (
    (Try.READ_PLATE, lambda evidence: evidence.rated_bar is None),
    (Try.READ_GAUGE, lambda evidence: evidence.gauge_bar is None or evidence.shut_bar is None),
    (
        Try.MEASURE_WHILE_BAD,
        lambda evidence: Symptom.DROPS_LATER in evidence.symptoms and evidence.taken_while_bad is not True,
    ),
)
_LAST: Final[tuple[tuple[Try, _Asked], ...]] = (
    (Try.CLEAR_NOZZLE, lambda evidence: evidence.nozzle is None and Part.NOZZLE not in evidence.no_change_by),
    (Try.SWAP_RELIEF, lambda evidence: Part.RELIEF not in evidence.no_change_by),
    (Try.SWAP_UNLOADER, lambda evidence: Part.UNLOADER not in evidence.no_change_by),
)


def next_step(facts: Facts, answer: Verdict) -> Step:
    """Return the one thing to try next, warning of ice where the machine stood in frost."""
    chosen = step(_next(facts, answer))
    if facts.evidence.stood_in_frost is not True or Sentence(FROZEN) in chosen.cautions:
        return chosen
    return replace(chosen, cautions=(Sentence(FROZEN), *chosen.cautions))


def _next(facts: Facts, answer: Verdict) -> Try:
    if answer is Verdict.PUMP:
        return Try.FIX_OR_REPLACE
    if facts.evidence.cured_by and answer is Verdict.NOT_PUMP and not _holds_too_much(facts):
        return Try.NOTHING
    found = next(_found_amiss(facts), None)
    if found is not None:
        return found
    if answer is Verdict.NOT_PUMP:
        return _not_the_pump(facts)
    open_questions = (what for what in _not_known(facts) if what not in facts.evidence.cannot_say)
    return next(open_questions, Try.OPEN_PUMP)


def _found_amiss(facts: Facts) -> Iterator[Try]:
    done = facts.evidence.no_change_by | facts.evidence.cured_by
    for what, part, amiss in _FIXES:
        if part not in done and amiss(facts):
            yield what


def _not_the_pump(facts: Facts) -> Try:
    evidence = facts.evidence
    tried = evidence.no_change_by | evidence.cured_by
    if not evidence.symptoms or {Part.WAND_AND_HOSE, Part.UNLOADER} <= tried:
        return Try.NOTHING
    return Try.SWAP_WAND if Part.WAND_AND_HOSE not in tried else Try.SWAP_UNLOADER


def _not_known(facts: Facts) -> Iterator[Try]:
    yield from (what for what, asked in _BEFORE if asked(facts.evidence))
    of_pressure = [what for what, asked in _AFTER if asked(facts.evidence)]
    if surely_at_least(facts.workings.held_share, SOUND_SHARE):
        yield from of_pressure
    yield from (condition.by for condition in WATER_BALANCE if _can_still_come(facts, condition.by))
    yield from of_pressure
    if _too_vague(facts):
        yield Try.MEASURE_CLOSER
    yield from (what for what, asked in _LAST if asked(facts.evidence))


def _can_still_come(facts: Facts, what: Try) -> bool:
    """Say whether the thing was not looked at yet; what was looked at and is amiss was dealt with before."""
    evidence = facts.evidence
    known = {
        Try.LOOK_FOR_LEAKS: evidence.leak,
        Try.FEEL_SUPPLY: evidence.supply_c,
        Try.LISTEN: evidence.noise,
        Try.LOOK_AT_SCREEN: evidence.screen,
        Try.LOOK_AT_NOZZLE: evidence.nozzle,
        Try.TIME_SUPPLY: evidence.supply_bucket,
        Try.READ_SPEED: evidence.shaft_rpm,
        Try.TIME_BUCKET: evidence.bucket,
        Try.TIME_OPEN_BUCKET: evidence.open_bucket,
        Try.WATCH_RELIEF: evidence.relief,
        Try.WATCH_FLOW_BACK: evidence.flow_back,
        Try.WATCH_AIR: evidence.suction_air,
    }
    if what is Try.READ_PLATE:
        return evidence.rated_lpm is None or evidence.rated_rpm is None
    if what is Try.SWAP_WAND:
        return Part.WAND_AND_HOSE not in evidence.no_change_by
    return known[what] is None


def _too_vague(facts: Facts) -> bool:
    """Say whether a closer flow could still decide: it is neither surely enough nor surely too little."""
    held = facts.workings.held_share
    return held is not None and held.value.low < SOUND_SHARE and held.value.doubt > _CLOSE_SHARE


# A flow read closer than this either way of its share is as good as a bucket gets. House rule.
_CLOSE_SHARE: Final = 0.03
