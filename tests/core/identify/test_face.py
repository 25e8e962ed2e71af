"""Faces against NEMA MG 1; what is only remembered is found and decides nothing."""

from __future__ import annotations

import pytest

from xref_app.core.identify.answer import Identified
from xref_app.core.identify.circle_of_three import circle_through_three_mm
from xref_app.core.identify.face import identify_face
from xref_app.core.identify.face_known import KnownFace, known_faces
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError
from xref_app.core.standards.engine_faces import engine_faces
from xref_app.core.standards.faces import published_faces

CALIPER_MM = 0.05
CIRCLE_56C = Range.around(5.875 * 25.4, 0.15)


def labels(found: Identified) -> set[str]:
    return {one.label for one in found.candidates}


def called(face: KnownFace) -> str:
    return face.name


@pytest.mark.parametrize("face", known_faces(), ids=called)
def test_every_face_is_among_the_candidates_of_its_own_sizes(face: KnownFace) -> None:
    pilot = None if face.pilot is None else Range.around(face.pilot.low, CALIPER_MM)
    shaft = None if face.shaft is None else Range.around(face.shaft.low, CALIPER_MM)
    found = identify_face(face.bolt_count, Range.around(face.nominal_circle_mm, 0.15), pilot, shaft)
    assert face.name in labels(found)
    assert all(one.decides is (one.system == "NEMA MG 1") for one in found.candidates)


def test_all_faces_of_the_tables_are_known() -> None:
    assert len(known_faces()) == len(published_faces()) + len(engine_faces())


def test_the_shaft_tells_the_faces_on_one_circle_apart() -> None:
    # Source: NEMA MG 1, clause 4.4.4: 56C, 143TC, 145TC and the TCH frames share AJ 5.875 and AK 4.5 in.
    pilot = Range.around(114.3, CALIPER_MM)
    found = identify_face(4, CIRCLE_56C, pilot)
    assert labels(found) == {"56C", "143TC", "145TC", "182TCH", "184TCH"}
    assert found.ambiguous
    assert found.next_measurement is not None
    assert found.next_measurement.reading == "shaft_diameter_mm"
    settled = identify_face(4, CIRCLE_56C, pilot, Range.around(15.87, CALIPER_MM))
    assert labels(settled) == {"56C"}
    assert not settled.ambiguous


def test_frames_that_differ_in_length_only_stay_ambiguous_with_nothing_to_ask() -> None:
    found = identify_face(4, CIRCLE_56C, Range.around(114.3, CALIPER_MM), Range.around(22.22, CALIPER_MM))
    assert labels(found) == {"143TC", "145TC"}
    assert found.ambiguous
    assert found.next_measurement is None
    assert any("only the plate tells them apart" in str(note) for note in found.notes)


def test_the_pilot_is_a_second_witness() -> None:
    # 165 mm (IEC FF165) and 6-1/2 in (165.1 mm) are one circle to a caliper; the pilots are 130 mm and 5-3/4 in.
    circle = Range.around(165.05, 0.15)
    found = identify_face(4, circle)
    assert {"80 B5", "90 B5", "132 B14", "large engine face"} == labels(found)
    assert found.next_measurement is not None
    assert found.next_measurement.reading == "pilot_mm"
    assert labels(identify_face(4, circle, Range.around(5.75 * 25.4, CALIPER_MM))) == {"large engine face"}
    assert "large engine face" not in labels(identify_face(4, circle, Range.around(130, CALIPER_MM)))


def test_a_pilot_that_disagrees_rules_out_and_is_said() -> None:
    found = identify_face(4, CIRCLE_56C, Range.around(100, CALIPER_MM))
    assert found.candidates == ()
    assert "a pilot of 114.22 to 114.45 mm" in str(found.notes[0])


def test_a_circle_alone_settles_no_face() -> None:
    # 48C is the one published face on 3-3/4 in.
    circle = Range.around(3.75 * 25.4, 0.15)
    alone = identify_face(4, circle)
    assert labels(alone) == {"48C"}
    assert alone.ambiguous
    assert alone.next_measurement is not None
    assert alone.next_measurement.reading == "pilot_mm"
    assert any("proves no face" in str(note) for note in alone.notes)
    assert not identify_face(4, circle, Range.around(3 * 25.4, CALIPER_MM)).ambiguous


def test_the_vertical_engine_base_is_a_hint_that_asks_for_three_distances() -> None:
    found = identify_face(3, Range.around(7.96 * 25.4, 0.15))
    assert labels(found) == {"vertical engine base of 3 holes"}
    assert not any(one.decides for one in found.candidates)
    said = " ".join(str(note) for note in found.notes)
    assert "take all three distances" in said
    assert "a hint, no proof" in said


def test_no_engine_face_ever_decides() -> None:
    assert not any(face.decides for face in known_faces() if face.standard == "engine")
    assert all("two sources" not in face.confidence for face in engine_faces())


def test_remembered_circles_agree_with_the_sides_a_trade_page_lists() -> None:
    # A trade page of pump bolt patterns: a square of 2-9/16 in; three sides of 7-11/16, 6-3/16 and 6-7/16 in.
    circles_in = {face.name: face.bolt_circle_mm / 25.4 for face in engine_faces()}
    assert circles_in["small engine face"] == pytest.approx((2 + 9 / 16) * 2**0.5, abs=0.002)
    heron = circle_through_three_mm(*(Range.exactly(side) for side in (7.6875, 6.1875, 6.4375)))
    assert circles_in["vertical engine base of 3 holes"] == pytest.approx(heron.middle, abs=0.002)


def test_the_number_of_holes_counts() -> None:
    assert identify_face(3, CIRCLE_56C).candidates == ()


@pytest.mark.parametrize(("holes", "circle"), [(1, CIRCLE_56C), (4, Range(0, 10)), (4, Range(1, float("inf")))])
def test_what_is_no_face_is_refused(holes: int, circle: Range) -> None:
    with pytest.raises(ReadingError):
        identify_face(holes, circle)
