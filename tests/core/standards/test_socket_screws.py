"""Socket head cap screws and their clearance holes, against the data of bd-warehouse 0.4.0 (Apache-2.0)."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from xref_app.core.standards.exact import as_fraction
from xref_app.core.standards.socket_screws import SocketScrew, socket_screw_or_none, socket_screws

DATA = Path(__file__).with_name("data")


def printed(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / f"{name}.csv").read_text(encoding="utf-8").splitlines()))


def mm(screw: SocketScrew, value: str) -> float:
    return float(as_fraction(value)) * (25.4 if screw.system == "inch" else 1)


@pytest.mark.parametrize("row", printed("socket_screws"), ids=lambda row: row["size"])
def test_heads_are_those_of_the_library(row: dict[str, str]) -> None:
    # Source: bd-warehouse 0.4.0, socket_head_cap_parameters.csv: ISO 4762 and ASME B18.3, dk and k.
    designation = row["size"] if row["standard"] == "ASME B18.3" else row["size"].replace("-", "x")
    screw = socket_screw_or_none(designation)
    assert screw is not None
    assert row["standard"] in screw.source
    assert screw.head_diameter_mm == pytest.approx(mm(screw, row["head_diameter"]), abs=1e-9)
    assert screw.head_height_mm == pytest.approx(mm(screw, row["head_height"]), abs=1e-9)


@pytest.mark.parametrize("row", printed("clearance_holes"), ids=lambda row: row["size"])
def test_clearance_holes_are_those_of_the_library(row: dict[str, str]) -> None:
    # Source: bd-warehouse 0.4.0, clearance_hole_sizes.csv, column Normal: ISO 273 medium, ASME B18.2.8 normal.
    (screw,) = (one for one in socket_screws() if one.size == row["size"])
    assert screw.clearance_mm == pytest.approx(mm(screw, row["normal"]), abs=1e-9)


def test_every_size_of_the_table_stands_in_the_library() -> None:
    assert {screw.size for screw in socket_screws()} == {row["size"] for row in printed("clearance_holes")}


def test_the_head_of_every_size_is_wider_than_its_hole() -> None:
    for screw in socket_screws():
        assert screw.nominal_mm < screw.clearance_mm < screw.head_diameter_mm


@pytest.mark.parametrize("designation", ["M12", "G3/8", "3/8-18 NPT", "no thread"])
def test_a_thread_without_such_a_screw_has_none(designation: str) -> None:
    assert socket_screw_or_none(designation) is None


def test_inch_and_metric_sizes_close_together_are_told_apart() -> None:
    inch, metric = socket_screw_or_none("5/16-24 UNF"), socket_screw_or_none("M8x1.25")
    assert inch is not None
    assert metric is not None
    assert (inch.size, metric.size) == ("5/16", "M8")
