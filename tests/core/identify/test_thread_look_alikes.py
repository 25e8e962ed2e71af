"""Threads that look alike stay open until the reading that decides; what is neither is said to be neither."""

from __future__ import annotations

from dataclasses import replace

import pytest

from xref_app.core.errors import XrefError
from xref_app.core.identify.answer import Identified
from xref_app.core.identify.thread import identify_thread
from xref_app.core.identify.thread_facts import thread_facts
from xref_app.core.identify.thread_forms import thread_forms
from xref_app.core.identify.thread_limits import female_limits, male_limits
from xref_app.core.identify.thread_next import next_measurement
from xref_app.core.identify.thread_readings import (
    ThreadReadingError,
    ThreadReadings,
    pitch_by_gauge_mm,
    pitch_by_tpi_gauge,
    taper_by_ends,
)
from xref_app.core.parts.joints import SEALS_MM
from xref_app.core.quantity.crests import pitch_from_crests_mm
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.threads import parse_thread
from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.threads import ThreadRow, thread_row, thread_rows


def read(value_mm: float, doubt_mm: float = 0.05) -> Range:
    return Range.around(value_mm, doubt_mm)


def labels(answer: Identified) -> set[str]:
    return {candidate.label for candidate in answer.candidates}


def asked(answer: Identified) -> str:
    assert answer.next_measurement is not None
    return answer.next_measurement.reading


def half_inch(taper: bool | None = None, angle_deg: float | None = None) -> Identified:
    return identify_thread(
        ThreadReadings(
            gender="male",
            outside_mm=read(20.9),
            pitch_mm=pitch_by_tpi_gauge(14),
            taper=taper,
            flank_angle_deg=angle_deg,
        )
    )


def test_the_half_inch_pipe_threads_are_open_by_diameter_and_pitch() -> None:
    answer = half_inch()
    assert labels(answer) >= {"G1/2", "R1/2", "1/2-14 NPT"}
    assert answer.ambiguous
    assert asked(answer) == "taper"


@pytest.mark.parametrize(
    ("taper", "angle_deg", "decided"), [(False, 55.0, "G1/2"), (True, 55.0, "R1/2"), (True, 60.0, "1/2-14 NPT")]
)
def test_taper_and_angle_decide_the_half_inch_pipe_threads(taper: bool, angle_deg: float, decided: str) -> None:
    halfway = half_inch(taper)
    assert halfway.ambiguous
    assert asked(halfway) == "flank_angle_deg"
    answer = half_inch(taper, angle_deg)
    assert labels(answer) == {decided}
    assert not answer.ambiguous
    assert answer.candidates[0].decides


def test_what_only_memory_knows_stands_behind_what_is_published() -> None:
    answer = half_inch(taper=False)
    assert [(one.label, one.decides) for one in answer.candidates] == [("G1/2", True), ("1/2-14 NPSM", False)]


def test_a_thread_only_memory_knows_is_a_hint_even_when_alone() -> None:
    answer = half_inch(taper=False, angle_deg=60.0)
    assert [(one.label, one.decides) for one in answer.candidates] == [("1/2-14 NPSM", False)]
    assert "from memory" in str(answer.notes[0])


@pytest.mark.parametrize(
    ("pitch_mm", "decided"),
    [
        (pitch_by_tpi_gauge(18), "5/16-18 UNC"),
        (pitch_by_tpi_gauge(24), "5/16-24 UNF"),
        (pitch_by_gauge_mm(1.25), "M8x1.25"),
    ],
)
def test_the_eight_millimetre_screws_are_open_by_diameter_and_decided_by_pitch(pitch_mm: Range, decided: str) -> None:
    by_diameter = identify_thread(ThreadReadings(gender="male", outside_mm=read(7.85)))
    assert labels(by_diameter) >= {"5/16-18 UNC", "5/16-24 UNF", "M8x1.25"}
    assert by_diameter.ambiguous
    assert asked(by_diameter) == "pitch_mm"
    answer = identify_thread(ThreadReadings(gender="male", outside_mm=read(7.85), pitch_mm=pitch_mm, taper=False))
    assert labels(answer) == {decided}
    assert not answer.ambiguous


