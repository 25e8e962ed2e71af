"""A desk over a handful of invented pumps held in memory: the real judge, the real drawing, no store.

Every maker, model and number is made up; sizes are those of the case in design.md section 10, changed one by one.
"""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from tests.services.best_measurement import best_settling_of
from tests.soundness.bases import changed, on_circle, section_10
from xref_app.core.errors import XrefError
from xref_app.core.fit.finding import Judgement, Verdict
from xref_app.core.model.case import Case
from xref_app.core.plan.judge import judge
from xref_app.core.progress import Progress
from xref_app.core.sentence import Sentence
from xref_app.exchange.case_file import read_case
from xref_app.services.answers import Candidate, Candidates, FactRow, FactState, Found, Hit, Job, MachineChoice
from xref_app.services.judge_candidates import headline
from xref_app.services.side_view import gauge_of, plate_of, side_of, spacer_of
from xref_app.sheets.face_drawing import face_drawing
from xref_app.sheets.shapes import Drawing

READ_AS = "number or model “{text}”. Entries that could mean: {count}."
MAKER = "Lowmarsh"

_FITTING = {
    "kind": "fitting",
    "part_id": "FT-14",
    "name": "3/8 NPT to M22",
    "bin": "C3",
    "ends": [
        {"thread": "3/8-18 NPT", "gender": "male"},
        {"thread": "M22x1.5", "gender": "male", "seal_mm": 14},
    ],
    "rating_bar": 280,
    "count": 2,
    "cost": 6.5,
}

# number -> what differs from the pump of design.md section 10
PUMPS: Mapping[str, Mapping[str, Any]] = {  # JSON values
    "K4872-20": {},
    "K4872-25": {"pump__flange__holes_xy_mm": on_circle(46, 45, 135, 225, 315)},
    "B2700-34": {
        "pump__bore__depth_mm": 62.6,
        "pump__ports__outlet": {"thread": "3/8-18 NPT", "gender": "female", "direction_deg": 0},
    },
    "D2427": {"pump__bore__keyway_width_mm": None, "pump__bore__keyway_floor_mm": None},
    "D2431": {"pump__flange__holes_xy_mm": None, "pump__ports__outlet__direction_deg": None},
    "F1000": {
        "pump__bore__diameter_mm": 25.4,
        "pump__bore__keyway_width_mm": 6.4,
        "pump__bore__keyway_floor_mm": 28.42,
    },
    # Too short a shaft for an adapter plate: 61.9 - 41 leaves 20.9 mm inside, 19.05 are needed.
    "H0050": {"pump__flange__holes_xy_mm": on_circle(50, 0, 90, 180, 270), "pump__bore__recess_mm": 41.0},
    "L3300": {
        "pump__flange__seat_heights_mm": [0, 0, -2.0, 0],
        "pump__flange__seat_kind": "legs",
        "pump__bore__axis": "vertical",
    },
    "S1450": {"pump__rating__max_speed_rpm": 1750, "pump__rating__speed_rpm": 1450},
}
NOTHING_FITS = ("F1000", "H0050", "L3300", "S1450")
MODELS = ("Tern 27", "Heron 40")
BUILDS = (
    MachineChoice("M27A", "Tern 27", MAKER, "4.1 kW petrol", "K4872-20", "2009 to 2013", "round air-filter cover"),
    MachineChoice("M27B", "Tern 27", MAKER, "4.8 kW petrol", "B2700-34", "2013 to 2018", "square air-filter cover"),
    MachineChoice("M27C", "Tern 27", MAKER, "electric", "S1450", "2016 to 2018", "cable and grey switch box"),
)

FACTS = (
    FactRow("shaft_diameter_mm", "Shaft diameter", "19.05 mm (3/4 in)", "measured, Ana, 3 Nov", FactState.KNOWN),
    FactRow("shaft_projection_mm", "Shaft projection", "61.9 mm (2.437 in)", "measured, Ana, 3 Nov", FactState.KNOWN),
    FactRow("shaft_key_width_mm", "Key width", "4.76 mm (3/16 in)", "measured, Ana, 3 Nov", FactState.KNOWN),
    FactRow(
        "face_holes_xy_mm",
        "Bolt holes",
        "4 on 92 mm (3.622 in) / 4 on 88.9 mm (3 1/2 in)",
        "measured, 2 persons",
        FactState.CONFLICT,
    ),
    FactRow("face_bolt", "Bolt thread", "5/16-24 UNF", "measured, Ana, 3 Nov", FactState.KNOWN),
    FactRow("shaft_turn", "Shaft turns", "ccw", "plate", FactState.KNOWN),
    FactRow("power_kw", "Power", "4.1 kW (5.5 hp)", "plate", FactState.KNOWN),
    FactRow("power_speed_rpm", "Speed", "3400 rpm", "plate", FactState.KNOWN),
    FactRow("nozzle_number", "Nozzle", "3.5", "claimed, seller's page", FactState.KNOWN),
    FactRow("face_material", "Material of the face", "aluminium", "typical", FactState.HINT),
    FactRow("face_tapped_depth_mm", "Tapped depth", "? not known", "", FactState.UNKNOWN),
    FactRow("face_pilot_kind", "Pilot on the face", "? not known", "", FactState.UNKNOWN),
    FactRow("room_length_mm", "Room for the pump", "? not known", "", FactState.UNKNOWN),
)


class NoSuchPumpError(XrefError):
    """The desk was asked about a pump it does not hold."""


