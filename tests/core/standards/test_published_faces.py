"""NEMA C and IEC faces against MG 1, ISO 773 and plain geometry; remembered ones are hints only."""

from __future__ import annotations

import math

import pytest

from xref_app.core.standards.faces import PublishedFace, face_or_none, published_faces
from xref_app.core.standards.keys import keyed_pairs
from xref_app.core.standards.table_files import table_rows

PAIRS = {pair.diameter_mm: pair for pair in keyed_pairs()}


def called(face: PublishedFace) -> str:
    return face.name


def face(name: str) -> PublishedFace:
    found = face_or_none(name)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("name", "shaft_in", "circle_in", "pilot_in", "bolt"),
    # Source: NEMA MG 1, clause 4.4.4, and NEMA frame charts (U, AJ, AK, BF; two sources agree).
    [
        ("56C", 0.625, 5.875, 4.5, "3/8-16"),
        ("143TC", 0.875, 5.875, 4.5, "3/8-16"),
        ("145TC", 0.875, 5.875, 4.5, "3/8-16"),
        ("184TC", 1.125, 7.25, 8.5, "1/2-13"),
    ],
)
def test_nema_face_is_the_published_one(
    name: str, shaft_in: float, circle_in: float, pilot_in: float, bolt: str
) -> None:
    found = face(name)
    assert found.shaft_diameter_mm == pytest.approx(shaft_in * 25.4)
    assert found.bolt_circle_mm == pytest.approx(circle_in * 25.4)
    assert found.pilot_mm.high == pytest.approx(pilot_in * 25.4)
    assert found.pilot_mm.doubt * 2 == pytest.approx(0.003 * 25.4)
    assert (found.thread, found.hole_kind, found.bolt_count, found.decides) == (bolt, "tapped", 4, True)


@pytest.mark.parametrize("found", published_faces(), ids=called)
def test_neighbouring_holes_stand_a_chord_apart_on_the_circle(found: PublishedFace) -> None:
    # Geometry: chord = circle · sin(180 / n); the centre of all holes is the shaft's axis.
    first, second = found.holes_xy_mm[:2]
    assert math.dist(first, second) == pytest.approx(found.bolt_circle_mm * math.sin(math.pi / found.bolt_count))
    assert len(found.holes_xy_mm) == found.bolt_count
    assert sum(x for x, _ in found.holes_xy_mm) == pytest.approx(0, abs=1e-9)
    assert found.holes_xy_mm[0][0] > 0
    assert found.holes_xy_mm[0][1] > 0


@pytest.mark.parametrize("found", [found for found in published_faces() if found.key_width_mm], ids=called)
def test_shaft_takes_the_key_of_its_standard(found: PublishedFace) -> None:
    # Source: ASME B17.1 and ISO 773 by shaft range.
    assert found.key_width_mm == PAIRS[found.shaft_diameter_mm].key_width_mm


@pytest.mark.parametrize("row", table_rows("faces_iec"), ids=lambda row: f"{row['frame']} {row['mount']}")
def test_iec_row_agrees_with_iso_773_and_its_own_flange_name(row: dict[str, str]) -> None:
    # Source: ISO 773 (GA); IEC 60072-1: the number after FF or FT is the bolt circle.
    pair = PAIRS[float(row["shaft_d_mm"])]
    assert pair.key_top_mm.high == pytest.approx(float(row["over_key_ga_mm"]), abs=1e-9)
    assert pair.key_height_mm == float(row["key_height_mm"])
    assert row["flange"] == ("FF" if row["mount"] == "B5" else "FT") + row["bolt_circle_m_mm"]


@pytest.mark.parametrize("found", published_faces(), ids=called)
def test_hole_is_either_tapped_or_through(found: PublishedFace) -> None:
    assert (found.thread is None) is (found.hole_kind == "through")
    assert (found.hole_mm is None) is (found.hole_kind == "tapped")


def test_a_face_from_memory_never_decides() -> None:
    # The README of the tables: IEC flange columns are from memory; a verdict may not rest on them.
    assert {found.standard for found in published_faces() if not found.decides} == {"IEC 60072-1"}
    assert not any(found.decides for found in published_faces() if "from memory for" in found.confidence)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("56c", "56C"),
        ("145 TC", "145TC"),
        ("80-B14", "80 B14"),
        ("90L B5", "90 B5"),
        ("100LB14", "100 B14"),
        ("112M B5", "112 B5"),
    ],
)
def test_face_is_found_by_what_a_plate_says(written: str, name: str) -> None:
    assert face(written).name == name


@pytest.mark.parametrize("written", ["", "57C", "80", "B14", "95 B14", "FF165"])
def test_unknown_face_is_none(written: str) -> None:
    assert face_or_none(written) is None