def test_hose_thread_and_twelve_per_inch_are_open_at_equal_diameter() -> None:
    by_diameter = identify_thread(ThreadReadings(gender="male", outside_mm=read(26.9), taper=False))
    assert labels(by_diameter) >= {"3/4-11.5 NH", "1-1/16-12 UN", "M27x2"}
    assert asked(by_diameter) == "pitch_mm"
    hose = identify_thread(ThreadReadings(gender="male", outside_mm=read(26.9), pitch_mm=pitch_by_tpi_gauge(11.5)))
    assert (labels(hose), hose.ambiguous) == ({"3/4-11.5 NH"}, False)
    twelve = identify_thread(ThreadReadings(gender="male", outside_mm=read(26.9), pitch_mm=pitch_by_tpi_gauge(12)))
    assert labels(twelve) == {"1-1/16-12 UN", "1-1/16-12 UN O-ring port"}
    assert asked(twelve) == "seat"


def test_crests_over_a_short_length_leave_hose_and_twelve_per_inch_open() -> None:
    # 25.4 / 11.5 = 2.2087 mm and 25.4 / 12 = 2.1167 mm: 0.092 mm a step, 0.92 mm over ten.
    over_one = pitch_from_crests_mm(crests_counted_with_both_ends=2, first_to_last_crest_mm=Range.around(2.16, 0.05))
    over_ten = pitch_from_crests_mm(crests_counted_with_both_ends=11, first_to_last_crest_mm=Range.around(22.087, 0.05))
    vague = identify_thread(ThreadReadings(gender="male", outside_mm=read(26.9), pitch_mm=over_one))
    assert labels(vague) >= {"3/4-11.5 NH", "1-1/16-12 UN"}
    assert vague.ambiguous
    clear = identify_thread(ThreadReadings(gender="male", outside_mm=read(26.9), pitch_mm=over_ten))
    assert labels(clear) == {"3/4-11.5 NH"}


def test_the_two_hose_threads_go_together_and_are_not_called_open() -> None:
    answer = identify_thread(
        ThreadReadings(gender="male", outside_mm=read(26.6), pitch_mm=pitch_by_tpi_gauge(11.5), taper=False)
    )
    assert [one.label for one in answer.candidates] == ["3/4-11.5 NH", "3/4-11.5 NHR"]
    assert not answer.ambiguous
    assert "go together" in str(answer.notes[-1])


M22_READINGS = [
    ThreadReadings(gender="male", outside_mm=read(21.85)),
    ThreadReadings(gender="male", outside_mm=read(21.85), pitch_mm=pitch_by_gauge_mm(1.5)),
    ThreadReadings(
        gender="female", inside_mm=read(20.5), pitch_mm=pitch_by_gauge_mm(1.5), taper=False, flank_angle_deg=60
    ),
]


@pytest.mark.parametrize("readings", M22_READINGS)
def test_m22_always_asks_for_the_seal(readings: ThreadReadings) -> None:
    answer = identify_thread(readings)
    assert labels(answer) >= {"M22x1.5, 14 mm seal", "M22x1.5, 15 mm seal"}
    assert answer.ambiguous
    assert asked(answer) == "seal_mm"
    assert any("seal" in str(note) for note in answer.notes)


def m22(seal_mm: float, doubt_mm: float) -> Identified:
    return identify_thread(
        ThreadReadings(
            gender="male",
            outside_mm=read(21.85),
            pitch_mm=pitch_by_gauge_mm(1.5),
            seal_mm=read(seal_mm, doubt_mm),
        )
    )


def test_a_seal_between_the_two_is_neither_and_is_asked_again() -> None:
    answer = m22(14.5, 0.1)
    assert labels(answer) == {"M22x1.5"}
    assert answer.ambiguous
    assert asked(answer) == "seal_mm"
    assert "neither the 14 mm nor the 15 mm" in str(answer.notes[0])


def test_a_seal_read_too_coarsely_leaves_both() -> None:
    assert m22(14.5, 0.6).ambiguous
    assert labels(m22(14.5, 0.6)) == {"M22x1.5, 14 mm seal", "M22x1.5, 15 mm seal"}


def test_the_seals_are_those_that_the_joint_is_judged_with() -> None:
    assert thread_row("M22x1.5").seals_mm == SEALS_MM


