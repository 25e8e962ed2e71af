"""Everything that can be tried next, how long it takes, and what can hurt somebody while doing it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from xref_app.core.diagnose.words import Try
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

# Sources: CDC pressure-washer guidance, OSHA 29 CFR 1910.147, NIOSH Update 93-117, NFPA 70 NEC 422.49; our words.
JET = marked(
    "cautions",
    "A jet goes through skin and glove. Such a wound is an emergency however small it looks: to hospital at once. "
    "Never feel for leaks by hand.",
)
STOPPED = marked(
    "cautions",
    "Stop the machine, pull the spark-plug lead or unplug the motor, shut the tap and squeeze the trigger until no "
    "pressure is left.",
)
EXHAUST = marked("cautions", "Run a petrol engine outdoors only: its exhaust kills in closed rooms.")
SHOCK = marked(
    "cautions",
    "An electric machine and water can kill: a ground-fault protected outlet by the local code, dry plug, no work on "
    "the wiring without a licence.",
)
HOT = marked("cautions", "Water that has stood in bypass scalds and can turn to steam; let it cool before you open it.")
BACKFLOW = marked("cautions", "Protect the drinking water against backflow as the local plumbing code asks.")
FROZEN = marked("cautions", "Never start a pump that may hold ice; let it thaw in a warm room first.")
MOVING = marked("cautions", "Keep hands, sleeves and leads off belts, shafts and the muffler.")
BURST = marked("cautions", "Hose, gun and head can burst above their rated pressure: stay clear of them.")
MANUAL = marked("cautions", "The maker's manual, local codes and licensed practice go before anything said here.")

_RUNNING: Final = (JET, EXHAUST, SHOCK, MANUAL)
_AT_REST: Final = (STOPPED, JET, MANUAL)


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to try: ``minutes`` is what it takes (house rule), ``cautions`` what to mind while doing it."""

    what: Try
    minutes: Range
    ask: Sentence
    cautions: tuple[Sentence, ...]


