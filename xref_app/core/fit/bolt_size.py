"""The bolt that goes into the engine's face, as its thread names it."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.model.machine import Machine
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.threads import parse_thread
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.threads import bolt_major_mm, bolt_pitch_mm, bolt_system

BOLT_UNKNOWN = marked("findings", "No bolt table has the thread {thread}: read it again, with pitch.")


@dataclass(frozen=True, slots=True)
class Bolt:
    """A bolt thread: its designation, outside diameter by its limits, nominal diameter and pitch, all mm."""

    designation: str
    major_mm: Range
    pitch_mm: float
    system: str

    @property
    def nominal_mm(self) -> float:
        """Return the nominal diameter: no bolt is thicker."""
        return self.major_mm.high


def bolt_or_none(machine: Machine) -> Bolt | None:
    """Return the bolt of the machine's face, or None while its thread is not known or in no table of bolt threads."""
    if machine.face.bolt is None:
        return None
    try:
        return bolt_of_or_none(parse_thread(machine.face.bolt.value).designation)
    except MeasureError:
        return None


def bolt_of_or_none(designation: str) -> Bolt | None:
    """Return the bolt of that thread, or None where it is in no table of bolt threads."""
    major, pitch, system = bolt_major_mm(designation), bolt_pitch_mm(designation), bolt_system(designation)
    if major is None or pitch is None or system is None:
        return None
    return Bolt(designation, major, pitch, system)


def no_such_bolt(machine: Machine) -> Sentence:
    """Return what to say where the thread of the face's bolt is in no table."""
    return Sentence(BOLT_UNKNOWN, {"thread": machine.face.bolt.value if machine.face.bolt else ""})