def test_a_worn_thread_is_named_and_never_taken_for_good() -> None:
    # Source: ISO 965-1: the least major diameter of M8x1.25 6g is 7.760 mm.
    answer = identify_thread(ThreadReadings(gender="male", outside_mm=read(7.66), pitch_mm=pitch_by_gauge_mm(1.25)))
    assert answer.candidates == ()
    assert [str(note) for note in answer.notes] == [
        "The outside diameter lies 0.05 mm below the least of M8x1.25: worn or damaged, or neither."
    ]


def test_a_reading_that_only_its_doubt_brings_inside_is_said_to_be_so() -> None:
    answer = identify_thread(ThreadReadings(gender="male", outside_mm=read(7.73), pitch_mm=pitch_by_gauge_mm(1.25)))
    assert labels(answer) == {"M8x1.25"}
    assert "only its doubt reaches" in str(answer.notes[0])


def test_nothing_near_is_said_to_be_nothing() -> None:
    answer = identify_thread(ThreadReadings(gender="male", outside_mm=read(90.0)))
    assert (answer.candidates, answer.ambiguous) == ((), False)
    assert "No thread in our tables" in str(answer.notes[0])


def test_contradicting_readings_are_not_explained_away() -> None:
    answer = identify_thread(
        ThreadReadings(gender="male", outside_mm=read(20.9), pitch_mm=pitch_by_gauge_mm(1.5), flank_angle_deg=55)
    )
    assert answer.candidates == ()


def test_the_end_that_was_measured_narrows_the_pipe_threads() -> None:
    # 3/4-14 NPT: E0 + 0.8 p = 1.0248 in = 26.03 mm at the tip, the pipe 26.67 mm at the other end.
    pitch = pitch_by_tpi_gauge(14)
    unsaid = identify_thread(ThreadReadings(gender="male", outside_mm=read(26.67), pitch_mm=pitch, taper=True))
    small = identify_thread(
        ThreadReadings(gender="male", outside_mm=read(26.67), outside_at="small end", pitch_mm=pitch, taper=True)
    )
    assert "3/4-14 NPT" in labels(unsaid)
    assert "3/4-14 NPT" not in labels(small)


def test_a_diameter_at_each_end_rules_out_what_one_alone_allows() -> None:
    pitch = pitch_by_tpi_gauge(14)
    one_end = ThreadReadings(gender="male", outside_mm=read(20.9), outside_at="large end", pitch_mm=pitch)
    assert labels(identify_thread(one_end)) >= {"G1/2", "R1/2", "1/2-14 NPT"}
    both_ends = replace(one_end, other_end_mm=read(20.4))
    # 20.45 mm at most: G1/2 has at least 20.671 mm (ISO 228-1) at both its ends.
    assert labels(identify_thread(both_ends)) == {"R1/2", "1/2-14 NPT"}
    worn = identify_thread(replace(one_end, other_end_mm=read(20.6), taper=False, flank_angle_deg=55))
    assert [str(note) for note in worn.notes] == [
        "The outside diameter lies 0.02 mm below the least of G1/2: worn or damaged, or neither."
    ]
    worn_all_over = ThreadReadings(
        gender="male", outside_mm=read(7.66), other_end_mm=read(7.61), pitch_mm=Range(1.24, 1.26)
    )
    assert [str(note) for note in identify_thread(worn_all_over).notes] == [
        "The outside diameter lies 0.10 mm below the least of M8x1.25: worn or damaged, or neither."
    ]


@pytest.mark.parametrize(
    ("at", "words"), [("large end", "at the small end"), ("small end", "at the large end"), ("", "at the other end")]
)
def test_the_other_end_is_asked_for_by_name_where_nothing_easier_tells(at: str, words: str) -> None:
    sizes = [form for form in thread_forms() if form.label in {"1/2-14 NPT", "3/4-14 NPT"} and form.gender == "male"]
    readings = ThreadReadings("male", read(24.0), at, pitch_mm=pitch_by_tpi_gauge(14), taper=True, flank_angle_deg=60)
    ask = next_measurement(sizes, readings)
    assert ask is not None
    assert (ask.reading, ask.between) == ("other_end_mm", ("1/2-14 NPT", "3/4-14 NPT"))
    assert words in str(ask.ask)