_STEPS: Final[dict[Try, tuple[float, float, str, tuple[str, ...]]]] = {
    Try.LOOK_FOR_LEAKS: (
        1,
        3,
        marked("diagnose", "Look for water at hose, gun, supply joint, weep holes and the pump's head."),
        (JET, FROZEN, MANUAL),
    ),
    Try.LOOK_AT_OIL: (1, 3, marked("diagnose", "Look at the pump's oil: clear or milky?"), _AT_REST),
    Try.READ_PLATE: (
        1,
        3,
        marked("diagnose", "Read flow, pressure and speed from the pump's plate or its sheet."),
        _AT_REST,
    ),
    Try.FEEL_SUPPLY: (
        1,
        2,
        marked("diagnose", "Take the temperature of the water supplied; is it the cold tap?"),
        (HOT, MANUAL),
    ),
    Try.LISTEN: (
        1,
        2,
        marked("diagnose", "Listen while it sprays: even, rattling as if it pumped gravel, or ticking once a turn?"),
        (MOVING, *_RUNNING),
    ),
    Try.ASK_SOAP_NOZZLE: (
        1,
        2,
        marked("diagnose", "Look whether the low-pressure nozzle for chemicals is in."),
        _AT_REST,
    ),
    Try.LOOK_AT_SCREEN: (
        2,
        5,
        marked("diagnose", "Take off the supply hose and look at the inlet screen: there, clean, whole?"),
        (STOPPED, BACKFLOW, MANUAL),
    ),
    Try.LOOK_AT_NOZZLE: (
        2,
        5,
        marked(
            "diagnose", "Take out the nozzle, read its number, hold it to the light, put it back and look at the jet."
        ),
        _AT_REST,
    ),
    Try.TIME_SUPPLY: (
        3,
        5,
        marked("diagnose", "Time a bucket from the end of the supply hose, tap full open, hose laid as it is used."),
        (BACKFLOW, SHOCK, MANUAL),
    ),
    Try.READ_SPEED: (
        2,
        5,
        marked("diagnose", "Read the speed of the pump's shaft while it sprays; with a belt, at the pump's pulley."),
        (MOVING, *_RUNNING),
    ),
    Try.TIME_BUCKET: (
        3,
        6,
        marked("diagnose", "Time a bucket with the trigger open and the fitted nozzle in; tie wand and bucket down."),
        _RUNNING,
    ),
    Try.TIME_OPEN_BUCKET: (
        3,
        6,
        marked("diagnose", "Stop it, take the nozzle out, and time the bucket again with the trigger open."),
        (STOPPED, *_RUNNING),
    ),
    Try.WATCH_RELIEF: (
        2,
        5,
        marked("diagnose", "Watch the thermal relief valve while it sprays: shut, or does it drip?"),
        (HOT, *_RUNNING),
    ),
    Try.WATCH_FLOW_BACK: (
        4,
        8,
        marked("diagnose", "Watch the bypass line of the unloader with the trigger open: does water flow back?"),
        (HOT, *_RUNNING),
    ),
    Try.WATCH_AIR: (
        5,
        10,
        marked("diagnose", "Put a clear piece of hose at the pump's inlet and watch for bubbles while it runs."),
        (BACKFLOW, *_RUNNING),
    ),
    Try.READ_GAUGE: (
        8,
        15,
        marked("diagnose", "Put a gauge at the pump's outlet; read it with the trigger open, then shut for a moment."),
        (STOPPED, HOT, *_RUNNING),
    ),
    Try.MEASURE_WHILE_BAD: (
        10,
        20,
        marked("diagnose", "Let it spray until the fault shows, then time the bucket and read the gauge again."),
        (HOT, *_RUNNING),
    ),
    Try.MEASURE_CLOSER: (
        5,
        10,
        marked("diagnose", "Measure again and closer: a bigger bucket, a longer time, a better tachometer or gauge."),
        _RUNNING,
    ),
    Try.SWAP_WAND: (
        5,
        10,
        marked("diagnose", "Try it with another wand, gun and hose that are known to be good."),
        (STOPPED, *_RUNNING),
    ),
    Try.SWAP_UNLOADER: (
        20,
        40,
        marked("diagnose", "Try it with another unloader that is known to be good, set as its sheet says."),
        (STOPPED, HOT, *_RUNNING),
    ),
    Try.SWAP_RELIEF: (
        10,
        25,
        marked("diagnose", "Try it with another thermal relief valve that is known to be good; never plug its port."),
        (STOPPED, HOT, *_RUNNING),
    ),
    Try.CLEAN_SCREEN: (
        3,
        8,
        marked("diagnose", "Clean or change the inlet screen, then measure again."),
        (STOPPED, BACKFLOW, MANUAL),
    ),
    Try.SOAP_NOZZLE_OUT: (
        1,
        3,
        marked("diagnose", "Put in the high-pressure nozzle, take the injector off, then measure again."),
        _AT_REST,
    ),
    Try.CLEAR_NOZZLE: (
        3,
        8,
        marked("diagnose", "Clear the nozzle with its needle, or put in a new one of the right number; measure again."),
        _AT_REST,
    ),
    Try.MEND_HOSE: (
        5,
        15,
        marked("diagnose", "Change what leaks or is blocked of hose, gun and wand; never patch it. Measure again."),
        _AT_REST,
    ),
    Try.BETTER_SUPPLY: (
        5,
        15,
        marked("diagnose", "Open the tap fully, take out kinks, take a wider or shorter hose; then time it again."),
        (BACKFLOW, MANUAL),
    ),
    Try.SEAL_SUCTION: (
        5,
        15,
        marked(
            "diagnose", "Renew washers and O-rings of the suction side and tighten it; then look for bubbles again."
        ),
        (STOPPED, BACKFLOW, MANUAL),
    ),
    Try.SET_SPEED: (
        10,
        30,
        marked("diagnose", "Bring it to its rated speed: governor, choke, air filter, belt, voltage. Measure again."),
        (MOVING, STOPPED, *_RUNNING),
    ),
    Try.COOL_RELIEF: (
        15,
        40,
        marked("diagnose", "Let it cool; flush the thermal relief valve or put in a new one. Measure again."),
        (HOT, *_AT_REST),
    ),
    Try.LOWER_UNLOADER: (
        15,
        40,
        marked("diagnose", "Do not run it like this. Free the unloader, or change it, and set it as its sheet says."),
        (BURST, HOT, *_AT_REST),
    ),
    Try.SET_UNLOADER: (
        15,
        40,
        marked(
            "diagnose", "Set the unloader as its sheet says, or clean or change it; never above the rated pressure."
        ),
        (HOT, STOPPED, *_RUNNING),
    ),
    Try.CHANGE_OIL: (
        15,
        30,
        marked("diagnose", "Change the pump's oil, run it for ten minutes with water, look whether it is milky again."),
        (STOPPED, *_RUNNING),
    ),
    Try.OPEN_PUMP: (
        45,
        120,
        marked("diagnose", "Open the pump by its maker's manual: valves and their seats, then seals and plungers."),
        (HOT, *_AT_REST),
    ),
    Try.FIX_OR_REPLACE: (
        5,
        15,
        marked("diagnose", "Price its valves and seals, with the minutes to fit them, against another pump."),
        _AT_REST,
    ),
    Try.NOTHING: (
        0,
        0,
        marked("diagnose", "Run it at work for a while, with the hose and the nozzle that it is used with."),
        _RUNNING,
    ),
}


def step(what: Try) -> Step:
    """Return the step by its name, with its minutes and cautions."""
    low, high, ask, cautions = _STEPS[what]
    return Step(what, Range(low, high), Sentence(ask), tuple(Sentence(words) for words in cautions))
