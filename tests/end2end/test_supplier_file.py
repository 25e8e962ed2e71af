"""A supplier's list on the command line: what it would bring, corrected, taken, and taken once only."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.end2end.commands import run
from tests.gui.supplier_for_tests import SUPPLIER, messy_list


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return messy_list(tmp_path)


def asked(path: Path, home: Path, *more: str) -> Any:  # JSON
    done = run("supplier-file", str(path), "--supplier", SUPPLIER, *more, home=home)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_what_a_list_would_bring_is_told_and_nothing_is_taken(path: Path, tmp_path: Path) -> None:
    found = asked(path, tmp_path)
    assert found["counts"] == {"good": 25, "entered already": 0, "needs a look": 3, "refused": 3}
    assert found["read"]["title_rows"] == [1, 2]
    assert found["read"]["heading_rows"] == [4, 5]
    assert found["columns"][3] == {
        "column": 4,
        "heading": "Shaft mm",
        "field": "bore_diameter_mm",
        "title": "Bore diameter",
        "unit": "mm",
        "decimals": ",",
    }
    first = found["open_rows"][0]
    assert (first["state"], first["number"]) == ("needs a look", "ZQ-017")
    assert first["cells"][0]["choices"] == ["19.05 in", "19.05 mm"]
    assert first["cells"][0]["text"] == '19,05"'
    assert (found["taken"], found["to_take"], found["open_rows_not_listed"]) == (None, 25, 0)
    assert asked(path, tmp_path)["counts"] == found["counts"]


def test_a_column_is_corrected_on_the_command_line(path: Path, tmp_path: Path) -> None:
    found = asked(path, tmp_path, "--column", "form=Note", "--column", "Shaft mm=", "--how", "sheet")
    assert [one["field"] for one in found["columns"]][3:7] == [None, "rating_pressure_bar", "rating_flow_lpm", "note"]
    assert found["how"] == "sheet"


def test_rows_of_headings_and_decimal_mark_are_said_on_the_command_line_and_remembered(
    path: Path, tmp_path: Path
) -> None:
    seemed = asked(path, tmp_path)["read"]
    assert (seemed["headings_said"], seemed["decimals_said"]) == (False, None)
    found = asked(path, tmp_path, "--headings", "5", "--decimal", "point", "--column", "No.=number")
    assert (found["read"]["heading_rows"], found["read"]["headings_said"]) == ([5], True)
    assert found["read"]["decimals_said"] == "."
    assert [one["field"] for one in found["columns"]][:2] == ["number", None]
    taking = ("--decimal", "comma", "--headings", "4 to 5", "--take", "--who", "Ana")
    assert asked(path, tmp_path, *taking)["read"]["decimals_said"] == ","
    again = asked(path, tmp_path)["read"]
    assert (again["decimals_said"], again["heading_rows"]) == (",", [4, 5])
    assert asked(path, tmp_path, "--decimal", "seems")["read"]["decimals_said"] is None


def test_the_good_rows_are_taken_once_and_the_others_written(path: Path, tmp_path: Path) -> None:
    refused = tmp_path / "back.csv"
    found = asked(path, tmp_path, "--take", "--who", "Ana", "--refused", str(refused))
    assert (found["taken"]["rows"], found["taken"]["new_entries"]) == (25, 25)
    assert found["taken"]["act"] == f"25 rows of {SUPPLIER}, {path.name}"
    assert found["refused_file"] == {"written": str(refused), "rows": 6}
    assert len(refused.read_text("utf-8-sig").splitlines()) == 7
    again = asked(path, tmp_path, "--take", "--who", "Ana")
    assert again["counts"]["entered already"] == 25
    assert again["taken"] == {"act": None, "rows": 0, "new_entries": 0, "entries": []}


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        (("--take",), "supplier-file --take: nobody says who takes it – give --who NAME."),
        (("--column", "Frm=note"), "--column: no column is headed “Frm” – the headings are “Part No.”, “Maker”, "),
        (("--column", "Form"), "--column “Form” says nothing – write it like “Shaft=bore_diameter_mm:in”."),
        (("--column", "Form=nothing"), "--column “Form=nothing”: nothing is nothing that a list of pumps tells – the "),
        (("--column", "Form=note:ell"), "--column “Form=note:ell”: “ell” is no unit – leave it out, or write one "),
        (("--headings", "5-4"), "--headings: Rows 5 to 4 stand the wrong way round: say the upper one first."),
        (("--headings", "4-99"), "--headings: There is no row 99: this sheet has rows 1 to 36; say rows among these."),
        (("--sheet", "Pumps"), "--sheet: there is no sheet “Pumps” – there are no names: it is no workbook."),
    ],
)
def test_what_is_said_wrongly_is_one_sentence(path: Path, tmp_path: Path, more: tuple[str, ...], sentence: str) -> None:
    done = run("supplier-file", str(path), "--supplier", SUPPLIER, *more, home=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(sentence)
    assert done.stderr.count("\n") == 1


def test_a_file_that_is_none_is_one_sentence(tmp_path: Path) -> None:
    done = run("supplier-file", str(tmp_path / "none.csv"), "--supplier", SUPPLIER, home=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("“none.csv” cannot be opened")
