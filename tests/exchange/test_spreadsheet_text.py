"""No text of a file is run by a spreadsheet, and every text comes back as it was."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.exchange.damaged_folders import ENGINE, PUMP, ROWS
from xref_app.core.model.catalog import Number
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.data_package import DESCRIPTOR, read_data_package, write_data_package
from xref_app.exchange.spreadsheet_text import guarded, unguarded

# OWASP, "CSV Injection": the characters with which spreadsheets begin a formula, and what Unicode folds onto them
# (NFKC of the full-width and small forms).
RISKY = "=+-@\t\r\n\0＝＋－＠﹦﹢﹣﹫"
TEXTS = st.text(max_size=30) | st.builds(
    lambda quotes, start, rest: quotes + start + rest,
    st.sampled_from(("", "'", "''")),
    st.sampled_from(RISKY),
    st.text(max_size=20),
)


@settings(max_examples=2000, deadline=None)
@given(TEXTS)
def test_any_text_comes_back_and_none_begins_a_formula(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert guarded(text)[:1] not in set(RISKY)


@pytest.mark.parametrize("text", ["=1+1", "@SUM(A1)", "＝1", "-12", "\t=1", "'=1", "''@"])
def test_a_text_that_would_be_run_gets_one_apostrophe(text: str) -> None:
    assert guarded(text) == "'" + text


@pytest.mark.parametrize("text", ["", "12 mm", "'quoted'", "1-2", "a=b", "±0.05"])
def test_other_texts_stay_as_they_are(text: str) -> None:
    assert guarded(text) == text


def test_numbers_below_zero_stay_numbers_and_texts_do_not_begin_a_formula(tmp_path: Path) -> None:
    seen = replace(ROWS.observations[0], as_typed="-12", source="=HYPERLINK(1)", doubt=0.5)
    pump = replace(PUMP, name="+Pump; =1", note='@x\r\n,"')
    numbers = (Number("P-1A", "-" + "7" * 39, "plate", "plate"),)
    rows = CatalogRows(entries=(pump, ENGINE), numbers=numbers, observations=(seen,))
    write_data_package(rows, tmp_path)
    for file in tmp_path.glob("*.csv"):
        with file.open(encoding="utf-8", newline="") as opened:
            assert not [cell for row in csv.reader(opened) for cell in row if cell[:1] in set(RISKY) - {""}]
    assert read_data_package(tmp_path) == rows


def test_the_schemas_of_a_package_allow_for_the_apostrophe(tmp_path: Path) -> None:
    """A validator that knows nothing of us must find a number of the full length right, apostrophe and all."""
    write_data_package(ROWS, tmp_path)
    resources = json.loads((tmp_path / DESCRIPTOR).read_text(encoding="utf-8"))["resources"]
    numbers = next(one for one in resources if one["name"] == "numbers")["schema"]["fields"]
    assert next(one for one in numbers if one["name"] == "number")["constraints"]["pattern"] == r"'?\S(.{0,38}\S)?"
    assert next(one for one in numbers if one["name"] == "source")["constraints"]["maxLength"] == 401
