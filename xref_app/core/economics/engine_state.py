"""What is known of the engine's state, said beside the figures and never turned into money."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from xref_app.core.sentence import Sentence, marked

COMPRESSION_UNKNOWN = marked("findings", "Engine compression not known: check before spending.")
COMPRESSION_LOW = marked(
    "findings", "Engine compression is low: a pump on it is money on a worn engine; find out why before spending."
)
COMPRESSION_GOOD = marked("findings", "Engine compression was found good.")
MOTOR = marked(
    "findings", "Electric motor: no compression to check; listen for its bearings and see that it starts under load."
)
AGE_UNKNOWN = marked("findings", "Age of the engine not known.")
AGE = marked("findings", "Age of the engine: {age}. Ask whether parts for it can still be had.")
AGE_AND_HOURS_UNKNOWN = marked("findings", "Age and hours of the engine not known.")
HOURS_UNKNOWN = marked("findings", "Hours of the engine not known.")
HOURS = marked("findings", "Hours of the engine: {hours}, as said.")


class Compression(StrEnum):
    """What somebody found with a gauge, or by a spin of the flywheel."""

    UNKNOWN = "not known"
    GOOD = "good"
    LOW = "low"


@dataclass(frozen=True, slots=True)
class EngineState:
    """What a person said of the engine, as typed; empty stands for 'not known'."""

    is_electric: bool = False
    compression: Compression = Compression.UNKNOWN
    age: str = ""
    hours: str = ""


def engine_remarks(engine: EngineState) -> tuple[Sentence, ...]:
    """Return what is to be said of the engine that stays on in every way but a new machine, gravest first."""
    compression = {
        Compression.UNKNOWN: COMPRESSION_UNKNOWN,
        Compression.LOW: COMPRESSION_LOW,
        Compression.GOOD: COMPRESSION_GOOD,
    }[engine.compression]
    age, hours = engine.age.strip(), engine.hours.strip()
    first = Sentence(MOTOR if engine.is_electric else compression)
    if not age and not hours:
        return (first, Sentence(AGE_AND_HOURS_UNKNOWN))
    return (
        first,
        Sentence(AGE, {"age": age}) if age else Sentence(AGE_UNKNOWN),
        Sentence(HOURS, {"hours": hours}) if hours else Sentence(HOURS_UNKNOWN),
    )