def test_limits_of_half_inch_npt_by_hand() -> None:
    # Source: ASME B1.20.1, 1/2-14: E0 0.75843, E1 0.77843, L2 0.5337 in, full height 0.8 p. House rules: height at
    # least 0.67 p, made one turn (p / 16) either way, the first crest at most two turns behind the tip, jaws at most
    # three deeper.
    row, pitch = thread_row("1/2-14 NPT"), 1 / 14
    outside, inside = male_limits(row), female_limits(row, "")
    assert outside is not None
    assert inside is not None
    small = (0.75843 + 0.67 * pitch - pitch / 16, 0.75843 + 0.8 * pitch + 3 * pitch / 16)
    large = (0.77843 + 0.67 * pitch - pitch / 16, 0.75843 + 0.5337 / 16 + 0.8 * pitch + pitch / 16)
    mouth = (0.75843 - 0.8 * pitch - 4 * pitch / 16, 0.77843 - 0.67 * pitch + pitch / 16)
    for found, (low, high) in ((outside.small_mm, small), (outside.large_mm, large), (inside, mouth)):
        assert (found.low, found.high) == pytest.approx((low * 25.4, high * 25.4), abs=1e-6)


def test_a_hint_in_the_middle_of_its_limits_stands_before_a_published_size_that_is_only_reached() -> None:
    answer = identify_thread(
        ThreadReadings(gender="male", outside_mm=read(26.5), pitch_mm=pitch_by_tpi_gauge(11.5), taper=False)
    )
    assert [(one.label, one.decides) for one in answer.candidates] == [("3/4-11.5 NHR", False), ("3/4-11.5 NH", True)]


@pytest.mark.parametrize("row", [row for row in thread_rows() if row.decides and not row.limits_decide])
def test_house_limits_hold_what_memory_knows(row: ThreadRow) -> None:
    outside, inside = male_limits(row), female_limits(row, "")
    assert outside is not None
    assert inside is not None
    if row.external_major_mm is not None and row.internal_minor_mm is not None:
        assert row.external_major_mm.within(outside.unsaid_mm)
        assert row.internal_minor_mm.within(inside)
        return
    # ISO 965-1 class 6 (from memory): allowance + major tolerance, and tolerance of the hole, mm, by pitch.
    shank_mm, hole_mm = {
        0.5: (0.126, 0.140), 0.7: (0.162, 0.180), 0.8: (0.174, 0.200), 2.5: (0.377, 0.450),
        3.0: (0.423, 0.500), 3.5: (0.478, 0.560), 4.0: (0.535, 0.600),
    }[row.pitch_mm]  # fmt: skip
    assert outside.unsaid_mm.low <= row.major_mm - shank_mm
    assert inside.low <= row.major_mm - 1.0825 * row.pitch_mm + 0.001
    assert inside.high >= row.major_mm - 1.0825 * row.pitch_mm + hole_mm


def test_a_g_and_an_rp_socket_are_told_apart_by_nothing_but_the_seat() -> None:
    readings = ThreadReadings(
        gender="female", inside_mm=read(18.7, 0.1), pitch_mm=pitch_by_tpi_gauge(14), taper=False, flank_angle_deg=55
    )
    answer = identify_thread(readings)
    assert labels(answer) == {"G1/2", "Rp1/2"}
    assert asked(answer) == "seat"


def test_a_cone_leaves_the_parallel_pipe_thread_that_none_would_rule_out() -> None:
    # ISO 8434-6, from memory: G ends have cones of 60 degrees; ISO 228-1: the thread itself never seals.
    read = ThreadReadings(gender="male", outside_mm=Range(20.8, 20.95), pitch_mm=Range(1.80, 1.83))
    assert "G1/2" in labels(identify_thread(replace(read, seat="cone")))
    assert "G1/2" not in labels(identify_thread(replace(read, seat="none")))


def test_readings_of_the_other_gender_are_not_used_and_that_is_said() -> None:
    answer = identify_thread(
        ThreadReadings(gender="male", outside_mm=read(7.85), inside_mm=read(3.0), pitch_mm=pitch_by_gauge_mm(1.25))
    )
    assert labels(answer) == {"M8x1.25"}
    assert "says nothing about a male thread" in str(answer.notes[0])


