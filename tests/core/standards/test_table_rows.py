"""Every table: a source and a confidence on every row, no web address, no gap and no overlap in its bands."""

from __future__ import annotations

import re
from importlib.resources import files
from itertools import pairwise

import pytest

from xref_app.core.standards.exact import as_fraction
from xref_app.core.standards.table_files import decides, spread_of, table_rows

TABLES = sorted(
    item.name.removesuffix(".csv")
    for item in (files("xref_app.core.standards") / "tables").iterdir()
    if item.name.endswith(".csv")
)
BANDS = [
    ("keys_inch_ranges", "shaft_over_in", "shaft_to_incl_in"),
    ("keys_inch_tolerances", "key_width_over_in", "key_width_to_incl_in"),
    ("keys_metric", "shaft_over_mm", "shaft_to_incl_mm"),
    ("iso286_grades", "over_mm", "to_incl_mm"),
    ("iso286_upper_deviations", "over_mm", "to_incl_mm"),
]
CONFIDENCE = re.compile(r"two sources agree|one source|from memory")
# Tables whose second place to look is not recorded row by row.
NOT_CHECKED_ROW_BY_ROW = {"threads", "faces_engine"}
EXPECTED = {
    "bolt_grades",
    "bolt_lengths",
    "bolt_torques",
    "faces_engine",
    "faces_iec",
    "faces_nema",
    "inch_fractions",
    "iso286_grades",
    "iso286_upper_deviations",
    "joints",
    "keys_inch_depths",
    "keys_inch_ranges",
    "keys_inch_tolerances",
    "keys_metric",
    "near_misses",
    "nozzle_flows",
    "shafts_engine",
    "shafts_nema",
    "socket_screws",
    "threads",
    "tolerances_nema",
    "trade_practice",
}


def test_the_tables_are_all_there() -> None:
    assert set(TABLES) == EXPECTED


@pytest.mark.parametrize("table", TABLES)
def test_every_row_names_its_source_and_confidence(table: str) -> None:
    rows = table_rows(table)
    assert rows
    for row in rows:
        assert row["source"], row
        assert CONFIDENCE.match(row["confidence"]), row


@pytest.mark.parametrize("table", sorted(EXPECTED - NOT_CHECKED_ROW_BY_ROW))
def test_every_row_says_what_it_was_checked_against(table: str) -> None:
    for row in table_rows(table):
        assert row["checked_against"], row


@pytest.mark.parametrize("table", TABLES)
def test_no_row_stands_twice(table: str) -> None:
    rows = [tuple(row.values()) for row in table_rows(table)]
    assert len(set(rows)) == len(rows)


@pytest.mark.parametrize(
    ("confidence", "expected"),
    [
        ("two sources agree", True),
        ("one source", True),
        ("two sources agree for OD; from memory for limits", True),
        ("from memory", False),
        ("from memory for limits; two sources agree for the name", False),
    ],
)
def test_what_is_from_memory_first_does_not_decide(confidence: str, expected: bool) -> None:
    assert decides(confidence) is expected


@pytest.mark.parametrize("table", TABLES)
def test_no_row_has_a_cell_too_many_or_too_few(table: str) -> None:
    for row in table_rows(table):
        assert None not in row
        assert None not in row.values()


@pytest.mark.parametrize("table", TABLES)
def test_no_table_points_at_the_web_or_names_an_owner_of_a_repository(table: str) -> None:
    text = " ".join(" ".join(row.values()) for row in table_rows(table))
    assert not re.search(r"https?:|www\.|\.(com|org|net|edu|io|gov)\b", text)
    assert not re.search(r"\brepo \w|\b[0-9a-f]{8}\b|\.scad\b|\.py\b(?<!isofits\.py)", text)


@pytest.mark.parametrize(("table", "over", "to_incl"), BANDS)
def test_bands_ascend_without_gap_or_overlap(table: str, over: str, to_incl: str) -> None:
    rows = table_rows(table)
    for row in rows:
        assert as_fraction(row[over]) < as_fraction(row[to_incl])
    for lower, upper in pairwise(rows):
        assert lower[to_incl] == upper[over]


def test_the_two_tables_of_iso_286_have_the_same_bands() -> None:
    bands = [[row["to_incl_mm"] for row in table_rows(f"iso286_{name}")] for name in ("grades", "upper_deviations")]
    assert bands[0] == bands[1]


@pytest.mark.parametrize(
    ("printed", "lower", "upper"),
    [("+0.000/-0.002", "-0.002", "0"), ("+0.1/0", "0", "0.1"), ("+0.010/-0.000", "0", "0.01")],
)
def test_printed_tolerances_are_read_in_either_order(printed: str, lower: str, upper: str) -> None:
    assert spread_of(printed) == (as_fraction(lower), as_fraction(upper))
