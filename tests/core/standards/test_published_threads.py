"""Threads: identities of ISO 68-1, ASME B1.20.1 and ISO 228-1, and look-up by what people write."""

from __future__ import annotations

import math

import pytest

from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.threads import (
    ThreadRow,
    bolt_major_mm,
    bolt_nominal_mm,
    bolt_pitch_mm,
    bolt_system,
    thread_row,
    thread_row_or_none,
    thread_rows,
)


def family(*names: str) -> list[ThreadRow]:
    return [row for row in thread_rows() if row.family in names]


def called(row: ThreadRow) -> str:
    return row.designation


@pytest.mark.parametrize("row", family("metric", "unified", "unified port"), ids=called)
def test_sixty_degree_pitch_diameter_follows_from_the_profile(row: ThreadRow) -> None:
    # Source: ISO 68-1 and ASME B1.1: d2 = d - 3/8 · √3 · P. The table rounds to 0.001 mm or 0.0001 in.
    assert row.pitch_diameter_mm == pytest.approx(row.major_mm - 3 / 8 * math.sqrt(3) * row.pitch_mm, abs=0.003)


@pytest.mark.parametrize("row", family("G", "R"), ids=called)
def test_fifty_five_degree_pitch_diameter_follows_from_the_profile(row: ThreadRow) -> None:
    # Source: ISO 228-1: depth of thread h = 0.640327 P, d2 = d - h.
    assert row.pitch_diameter_mm == pytest.approx(row.major_mm - 0.640327 * row.pitch_mm, abs=0.003)


@pytest.mark.parametrize("row", family("NPT"), ids=called)
def test_npt_pitch_diameter_follows_from_pipe_and_length(row: ThreadRow) -> None:
    # Source: ASME B1.20.1: E0 = D - (0.05 D + 1.1) p, E1 = E0 + L1 / 16, in inches.
    assert row.pipe_od_mm is not None
    assert row.hand_tight_mm is not None
    pipe_in, pitch_in = row.pipe_od_mm / 25.4, row.pitch_mm / 25.4
    e1_in = pipe_in - (0.05 * pipe_in + 1.1) * pitch_in + row.hand_tight_mm / 25.4 / 16
    assert row.pitch_diameter_mm == pytest.approx(e1_in * 25.4, abs=0.003)


def test_g_and_r_share_their_diameters() -> None:
    # Source: ISO 7-1 and ISO 228-1 share the basic diameters at the gauge plane.
    by_name = {row.designation: row for row in thread_rows()}
    for row in family("R"):
        parallel = by_name.get(f"G{row.nominal}")
        if parallel is not None:
            assert (row.major_mm, row.pitch_mm) == (parallel.major_mm, parallel.pitch_mm)


@pytest.mark.parametrize("row", [row for row in thread_rows() if row.external_major_mm], ids=called)
def test_external_limits_never_exceed_the_basic_diameter(row: ThreadRow) -> None:
    assert row.external_major_mm is not None
    assert row.external_major_mm.high <= row.major_mm + 1e-9


def test_designations_and_diameters_are_unique() -> None:
    names = [row.designation for row in thread_rows()]
    assert len(set(names)) == len(names) == 60


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("M8", "M8x1.25"),
        ("m8 x 1.25", "M8x1.25"),
        ("M10×1.25", "M10x1.25"),
        ("M10", "M10x1.5"),
        ("5/16-24", "5/16-24 UNF"),
        ("5/16-24 unf", "5/16-24 UNF"),
        ("3/8-18 NPT", "3/8-18 NPT"),
        ("G3/8", "G3/8"),
        ("g 3/8", "G3/8"),
        ("3/4-11.5 NH", "3/4-11.5 NH"),
        ("M22x1.5", "M22x1.5"),
    ],
)
def test_thread_is_found_by_what_people_write(written: str, found: str) -> None:
    assert thread_row(written).designation == found


@pytest.mark.parametrize("written", ["", "M7", "3/8", "3/8-18", "22x1.5", "5/16-24 UNEF"])
def test_unknown_thread_is_not_guessed(written: str) -> None:
    assert thread_row_or_none(written) is None
    with pytest.raises(NotInStandardError, match=r"is not in our table of threads; write it like M22x1\.5"):
        thread_row(written)


def test_bolt_diameter_runs_from_the_least_of_the_table_to_basic() -> None:
    # Source: ISO 965-1, 6g: M8x1.25 major 7.760; ASME B1.1, 2A: 5/16-24 major 0.3042 in.
    metric, inch = bolt_major_mm("M8"), bolt_major_mm("5/16-24")
    assert metric is not None
    assert (metric.low, metric.high) == (7.76, 8.0)
    assert inch is not None
    assert (inch.low, inch.high) == pytest.approx((0.3042 * 25.4, 7.9375))
    assert (bolt_pitch_mm("3/8-16"), bolt_nominal_mm("3/8-16"), bolt_system("3/8-16")) == (1.5875, 9.525, "inch")
    assert bolt_system("M8") == "metric"


@pytest.mark.parametrize("written", ["3/8-18 NPT", "G3/8", "3/4-11.5 NH", "nonsense"])
def test_no_bolt_is_made_in_a_pipe_or_hose_thread(written: str) -> None:
    assert bolt_major_mm(written) is None
    assert bolt_pitch_mm(written) is None
    assert bolt_nominal_mm(written) is None
    assert bolt_system(written) is None


def test_rows_and_limits_from_memory_are_flagged_as_hints() -> None:
    assert {row.designation for row in thread_rows() if not row.decides} == {"M21x1.5", "3/4-11.5 NHR"}
    hints = {row.designation for row in thread_rows() if not row.limits_decide}
    assert hints == {"M21x1.5", "3/4-11.5 NHR", "3/4-11.5 NH", "3/4-14 NPSH"}
