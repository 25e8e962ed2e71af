"""A shop that does what it is told, step by step, on a simulated machine."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from random import Random

from tests.core.diagnose.seeded_faults import Machine
from tests.core.diagnose.shop_notes import everything
from xref_app.core.diagnose.diagnose import Diagnosis, diagnose
from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.words import Part, Try, Verdict

LOOKS: dict[Try, tuple[str, ...]] = {
    Try.LOOK_FOR_LEAKS: ("leak",),
    Try.LOOK_AT_OIL: ("oil",),
    Try.READ_PLATE: ("rated_lpm", "rated_bar", "rated_rpm"),
    Try.FEEL_SUPPLY: ("supply_c",),
    Try.LISTEN: ("noise",),
    Try.ASK_SOAP_NOZZLE: ("low_pressure_nozzle",),
    Try.LOOK_AT_SCREEN: ("screen",),
    Try.LOOK_AT_NOZZLE: ("nozzle", "nozzle_number"),
    Try.TIME_SUPPLY: ("supply_bucket",),
    Try.READ_SPEED: ("shaft_rpm",),
    Try.TIME_BUCKET: ("bucket",),
    Try.TIME_OPEN_BUCKET: ("open_bucket",),
    Try.WATCH_RELIEF: ("relief",),
    Try.WATCH_FLOW_BACK: ("flow_back",),
    Try.WATCH_AIR: ("suction_air",),
    Try.READ_GAUGE: ("gauge_bar", "gauge_place", "shut_bar"),
    Try.MEASURE_WHILE_BAD: ("taken_while_bad",),
}
FIXES: dict[Try, tuple[Part, tuple[str, ...]]] = {
    Try.CLEAN_SCREEN: (Part.SCREEN, ("screen_lpm",)),
    Try.SOAP_NOZZLE_OUT: (Part.INJECTOR, ("number",)),
    Try.CLEAR_NOZZLE: (Part.NOZZLE, ("number",)),
    Try.MEND_HOSE: (Part.WAND_AND_HOSE, ("hose_way", "wand_way", "hose_leak")),
    Try.SWAP_WAND: (Part.WAND_AND_HOSE, ("hose_way", "wand_way", "hose_leak")),
    Try.BETTER_SUPPLY: (Part.SUPPLY_HOSE, ("supply_lpm",)),
    Try.SEAL_SUCTION: (Part.SUCTION_JOINT, ("air_share",)),
    Try.SET_SPEED: (Part.SPEED, ("rpm",)),
    Try.COOL_RELIEF: (Part.RELIEF, ("relief_leak",)),
    Try.SWAP_RELIEF: (Part.RELIEF, ("relief_leak",)),
    Try.SET_UNLOADER: (Part.UNLOADER, ("set_bar", "unloader_leak", "shut_peak")),
    Try.LOWER_UNLOADER: (Part.UNLOADER, ("set_bar", "unloader_leak", "shut_peak")),
    Try.SWAP_UNLOADER: (Part.UNLOADER, ("set_bar", "unloader_leak", "shut_peak")),
}
ENDS = frozenset({Try.OPEN_PUMP, Try.FIX_OR_REPLACE, Try.NOTHING, Try.CHANGE_OIL})


@dataclass
class Followed:
    """What came of following the steps."""

    diagnosis: Diagnosis
    evidence: Evidence
    steps: list[Try] = field(default_factory=list)
    minutes: float = 0.0
    answers: list[Verdict] = field(default_factory=list)


def followed(machine: Machine, random: Random, *, most: int = 40) -> Followed:
    """Return where the steps lead, from nothing but what the customer says; the machine is mended on the way."""
    whole = everything(machine, random)
    known = {"symptoms"}
    evidence = Evidence(symptoms=whole.symptoms)
    out = Followed(diagnose(evidence), evidence)
    for _ in range(most):
        out.answers.append(out.diagnosis.answer)
        what = out.diagnosis.next_step.what
        if out.diagnosis.answer is not Verdict.CANNOT_TELL or what in ENDS:
            return out
        out.steps.append(what)
        out.minutes += out.diagnosis.next_step.minutes.middle
        if what in FIXES:
            part, names = FIXES[what]
            built = {name: getattr(machine.sound, name) for name in names}
            mended = replace(machine, washer=replace(machine.washer, **built), soap_nozzle=False)
            if part in {Part.INJECTOR, Part.NOZZLE}:
                mended = replace(mended, printed_number=mended.sound.number)
            cured = mended.washer == machine.sound and machine.washer != machine.sound
            trial = "cured_by" if cured else "no_change_by"
            evidence = replace(evidence, **{trial: getattr(evidence, trial) | {part}})
            machine, whole = mended, everything(mended, random)
        known |= set(LOOKS.get(what, ()))
        evidence = replace(evidence, **{name: getattr(whole, name) for name in known - {"symptoms"}})
        if what is Try.MEASURE_CLOSER:
            evidence = replace(evidence, cannot_say=evidence.cannot_say | {what})
        if what in LOOKS and all(getattr(whole, name) is None for name in LOOKS[what][:1]):
            evidence = replace(evidence, cannot_say=evidence.cannot_say | {what})
        out.evidence, out.diagnosis = evidence, diagnose(evidence)
    return out
