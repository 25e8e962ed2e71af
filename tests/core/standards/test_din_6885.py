"""Metric keys against the data of an independent library (data/din_6885_keys.csv, Apache-2.0)."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path

import pytest

from xref_app.core.standards.keys import keyed_pairs
from xref_app.core.standards.table_files import spread_of, table_rows

PAIRS = {pair.label: pair for pair in keyed_pairs()}
# The library prints +0.1 for the hub of the 24 mm shaft, where its own 25 to 30 mm rows of the same key have +0.2.
SLIP = ("24", "hub_depth_tol_mm")


def library_rows() -> list[dict[str, str]]:
    text = (Path(__file__).parent / "data" / "din_6885_keys.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def ours(shaft_mm: float) -> Mapping[str, str]:
    (row,) = [
        row
        for row in table_rows("keys_metric")
        if float(row["shaft_over_mm"]) < shaft_mm <= float(row["shaft_to_incl_mm"])
    ]
    return row


COVERED = [
    row for row in library_rows() if float(row["shaft_mm"]) > float(table_rows("keys_metric")[0]["shaft_over_mm"])
]


@pytest.mark.parametrize("row", COVERED, ids=lambda row: f"{row['shaft_mm']} mm")
def test_metric_key_is_that_of_the_library(row: dict[str, str]) -> None:
    # Source: bd-warehouse 0.4.0, shaft_key_parameters.csv (DIN 6885), Apache-2.0, read as data.
    found = ours(float(row["shaft_mm"]))
    for column, theirs in (
        ("key_width_mm", "key_width_mm"),
        ("key_height_mm", "key_height_mm"),
        ("hub_depth_t2_mm", "hub_depth_mm"),
        ("shaft_depth_t1_mm", "shaft_depth_mm"),
    ):
        assert float(found[column]) == float(row[theirs]), column
    assert float(spread_of(found["shaft_depth_tol_mm"])[1]) == float(row["shaft_depth_tol_mm"])
    slipped = (row["shaft_mm"], "hub_depth_tol_mm") == SLIP
    assert float(spread_of(found["hub_depth_tol_mm"])[1]) == (0.2 if slipped else float(row["hub_depth_tol_mm"]))


@pytest.mark.parametrize(
    "row", [row for row in COVERED if f"{row['shaft_mm']} mm" in PAIRS], ids=lambda row: row["shaft_mm"]
)
def test_floors_and_height_over_the_key_follow_from_the_library(row: dict[str, str]) -> None:
    # Source: ISO 773: d - t1, d + t2 and GA = d - t1 + h, with the library's t1, t2 and h.
    shaft, pair = float(row["shaft_mm"]), PAIRS[f"{row['shaft_mm']} mm"]
    assert pair.keyseat_floor_mm.high == pytest.approx(shaft - float(row["shaft_depth_mm"]), abs=1e-9)
    assert pair.keyway_floor_mm.low == pytest.approx(shaft + float(row["hub_depth_mm"]), abs=1e-9)
    over_key = shaft - float(row["shaft_depth_mm"]) + float(row["key_height_mm"])
    assert pair.key_top_mm.high == pytest.approx(over_key, abs=1e-9)


def test_the_known_slip_is_still_there_and_nowhere_else() -> None:
    tolerances = {row["shaft_mm"]: row["hub_depth_tol_mm"] for row in library_rows() if row["key_width_mm"] == "8"}
    assert {shaft for shaft, tolerance in tolerances.items() if tolerance != "0.2"} == {SLIP[0]}


def test_the_library_covers_most_of_our_sizes() -> None:
    assert len(COVERED) >= 25
    assert {row["licence"] for row in library_rows()} == {"Apache-2.0"}
