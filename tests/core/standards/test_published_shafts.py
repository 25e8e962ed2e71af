"""Shafts of NEMA motors and small engines against ASME B17.1, the NEMA numbering rule and the C faces."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.exact import as_fraction
from xref_app.core.standards.faces import published_faces
from xref_app.core.standards.keys import keyed_pairs, shaft_floor_in
from xref_app.core.standards.shafts_engine import EngineShaft, engine_shafts
from xref_app.core.standards.shafts_nema import NemaShaft, hinted_nema_shaft_mm, nema_shafts, nema_tolerances
from xref_app.core.standards.table_files import table_rows

PAIRS = {pair.diameter_mm: pair for pair in keyed_pairs()}
KEYED = [shaft for shaft in nema_shafts() if shaft.key_width_mm]


def frame(shaft: NemaShaft) -> str:
    return shaft.frame


def label(shaft: EngineShaft) -> str:
    return f"{shaft.label} {shaft.axis}"


@pytest.mark.parametrize(
    "row", [row for row in table_rows("shafts_nema") if row["key_width_in"]], ids=lambda row: row["frame"]
)
def test_nema_keyseat_floor_is_that_of_b17_1(row: dict[str, str]) -> None:
    # Source: NEMA MG 1 prints R; ASME B17.1 gives S = D - H/2 - y for the square key.
    key_in = as_fraction(row["key_width_in"])
    computed = shaft_floor_in(shaft_in=as_fraction(row["shaft_u_in"]), key_width_in=key_in, key_height_in=key_in)
    assert float(row["shaft_floor_r_in"]) == pytest.approx(float(computed), abs=0.001)


@pytest.mark.parametrize("shaft", KEYED, ids=frame)
def test_nema_shaft_takes_the_key_of_b17_1_on_its_length(shaft: NemaShaft) -> None:
    assert shaft.key_width_mm == PAIRS[shaft.shaft_diameter_mm].key_width_mm
    assert shaft.keyseat_length_mm is not None
    assert shaft.key_length_mm is not None
    assert shaft.key_length_mm <= shaft.keyseat_length_mm < shaft.projection_mm
    assert shaft.usable_mm is None or shaft.keyseat_length_mm <= shaft.usable_mm < shaft.projection_mm


@pytest.mark.parametrize("shaft", nema_shafts(), ids=frame)
def test_frame_number_says_the_height_of_the_axis(shaft: NemaShaft) -> None:
    # Source: NEMA MG 1 numbering: D is the two-digit frame / 16, of three digits the first two / 4, in inches.
    digits = shaft.frame.rstrip("T")
    expected_in = int(digits) / 16 if len(digits) == 2 else int(digits[:2]) / 4
    assert shaft.centre_height_mm == pytest.approx(expected_in * 25.4, abs=1e-9)


@pytest.mark.parametrize("shaft", nema_shafts(), ids=frame)
def test_foot_and_face_of_one_frame_have_the_same_shaft(shaft: NemaShaft) -> None:
    # Source: NEMA MG 1, clauses 4.4.1 and 4.4.4, tables of their own.
    (face,) = [face for face in published_faces() if face.name == f"{shaft.frame}C"]
    assert shaft.shaft_diameter_mm == face.shaft_diameter_mm
    assert shaft.key_width_mm == face.key_width_mm
    assert shaft.keyseat_length_mm == face.keyseat_length_mm


def test_only_key_lengths_of_large_frames_are_from_memory() -> None:
    assert all(shaft.decides for shaft in nema_shafts())
    assert {shaft.frame for shaft in nema_shafts() if not shaft.key_length_decides} == {"213T", "215T", "254T", "256T"}


def test_shaft_tolerances_follow_one_another_and_run_downwards() -> None:
    rows = [row for row in nema_tolerances() if row.what == "shaft diameter"]
    assert all(lower.to_incl_mm == upper.over_mm for lower, upper in pairwise(rows))
    assert all(row.lower_mm < 0 == row.upper_mm for row in rows)
    assert all(row.lower_mm <= row.upper_mm for row in nema_tolerances())
    assert not any(row.decides for row in nema_tolerances() if "shaft" in row.what or "keyseat" in row.what)


@pytest.mark.parametrize("nominal", ["5/8", "7/8", "1-1/8", "1-3/8"])
def test_hinted_limits_are_half_a_thousandth_wide(nominal: str) -> None:
    # Source: the band of 0.0005 in is printed for close-coupled frames (8740 to 8745); where it hangs is from memory.
    hint = hinted_nema_shaft_mm(as_fraction(nominal))
    assert (hint.high - hint.low) / 25.4 == pytest.approx(0.0005)
    assert hint.high == pytest.approx(float(as_fraction(nominal)) * 25.4)


def test_hinted_limits_are_wider_above_one_and_a_half_and_missing_outside() -> None:
    hint = hinted_nema_shaft_mm(Fraction(13, 8))
    assert (hint.high - hint.low) / 25.4 == pytest.approx(0.001)
    with pytest.raises(NotInStandardError, match=r"^A shaft of 7 in is not in our table of NEMA MG 1; give a diameter"):
        hinted_nema_shaft_mm(Fraction(7))


@pytest.mark.parametrize("shaft", engine_shafts(), ids=label)
def test_engine_shaft_takes_the_key_of_b17_1(shaft: EngineShaft) -> None:
    # Source: ASME B17.1, key by shaft range (1-3/8 in takes 5/16 there; shops also cut 3/8, which the note says).
    assert shaft.key_width_mm == PAIRS[shaft.diameter_mm].key_width_mm


@pytest.mark.parametrize("shaft", [shaft for shaft in engine_shafts() if shaft.shaft_mm], ids=label)
def test_engine_shaft_never_exceeds_its_name_and_is_within_two_thousandths(shaft: EngineShaft) -> None:
    assert shaft.shaft_mm is not None
    assert shaft.shaft_mm.low < shaft.shaft_mm.high <= shaft.diameter_mm + 1e-9
    assert shaft.shaft_mm.low > shaft.diameter_mm - 0.002 * 25.4


def test_engine_shafts_ascend_and_are_hints() -> None:
    diameters = [shaft.diameter_mm for shaft in engine_shafts()]
    assert diameters == sorted(diameters)
    assert not any(shaft.limits_decide for shaft in engine_shafts())
    assert [shaft.label for shaft in engine_shafts() if shaft.decides] == ["3/4 in"]
