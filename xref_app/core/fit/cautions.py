"""What can hurt somebody at this work, said every time."""

from __future__ import annotations

from xref_app.core.model.machine import Machine
from xref_app.core.model.words import PowerKind
from xref_app.core.sentence import Sentence, marked

SOURCES = marked(
    "cautions",
    "After CDC pressure-washer guidance, OSHA 29 CFR 1910.147, NIOSH Update 93-117 and NFPA 70 NEC 422.49; our words.",
)
IGNITION = marked("cautions", "Pull the spark-plug lead before you touch the shaft.")
UNPLUG = marked("cautions", "Unplug the motor, and lock the plug away, before you touch the shaft.")
POWER_OFF = marked("cautions", "Pull the spark-plug lead or unplug the motor before you touch the shaft.")
RELEASE = marked("cautions", "Shut the tap, stop the machine and squeeze the trigger until no pressure is left.")
INJECTION = marked(
    "cautions",
    "A jet goes through skin and glove. Such a wound is an emergency however small it looks; never feel "
    "for leaks by hand.",
)
HOT = marked("cautions", "Muffler, exhaust and water that has stood in bypass burn.")
CARBON_MONOXIDE = marked("cautions", "Run a petrol engine outdoors only: its exhaust kills in closed rooms.")
GFCI = marked(
    "cautions",
    "An electric machine belongs on a ground-fault protected outlet, by the local electrical code.",
)
BACKFLOW = marked("cautions", "Protect the drinking water against backflow as the local plumbing code asks.")
MANUAL = marked("cautions", "The maker's manual, local codes and licensed practice go before anything said here.")


def cautions(machine: Machine) -> tuple[Sentence, ...]:
    """Return the cautions for working on this machine; those for both kinds of driver while its kind is not known."""
    kind = machine.power.kind.value if machine.power.kind else None
    stop = {PowerKind.PETROL: IGNITION, PowerKind.ELECTRIC: UNPLUG, None: POWER_OFF}[kind]
    petrol = (CARBON_MONOXIDE,) if kind is not PowerKind.ELECTRIC else ()
    electric = (GFCI,) if kind is not PowerKind.PETROL else ()
    said = (stop, RELEASE, INJECTION, HOT, *petrol, *electric, BACKFLOW, MANUAL)
    return tuple(Sentence(words) for words in said)
