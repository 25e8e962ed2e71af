"""Every thread of the tables is found again from readings inside its published limits, and alone once all is read.

The truths are drawn from the printed columns of ``threads.csv`` and from formulas written out again here, not from the
limits that the identification computes.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

import pytest

from xref_app.core.identify.answer import Identified
from xref_app.core.identify.thread import identify_thread
from xref_app.core.identify.thread_readings import (
    LARGE_END,
    SMALL_END,
    ThreadReadings,
    pitch_by_gauge_mm,
)
from xref_app.core.quantity.crests import pitch_from_crests_mm
from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import as_fraction
from xref_app.core.standards.table_files import table_rows

CALIPER_MM = 0.05
DRAWS = 25
PARTIAL_DRAWS = 6

PORTS = {"7/16-20 UNF", "9/16-18 UNF", "3/4-16 UNF", "7/8-14 UNF", "1-1/16-12 UN"}
SIZES_OF_G_AND_RP = {"1/16", "1/8", "1/4", "3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2"}


@dataclass(frozen=True)
class Truth:
    """One end of one printed row: what a perfect caliper could read on it, mm."""

    label: str
    designation: str
    gender: str
    at: str
    true_mm: Range
    pitch_mm: float
    taper: bool
    angle_deg: float
    seal_mm: float | None = None

    def __str__(self) -> str:
        return f"{self.label} {self.gender} {self.at}".strip()


@cache
def truths() -> tuple[Truth, ...]:
    return tuple(truth for row in table_rows("threads") for truth in (*males(row), *females(row)))


def number(row: Mapping[str, str], column: str) -> float:
    return float(as_fraction(row[column])) * (25.4 if row["unit"] == "in" else 1.0)


def pitch_of(row: Mapping[str, str]) -> float:
    return 25.4 / float(as_fraction(row["tpi"])) if row["tpi"] else float(row["pitch_mm"])


def truth_of(row: Mapping[str, str], gender: str, at: str, true_mm: Range) -> Truth:
    taper = row["system"] in {"NPT", "R"}
    name = row["designation"]
    return Truth(name, name, gender, at, true_mm, pitch_of(row), taper, float(row["angle_deg"]))


def males(row: Mapping[str, str]) -> list[Truth]:
    if row["system"] == "NPT":
        # Source: ASME B1.20.1: E0 = D - (0.05 D + 1.1) p, L2 = (0.80 D + 6.8) p, full height 0.8 p, taper 1/16.
        pipe, pitch = float(as_fraction(row["pipe_od"])), 1 / float(as_fraction(row["tpi"]))
        tip = pipe - (0.05 * pipe + 1.1) * pitch + 0.8 * pitch
        hand_tight = tip + float(row["hand_tight_length"]) / 16
        ends = {SMALL_END: (tip, tip + pitch / 16), LARGE_END: (hand_tight, pipe)}
        return [truth_of(row, "male", at, Range(low, high) * 25.4) for at, (low, high) in ends.items()]
    if row["system"] == "R":
        # Source: ISO 7-1: basic major diameter at the gauge plane, the gauge length from the tip, taper 1/16.
        gauge, turn = number(row, "major_basic"), pitch_of(row) / 16
        tip = gauge - number(row, "hand_tight_length") / 16
        ends = {SMALL_END: (tip, tip + turn), LARGE_END: (gauge, gauge + 5 * turn)}
        return [truth_of(row, "male", at, Range(*limits)) for at, limits in ends.items()]
    if not row["external_major_min"]:
        return []
    true = Range(number(row, "external_major_min"), number(row, "external_major_max"))
    return sealed(truth_of(row, "male", "", true))


def females(row: Mapping[str, str]) -> list[Truth]:
    if row["system"] == "NPT":
        # Source: ASME B1.20.1: pitch diameter E1 at the mouth, L1 / 16 less hand tight, height 0.8 p.
        mouth, height = number(row, "pitch_basic"), 0.8 * pitch_of(row)
        deep = mouth - number(row, "hand_tight_length") / 16
        return [truth_of(row, "female", "", Range(deep - height, mouth - height))]
    if row["system"] == "R":
        # Source: ISO 7-1: the basic minor diameter at the gauge plane, in the mouth of Rc and all along Rp.
        minor, turn = number(row, "minor_basic"), pitch_of(row) / 16
        bare = truth_of(row, "female", "", Range(minor - turn, minor + turn))
        return [
            replace(bare, label=f"{name}{row['nominal']}", designation=f"{name}{row['nominal']}", taper=name == "Rc")
            for name in ("Rp", "Rc")
        ]
    if not row["internal_minor_min"]:
        return []
    true = Range(number(row, "internal_minor_min"), number(row, "internal_minor_max"))
    return sealed(truth_of(row, "female", "", true))


def sealed(truth: Truth) -> list[Truth]:
    if truth.designation == "M22x1.5":
        return [replace(truth, label=f"M22x1.5, {seal:g} mm seal", seal_mm=seal) for seal in (14.0, 15.0)]
    if truth.designation in PORTS:
        return [truth, replace(truth, label=f"{truth.designation} O-ring port")]
    return [truth]


def complete_readings(truth: Truth, draw: random.Random) -> ThreadReadings:
    """Read everything, with a caliper that is off by up to its doubt and a gauge or a count of crests."""
    true = draw.choice((truth.true_mm.low, truth.true_mm.high, draw.uniform(truth.true_mm.low, truth.true_mm.high)))
    read = Range.around(true + draw.choice((-1, 1, draw.uniform(-1, 1))) * CALIPER_MM * 0.999, CALIPER_MM)
    steps = draw.randint(5, 12)
    length = Range.around(truth.pitch_mm * steps + draw.uniform(-1, 1) * CALIPER_MM, CALIPER_MM)
    by_gauge = pitch_by_gauge_mm(truth.pitch_mm)
    by_crests = pitch_from_crests_mm(crests_counted_with_both_ends=steps + 1, first_to_last_crest_mm=length)
    return ThreadReadings(
        gender=truth.gender,
        outside_mm=read if truth.gender == "male" else None,
        outside_at=truth.at,
        inside_mm=read if truth.gender == "female" else None,
        pitch_mm=draw.choice((by_gauge, by_crests)),
        taper=truth.taper,
        flank_angle_deg=truth.angle_deg,
    )


def some_missing(whole: ThreadReadings, draw: random.Random) -> ThreadReadings:
    """Leave out what the draw says; what is left says the same."""
    kept = [draw.random() < 0.7 for _ in range(6)]
    return ThreadReadings(
        gender=whole.gender if kept[0] else "",
        outside_mm=whole.outside_mm if kept[1] else None,
        outside_at=whole.outside_at if kept[2] else "",
        inside_mm=whole.inside_mm if kept[1] else None,
        pitch_mm=whole.pitch_mm if kept[3] else None,
        taper=whole.taper if kept[4] else None,
        flank_angle_deg=whole.flank_angle_deg if kept[5] else None,
    )


def labels(answer: Identified) -> list[str]:
    return [candidate.label for candidate in answer.candidates]


def twins(truth: Truth) -> set[str]:
    """Return every label that pitch, taper, angle, gender and diameter cannot tell from the truth, itself included.

    The O-ring port and the plain thread it is cut in; the two seals of M22x1.5; cut and rolled hose thread where their
    limits overlap; the straight pipe threads for hose and for mechanical joints; a G and an Rp socket; 32 threads per
    inch and 0.8 mm, which a gauge does not tell apart, where the limits of #10 and M5 meet.
    """
    size = truth.designation.removeprefix("Rp").removeprefix("G")
    sets: dict[str, set[str]] = {
        "M22x1.5": {"M22x1.5, 14 mm seal", "M22x1.5, 15 mm seal"},
        "3/4-11.5 NH": {"3/4-11.5 NH", "3/4-11.5 NHR"},
        "3/4-11.5 NHR": {"3/4-11.5 NH", "3/4-11.5 NHR"},
        "3/4-14 NPSH": {"3/4-14 NPSH", "3/4-14 NPSM"},
        "3/4-14 NPSM": {"3/4-14 NPSH", "3/4-14 NPSM"},
        "#10-32 UNF": {"#10-32 UNF", "M5x0.8"},
    }
    sets |= {name: {name, f"{name} O-ring port"} for name in PORTS}
    if truth.gender == "female" and size in SIZES_OF_G_AND_RP:
        sets |= {f"{name}{size}": {f"G{size}", f"Rp{size}"} for name in ("G", "Rp")}
    return sets.get(truth.designation, {truth.label})


def test_every_row_of_the_table_is_drawn_from() -> None:
    printed = {row["designation"] for row in table_rows("threads")}
    unlimited = {
        row["designation"] for row in table_rows("threads") if "from memory for limits, none" in row["confidence"]
    }
    drawn = {truth.designation for truth in truths()}
    assert printed - drawn == unlimited
    assert len(drawn) > 100


@pytest.mark.parametrize("truth", truths(), ids=str)
def test_the_true_thread_is_always_among_the_candidates(truth: Truth) -> None:
    draw = random.Random(str(truth))
    for _ in range(DRAWS):
        assert truth.label in labels(identify_thread(complete_readings(truth, draw)))
    for _ in range(PARTIAL_DRAWS):
        readings = some_missing(complete_readings(truth, draw), draw)
        assert truth.label in labels(identify_thread(readings)), readings


@pytest.mark.parametrize("truth", truths(), ids=str)
def test_with_pitch_taper_and_angle_it_is_the_only_one_but_for_named_twins(truth: Truth) -> None:
    draw = random.Random(f"alone {truth}")
    for _ in range(DRAWS):
        answer = identify_thread(complete_readings(truth, draw))
        assert set(labels(answer)) <= twins(truth)
        assert answer.ambiguous == (len(answer.candidates) > 1 and "hose" not in systems(answer))


def systems(answer: Identified) -> set[str]:
    """Return the families, the two hose threads that go together called hose."""
    found = {candidate.system for candidate in answer.candidates}
    return found - {"hose"} if any("NPS" in candidate.label for candidate in answer.candidates) else found


@pytest.mark.parametrize("truth", truths(), ids=str)
def test_what_is_left_open_names_a_reading_that_was_not_taken_or_says_that_none_tells(truth: Truth) -> None:
    draw = random.Random(f"next {truth}")
    for _ in range(PARTIAL_DRAWS):
        readings = some_missing(complete_readings(truth, draw), draw)
        answer = identify_thread(readings)
        if not answer.ambiguous:
            assert answer.next_measurement is None
        elif answer.next_measurement is None:
            assert any("No reading tells" in str(note) for note in answer.notes)
        else:
            ask = answer.next_measurement
            assert set(ask.between) <= set(labels(answer))
            assert getattr(readings, ask.reading) in {None, ""}


def taken(asked: str, readings: ThreadReadings, truth: Truth, draw: random.Random) -> ThreadReadings:
    """Take the reading that was asked for, on the true thread."""
    whole = complete_readings(truth, draw)
    if asked == "other_end_mm":
        ends = [one for one in truths() if (one.label, one.gender) == (truth.label, truth.gender)]
        other = next((one for one in ends if one.at != truth.at), truth)
        return replace(readings, other_end_mm=complete_readings(other, draw).outside_mm)
    if asked == "seal_mm":
        # A thread without a seal has nothing to measure: the person sees so and says that it is none of the two.
        return replace(readings, seal_mm=Range.around(truth.seal_mm or 1.0, 0.1))
    if asked == "seat":
        return replace(readings, seat=draw.choice(seats(truth)))
    return replace(readings, **{asked: getattr(whole, asked)})


def seats(truth: Truth) -> tuple[str, ...]:
    """Return what the thread may be found to seal on: a G on a seat or cone, a port on its O-ring, others may not."""
    if truth.label.endswith("O-ring port"):
        return ("o-ring",)
    if truth.label.startswith("G"):
        return ("face", "o-ring", "cone")
    return ("none",)


@pytest.mark.parametrize("truth", truths(), ids=str)
def test_taking_what_is_asked_for_leads_to_the_end_and_never_away_from_the_truth(truth: Truth) -> None:
    draw = random.Random(f"walk {truth}")
    whole = complete_readings(truth, draw)
    readings = ThreadReadings(
        gender=truth.gender, outside_mm=whole.outside_mm, outside_at=whole.outside_at, inside_mm=whole.inside_mm
    )
    answer = identify_thread(readings)
    asked: list[str] = []
    while answer.next_measurement is not None:
        asked.append(answer.next_measurement.reading)
        assert len(set(asked)) == len(asked), "asked twice"
        readings = taken(asked[-1], readings, truth, draw)
        answer = identify_thread(readings)
        assert truth.label in labels(answer), (asked, readings)
    assert set(labels(answer)) <= twins(truth)


SEATED = [truth for truth in truths() if truth.designation in PORTS]


@pytest.mark.parametrize("truth", SEATED, ids=str)
def test_an_o_ring_port_and_its_plain_thread_are_told_apart_by_looking(truth: Truth) -> None:
    readings = complete_readings(truth, random.Random(1))
    open_answer = identify_thread(readings)
    assert open_answer.next_measurement is not None
    assert open_answer.next_measurement.reading == "seat"
    is_port = truth.label.endswith("port")
    seated = identify_thread(replace(readings, seat="o-ring" if is_port else "none"))
    assert labels(seated) == [truth.label]
    assert not seated.ambiguous


@pytest.mark.parametrize("truth", [truth for truth in truths() if truth.seal_mm], ids=str)
def test_a_seal_that_was_read_is_named(truth: Truth) -> None:
    assert truth.seal_mm is not None
    readings = complete_readings(truth, random.Random(2))
    answer = identify_thread(replace(readings, seal_mm=Range.around(truth.seal_mm + 0.08, 0.1)))
    assert labels(answer) == [truth.label]
    assert not answer.ambiguous
