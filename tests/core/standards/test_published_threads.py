"""Threads: identities of their standards, limits by outside sources, and look-up by what people write."""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from pathlib import Path

import pytest
from screw_thread_lib.data import ASME_UN_2A2B_dict as UN

from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.table_files import table_rows
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
    assert len(set(names)) == len(names)
    assert len(names) >= 60


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
    rare = {"M20x2", "M22x2", "M24x2", "M26x1.5", "M27x1.5", "M30x1.5", "M30x2", "M33x2"}
    mechanical = {row.designation for row in family("NPSM")}
    hints = {row.designation for row in thread_rows() if not row.decides}
    assert hints == {"M21x1.5", "3/4-11.5 NHR"} | rare | mechanical
    limits_only = {row.designation for row in thread_rows() if row.decides and not row.limits_decide}
    unprinted = {row.designation for row in family("metric") if row.external_major_mm is None}
    assert limits_only == {"3/4-11.5 NH", "3/4-14 NPSH"} | unprinted
    assert {"M3x0.5", "M20x2.5", "M36x4"} <= unprinted


def test_no_bolt_has_limits_that_are_not_printed() -> None:
    for row in family("metric"):
        assert (bolt_major_mm(row.designation) is None) == (row.external_major_mm is None or not row.decides)
        assert (bolt_pitch_mm(row.designation) is None) == (row.external_major_mm is None or not row.decides)


@pytest.mark.parametrize("row", family("NPT"), ids=called)
def test_npt_identities(row: ThreadRow) -> None:
    # Source: ASME B1.20.1, in inches: E0 = D - (0.05 D + 1.1) p; E1 = E0 + L1 / 16; L2 = (0.80 D + 6.8) p.
    tip, at_hand_tight, pipe = row.tip_pitch_diameter_mm, row.pitch_diameter_mm, row.pipe_od_mm
    assert tip is not None
    assert at_hand_tight is not None
    assert pipe is not None
    assert row.hand_tight_mm is not None
    pipe_in, pitch_in = pipe / 25.4, row.pitch_mm / 25.4
    assert at_hand_tight == pytest.approx(tip + row.hand_tight_mm / 16, abs=0.0005)
    assert tip == pytest.approx((pipe_in - (0.05 * pipe_in + 1.1) * pitch_in) * 25.4, abs=0.0015)
    assert row.effective_length_mm == pytest.approx((0.80 * pipe_in + 6.8) * pitch_in * 25.4, abs=0.003)


@pytest.mark.parametrize("row", family("R"), ids=called)
def test_r_is_thinner_at_its_tip_by_a_sixteenth_of_the_gauge_length(row: ThreadRow) -> None:
    # Source: ISO 7-1: taper 1 in 16 on the diameter. The table rounds to 0.001 mm.
    assert row.hand_tight_mm is not None
    assert row.tip_major_mm == pytest.approx(row.major_mm - row.hand_tight_mm / 16, abs=0.0011)
    assert row.female_forms == ("Rp", "Rc")


@pytest.mark.parametrize("printed", table_rows("threads"), ids=lambda row: row["designation"])
def test_pitch_is_printed_once_and_follows_from_threads_per_inch(printed: Mapping[str, str]) -> None:
    assert bool(printed["tpi"]) != bool(printed["pitch_mm"])
    row = thread_row(printed["designation"])
    if printed["tpi"]:
        assert row.pitch_mm * float(printed["tpi"]) == pytest.approx(25.4, abs=1e-12)


@pytest.mark.parametrize("printed", table_rows("threads"), ids=lambda row: row["designation"])
def test_limits_are_in_order(printed: Mapping[str, str]) -> None:
    pairs = [("external_major", "external_pitch"), ("internal_pitch", "internal_minor")]
    columns = [column for pair in pairs for column in pair]
    for column in columns:
        if printed[f"{column}_min"]:
            assert float(printed[f"{column}_min"]) < float(printed[f"{column}_max"])
    for larger, smaller in pairs:
        if printed[f"{larger}_min"] and printed[f"{smaller}_min"]:
            assert float(printed[f"{smaller}_max"]) < float(printed[f"{larger}_min"])


UN_COLUMNS = {
    "dmax": "external_major_max",
    "dmin": "external_major_min",
    "d2max": "external_pitch_max",
    "d2min": "external_pitch_min",
    "D1max": "internal_minor_max",
    "D1min": "internal_minor_min",
    "D2max": "internal_pitch_max",
    "D2min": "internal_pitch_min",
}


def unified_of_the_library() -> dict[str, Mapping[str, float]]:
    """Return the library's limits in inches by our designation, for the sizes that both hold."""
    ours = {row["designation"] for row in table_rows("threads")}
    named = {f"{'#' if size.startswith('10-') else ''}{size} {limits['series']}": limits for size, limits in UN.items()}
    return {name: limits for name, limits in named.items() if name in ours}


def test_the_library_holds_our_sizes() -> None:
    assert {"1/4-20 UNC", "1/4-28 UNF", "1/2-13 UNC", "1/2-20 UNF", "3/4-16 UNF", "1-8 UNC"} <= set(
        unified_of_the_library()
    )


@pytest.mark.parametrize(("name", "limits"), unified_of_the_library().items())
def test_unified_limits_are_those_of_an_independent_library(name: str, limits: Mapping[str, float]) -> None:
    # Source: screw_thread_lib 0.0.6, which quotes ASME B1.1-2019. Its last digit may differ by one from rounding.
    printed = next(row for row in table_rows("threads") if row["designation"] == name)
    for theirs, ours in UN_COLUMNS.items():
        assert float(printed[ours]) == pytest.approx(limits[theirs], abs=0.00011), ours


def open_data_of_g() -> list[dict[str, str]]:
    text = (Path(__file__).parent / "data" / "iso_228_1.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@pytest.mark.parametrize("theirs", open_data_of_g(), ids=lambda row: row["size"])
def test_g_limits_are_those_of_an_open_data_set(theirs: Mapping[str, str]) -> None:
    # Source: bd-warehouse 0.4.0, bd_warehouse/data/iso_228_1.csv (Apache-2.0), the rows of our sizes unchanged.
    row = thread_row(f"G{theirs['size'].replace(' ', '-')}")
    major, minor = float(theirs["major_diameter"]), float(theirs["minor_diameter"])
    assert row.external_major_mm is not None
    assert row.internal_minor_mm is not None
    assert row.tpi == float(theirs["tpi"])
    assert row.major_mm == major
    assert row.pitch_diameter_mm == float(theirs["pitch_diameter"])
    assert row.external_major_mm.low == pytest.approx(major - float(theirs["external_major_tolerance"]), abs=1e-9)
    assert row.internal_minor_mm.low == pytest.approx(minor, abs=1e-9)
    assert row.internal_minor_mm.high == pytest.approx(minor + float(theirs["internal_minor_tolerance"]), abs=1e-9)


def test_the_open_data_set_holds_all_our_g_threads() -> None:
    assert {f"G{row['size'].replace(' ', '-')}" for row in open_data_of_g()} == {row.designation for row in family("G")}