@dataclass
class DeskForTests:
    """Answers at once, or only once ``gate`` is open, so that a test can look while work is under way."""

    numbers: tuple[str, ...] = tuple(PUMPS)
    catalog_name: str = "Sample 1, made up"
    fails_with: Exception | None = None
    gate: threading.Event = field(default_factory=threading.Event)
    asked: list[str] = field(default_factory=list)
    counted: Mapping[Verdict, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.gate.set()

    def title(self) -> str:
        return self.catalog_name

    def find(self, text: str, progress: Progress) -> Found:
        self.asked.append(f"find {text}")
        self._wait(progress)
        wanted = text.strip().upper()
        hits = [
            hit
            for number in (*MODELS, *PUMPS)
            if (hit := _hit_or_none(wanted, number, "machine" if number in MODELS else "pump"))
        ]
        hits.sort(key=lambda hit: -hit.score)
        read_as = Sentence(READ_AS, {"text": text.strip(), "count": len(hits)})
        advice = Sentence("Nothing matches “{text}”. Without its last character: {count}.", {"text": text, "count": 3})
        return Found(read_as, tuple(hits[:8]), len(hits), None if hits else advice)

    def open_job(
        self,
        pump_id: str | None,
        machine_id: str | None,
        progress: Progress,
        *,
        guessed_number: bool = False,
        among: tuple[str, ...] = (),  # noqa: ARG002 - the protocol's signature
    ) -> Job:
        self.asked.append(f"open {pump_id} {machine_id}")
        self._wait(progress)
        choices = BUILDS if machine_id == MODELS[0] else ()
        facts = () if choices and pump_id is None else FACTS
        note = Sentence("This model was built in {count} ways. Which one is here?", {"count": 3}) if choices else None
        title = " · ".join(word for word in (machine_id, pump_id) if word)
        return Job(pump_id, None if choices else machine_id, title, facts, choices, guessed_number, note)

    def pick_build(self, job: Job, machine_id: str, progress: Progress, *, sisters: tuple[str, ...] = ()) -> Job:
        self.asked.append(" ".join(("pick", machine_id, *sisters)))
        self._wait(progress)
        build = next(one for one in BUILDS if one.entry_id == machine_id)
        return replace(
            job, machine_id=machine_id, title=f"{build.model}, {build.built}", facts=FACTS, choices=(), note=None
        )

    def judge_all(self, job: Job, progress: Progress) -> Candidates:
        self.asked.append(f"judge {job.title}")
        rows: list[Candidate] = []
        for done, number in enumerate(self.numbers):
            self._wait(progress, done, len(self.numbers))
            judgement = _judged(number, guessed_number=job.guessed_number)
            rows.append(Candidate(number, number, MAKER, f"{number[0]} series", headline(judgement), judgement))
        order = ("Fits as is", "Fits with parts", "Not known yet", "Does not fit")
        rows.sort(key=lambda row: order.index(row.judgement.verdict))
        return Candidates(tuple(rows), best_settling_of(rows), self.counted)

    def face(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        self.asked.append(f"face {candidate_id}")
        self._wait(progress)
        if candidate_id not in PUMPS:
            raise NoSuchPumpError(f"The pump {candidate_id} is not in {job.title}: choose another.")
        case = _case(candidate_id)
        return face_drawing(case.machine, case.pump, _judged(candidate_id).clocking_deg)

    def side(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        self.asked.append(f"side {candidate_id} {job.title}")
        self._wait(progress)
        return side_of((_case(candidate_id),), ())

    def plate(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        self.asked.append(f"plate {candidate_id} {job.title}")
        self._wait(progress)
        return plate_of((_case(candidate_id),))

    def spacer(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        self.asked.append(f"spacer {candidate_id} {job.title}")
        self._wait(progress)
        return spacer_of((_case(candidate_id),))

    def gauge(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        self.asked.append(f"gauge {candidate_id} {job.title}")
        self._wait(progress)
        return gauge_of((_case(candidate_id),), ())

    def _wait(self, progress: Progress, done: int = 0, total: int = 1) -> None:
        """Wait until the gate is open, noticing a cancel on the way."""
        progress.step(done, total)
        while not self.gate.wait(0.002):
            progress.step(done, total)
        if self.fails_with is not None:
            raise self.fails_with


def judged(number: str) -> Judgement:
    """Return one of the invented pumps judged on the machine of design.md, section 10."""
    return _judged(number)


@cache
def _judged(number: str, *, guessed_number: bool = False) -> Judgement:
    return judge(_case(number, guessed_number=guessed_number))


def _case(number: str, *, guessed_number: bool = False) -> Case:
    data = changed(section_10(), **PUMPS[number])
    data["shelf"] = [{"kind": "spacer", "part_id": "SP-32", "thickness_mm": 3.2, "count": 6, "cost": 0.4, "bin": "A1"}]
    data["shelf"].append(_FITTING)
    return replace(read_case(data)[0], guessed_number=guessed_number)


def _hit_or_none(wanted: str, number: str, kind: str) -> Hit | None:
    """Match from the front, one ``?`` standing for one character."""
    upper = number.upper()
    if not wanted or len(wanted) > len(upper):
        return None
    guessed = tuple(place for place, letter in enumerate(wanted) if letter == "?")
    matched = tuple(place for place, letter in enumerate(wanted) if letter == upper[place])
    if len(guessed) + len(matched) < len(wanted):
        return None
    name = "series " + number[:2] if kind == "pump" else ""
    return Hit(number, kind, number, MAKER, name, matched, guessed, 100 * len(matched) / len(upper))