def test_the_evidence_holds_each_reading_against_the_limits() -> None:
    answer = half_inch(taper=False, angle_deg=55.0)
    evidence = {one.reading: one for one in answer.candidates[0].evidence}
    assert set(evidence) == {"outside_mm", "pitch_mm", "taper", "flank_angle_deg"}
    # Source: ISO 228-1: major diameter of G1/2 20.955, tolerance 0.284 mm.
    assert (evidence["outside_mm"].limits.low, evidence["outside_mm"].limits.high) == (20.671, 20.955)
    assert str(evidence["outside_mm"].said) == "outside diameter read 20.85 to 20.95 mm, G1/2 allows 20.67 to 20.95 mm"


def test_nothing_read_leaves_everything_and_asks() -> None:
    answer = identify_thread(ThreadReadings())
    assert len(answer.candidates) > 100
    assert answer.ambiguous
    assert answer.next_measurement is not None


@pytest.mark.parametrize(("one", "other"), [(11.5, 12), (18, 19), (27, 28), (12, 13), (13, 14), (10, 11)])
def test_the_gauge_tells_neighbouring_leaves_apart(one: float, other: float) -> None:
    assert not pitch_by_tpi_gauge(one).meets(Range.exactly(25.4 / other))
    assert not pitch_by_tpi_gauge(other).meets(Range.exactly(25.4 / one))


def test_the_gauge_does_not_tell_twenty_per_inch_from_five_quarter_millimetres() -> None:
    assert pitch_by_tpi_gauge(20).meets(Range.exactly(1.25))
    assert pitch_by_tpi_gauge(14).meets(pitch_by_tpi_gauge(14))


def test_the_doubt_of_a_length_is_shared_over_its_crests() -> None:
    pitch = pitch_from_crests_mm(crests_counted_with_both_ends=11, first_to_last_crest_mm=Range.around(15.0, 0.05))
    assert (pitch.low, pitch.high) == pytest.approx((1.495, 1.505))


@pytest.mark.parametrize(
    ("large_mm", "small_mm", "found"), [(21.3, 20.7, True), (20.9, 20.9, False), (21.0, 20.7, None)]
)
def test_taper_is_read_off_two_diameters_or_left_open(large_mm: float, small_mm: float, found: bool | None) -> None:
    # 1/16 over 10 mm is 0.625 mm.
    assert taper_by_ends(read(large_mm), read(small_mm), Range.around(10.0, 0.5)) is found


@pytest.mark.parametrize("label", dict.fromkeys(form.label for form in thread_forms()))
def test_every_answer_names_a_thread_that_can_be_typed_in_and_looked_up(label: str) -> None:
    facts = thread_facts(label)
    typed = parse_thread(facts.designation)
    assert typed.designation == facts.designation
    assert typed.pitch_mm == pytest.approx(facts.pitch_mm, abs=1e-9)


def test_facts_of_an_unknown_label_are_refused() -> None:
    with pytest.raises(NotInStandardError, match="take a label that an answer gives"):
        thread_facts("M7x7")


def test_bad_readings_are_refused_in_one_sentence() -> None:
    with pytest.raises(ThreadReadingError, match="“both” is no gender of a thread; say one of “male”, “female”"):
        ThreadReadings(gender="both")
    with pytest.raises(ThreadReadingError, match="say one of “large end”, “small end”"):
        ThreadReadings(outside_at="middle")
    with pytest.raises(ThreadReadingError, match="flank angle of 30°; say 55 or 60"):
        ThreadReadings(flank_angle_deg=30)
    with pytest.raises(ThreadReadingError, match="reaches down to 0 mm"):
        ThreadReadings(outside_mm=Range(0.0, 1.0))
    with pytest.raises(XrefError, match="leaves no pitch to measure; count the first crest and the last too"):
        pitch_from_crests_mm(crests_counted_with_both_ends=1, first_to_last_crest_mm=read(10))
    for bad in (0.0, -14.0):
        with pytest.raises(XrefError, match="not above zero"):
            pitch_by_tpi_gauge(bad)
        with pytest.raises(XrefError, match="not above zero"):
            pitch_by_gauge_mm(bad)
