"""What "Is it the pump?" asks, the cheapest and safest first, and how each answer is written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import Final

from xref_app.core.diagnose.words import (
    FlowBack,
    GaugePlace,
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
)
from xref_app.core.quantity.units import NO_UNIT, RPM, SECOND, Kind, Unit
from xref_app.core.sentence import marked

YES, NO = marked("diagnose", "yes"), marked("diagnose", "no")
CURED, NO_CHANGE = marked("diagnose", "it ran right then"), marked("diagnose", "it ran as before")
AS_CLOSE_AS_CAN_BE = marked("diagnose", "as close as can be")


class Group(StrEnum):
    """The headings under which the questions stand."""

    DOES = marked("diagnose", "What it does")
    ASK = marked("diagnose", "Ask and look, machine at rest")
    LOOK = marked("diagnose", "Listen and look closer")
    TIME = marked("diagnose", "Time it and count")
    WATCH = marked("diagnose", "Watch it running")
    GAUGE = marked("diagnose", "Read a gauge")
    TRIED = marked("diagnose", "What was put right or changed, and then")


@dataclass(frozen=True, slots=True)
class AmountForm:
    """How a number is written: ``lowest`` and ``highest`` are what it can be, in the canonical unit of ``kind``.

    ``unit`` is that of a bare number, None where it must be named. A bare reading is good to ``share`` of itself, but
    never closer than ``least_doubt``.
    """

    kind: Kind
    unit: Unit | None
    lowest: float
    highest: float
    like: str
    share: float = 0.0
    least_doubt: float = 0.0

    def doubt(self, value: float) -> float:
        """Return the half-width of a bare reading, canonical."""
        return max(abs(value) * self.share, self.least_doubt)


@dataclass(frozen=True, slots=True)
class Question:
    """One question: a choice among ``words``, or an ``amount``.

    ``by`` is the step that answers it, None where nothing asks for it by itself. ``is_extra`` says that the step has
    something to say without it.
    """

    question_id: str
    group: Group
    title: str
    by: Try | None
    words: tuple[str, ...] = ()
    amount: AmountForm | None = None
    is_extra: bool = False


# How well a bucket's mark, a watch in the hand, a shop's gauge and its tachometer are read. House rule.
BUCKET_SHARE: Final = 0.03
WATCH_S: Final = 0.5
GAUGE_SHARE: Final = 0.02
SPEED_SHARE: Final = 0.01
THERMOMETER_C: Final = 1.0

# What can be read at all; anything else is a slip of typing or unit. House rule.
_VOLUME = AmountForm(Kind.VOLUME, None, 0, 500, "10 L, 5 gal, 9-10 L", BUCKET_SHARE)
_SECONDS = AmountForm(Kind.TIME, SECOND, 1, 3600, "62, 60-64, 1.5 min", least_doubt=WATCH_S)
_GAUGE = AmountForm(Kind.PRESSURE, None, 0, 1000, "150 bar, 2200 psi, 140-150 bar", GAUGE_SHARE)
_SHAFT = AmountForm(Kind.SPEED, RPM, 0, 6000, "3400, 3350-3450", SPEED_SHARE)
_SUPPLY_C = AmountForm(Kind.TEMPERATURE, None, -5, 100, "15 °C, 60 °F", least_doubt=THERMOMETER_C)
_BYPASS = AmountForm(Kind.TIME, None, 0, 86_400, "10 min, 1-2 min")
_NOZZLE = AmountForm(Kind.COUNT, NO_UNIT, 1, 40, "3.5, 3-4")
_RATED_FLOW = AmountForm(Kind.FLOW, None, 1, 150, "9.5 l/min, 2.5 gpm")
_RATED_PRESSURE = AmountForm(Kind.PRESSURE, None, 20, 700, "186 bar, 2700 psi")
_RATED_SPEED = AmountForm(Kind.SPEED, RPM, 500, 4200, "3400")

_SYMPTOMS = {
    Symptom.LOW_PRESSURE: marked("diagnose", "Low pressure"),
    Symptom.NO_PRESSURE: marked("diagnose", "No pressure at all"),
    Symptom.NO_FLOW: marked("diagnose", "No water comes"),
    Symptom.PULSES: marked("diagnose", "It pulses or surges"),
    Symptom.DROPS_LATER: marked("diagnose", "Pressure drops after a while"),
    Symptom.STARTS_HARD: marked("diagnose", "It starts hard or stalls"),
    Symptom.LEAKS: marked("diagnose", "It leaks water"),
    Symptom.MILKY_OIL: marked("diagnose", "Its oil is milky"),
    Symptom.NOISY: marked("diagnose", "It is noisy"),
}
_TRIALS = {
    Part.SUPPLY_HOSE: (marked("diagnose", "Tap and supply hose"), Try.BETTER_SUPPLY),
    Part.SCREEN: (marked("diagnose", "Inlet screen cleaned"), Try.CLEAN_SCREEN),
    Part.SUCTION_JOINT: (marked("diagnose", "Suction side sealed"), Try.SEAL_SUCTION),
    Part.NOZZLE: (marked("diagnose", "New nozzle, right number"), Try.CLEAR_NOZZLE),
    Part.INJECTOR: (marked("diagnose", "Chemical injector out"), Try.SOAP_NOZZLE_OUT),
    Part.WAND_AND_HOSE: (marked("diagnose", "Another wand, gun, hose"), Try.SWAP_WAND),
    Part.SPEED: (marked("diagnose", "Engine speed or belt set"), Try.SET_SPEED),
    Part.RELIEF: (marked("diagnose", "Another relief valve"), Try.SWAP_RELIEF),
    Part.UNLOADER: (marked("diagnose", "Another unloader"), Try.SWAP_UNLOADER),
}


def symptom_id(symptom: Symptom) -> str:
    """Return the id of the question whether the machine does that."""
    return f"does_{symptom.name.lower()}"


def trial_id(part: Part) -> str:
    """Return the id of the question what became of changing or mending that part."""
    return f"tried_{part.name.lower()}"


_EXTRA = {"nozzle_number", "supply_s", "bucket_s", "open_s", "gauge_place"}


def _words(question_id: str, group: Group, title: str, by: Try, words: type[StrEnum]) -> Question:
    values = tuple(one.value for one in words)
    return Question(question_id, group, title, by, values, is_extra=question_id in _EXTRA)


def _yes_no(question_id: str, group: Group, title: str, by: Try | None) -> Question:
    return Question(question_id, group, title, by, (YES, NO))


def _amount(question_id: str, group: Group, title: str, by: Try | None, form: AmountForm) -> Question:
    return Question(question_id, group, title, by, amount=form, is_extra=question_id in _EXTRA)


_SEEN = (
    _words("leak", Group.ASK, marked("diagnose", "Water comes out at"), Try.LOOK_FOR_LEAKS, Leak),
    _words("oil", Group.ASK, marked("diagnose", "The pump's oil"), Try.LOOK_AT_OIL, Oil),
    _yes_no(
        "low_pressure_nozzle", Group.ASK, marked("diagnose", "Low-pressure nozzle for soap in"), Try.ASK_SOAP_NOZZLE
    ),
    _yes_no("stood_in_frost", Group.ASK, marked("diagnose", "Stood in frost with water in it"), None),
    _amount("bypass_minutes", Group.ASK, marked("diagnose", "Longest run, trigger shut"), None, _BYPASS),
    _amount("rated_lpm", Group.ASK, marked("diagnose", "Plate: flow"), Try.READ_PLATE, _RATED_FLOW),
    _amount("rated_bar", Group.ASK, marked("diagnose", "Plate: pressure"), Try.READ_PLATE, _RATED_PRESSURE),
    _amount("rated_rpm", Group.ASK, marked("diagnose", "Plate: speed"), Try.READ_PLATE, _RATED_SPEED),
    _amount("supply_c", Group.LOOK, marked("diagnose", "Water supplied, how warm"), Try.FEEL_SUPPLY, _SUPPLY_C),
    _words("noise", Group.LOOK, marked("diagnose", "It sounds"), Try.LISTEN, Noise),
    _words("screen", Group.LOOK, marked("diagnose", "Inlet screen"), Try.LOOK_AT_SCREEN, Screen),
    _words("nozzle", Group.LOOK, marked("diagnose", "Fitted nozzle"), Try.LOOK_AT_NOZZLE, Nozzle),
    _amount("nozzle_number", Group.LOOK, marked("diagnose", "Nozzle number"), Try.LOOK_AT_NOZZLE, _NOZZLE),
)
_TIMED = (
    _amount("supply_l", Group.TIME, marked("diagnose", "Supply hose: caught"), Try.TIME_SUPPLY, _VOLUME),
    _amount("supply_s", Group.TIME, marked("diagnose", "Supply hose: seconds"), Try.TIME_SUPPLY, _SECONDS),
    _amount("shaft_rpm", Group.TIME, marked("diagnose", "Pump's shaft, rpm"), Try.READ_SPEED, _SHAFT),
    _amount("bucket_l", Group.TIME, marked("diagnose", "Fitted nozzle: caught"), Try.TIME_BUCKET, _VOLUME),
    _amount("bucket_s", Group.TIME, marked("diagnose", "Fitted nozzle: seconds"), Try.TIME_BUCKET, _SECONDS),
    _amount("open_l", Group.TIME, marked("diagnose", "Nozzle off: caught"), Try.TIME_OPEN_BUCKET, _VOLUME),
    _amount("open_s", Group.TIME, marked("diagnose", "Nozzle off: seconds"), Try.TIME_OPEN_BUCKET, _SECONDS),
    Question("closer", Group.TIME, marked("diagnose", "The readings are"), Try.MEASURE_CLOSER, (AS_CLOSE_AS_CAN_BE,)),
    _words("relief", Group.WATCH, marked("diagnose", "Thermal relief valve"), Try.WATCH_RELIEF, Relief),
    _words("flow_back", Group.WATCH, marked("diagnose", "Unloader, trigger open"), Try.WATCH_FLOW_BACK, FlowBack),
    _words("suction_air", Group.WATCH, marked("diagnose", "Air in the water drawn"), Try.WATCH_AIR, SuctionAir),
    _amount("gauge_bar", Group.GAUGE, marked("diagnose", "Gauge, trigger open"), Try.READ_GAUGE, _GAUGE),
    _words("gauge_place", Group.GAUGE, marked("diagnose", "The gauge stood"), Try.READ_GAUGE, GaugePlace),
    _amount("shut_bar", Group.GAUGE, marked("diagnose", "Gauge, trigger shut"), Try.READ_GAUGE, _GAUGE),
    _yes_no("taken_while_bad", Group.GAUGE, marked("diagnose", "Measured while it was bad"), Try.MEASURE_WHILE_BAD),
)


@cache
def questions() -> Mapping[str, Question]:
    """Return every question by its id, the cheapest and safest first."""
    does = [_yes_no(symptom_id(symptom), Group.DOES, title, None) for symptom, title in _SYMPTOMS.items()]
    tried = [
        Question(trial_id(part), Group.TRIED, title, by, (CURED, NO_CHANGE)) for part, (title, by) in _TRIALS.items()
    ]
    return MappingProxyType({one.question_id: one for one in (*does, *_SEEN, *_TIMED, *tried)})
