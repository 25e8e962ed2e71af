"""A catalog folder is read whole or not at all, and every fault is worded in one sentence."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.exchange.damaged_folders import ENGINE, PUMP, ROWS, append, swap
from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import field_for
from xref_app.core.model.catalog import ReplacedBy, ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange import table_schema_rows
from xref_app.exchange.data_package import DESCRIPTOR, read_data_package, write_data_package
from xref_app.exchange.data_package_problems import MAX_PROBLEMS, CatalogFolderError, DamagedCatalogError


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "catalog"
    write_data_package(ROWS, made)
    return made


# Each kind of damage to cells and rows, and the sentence after "1 problem was found in the catalog folder “…”, in ".
DAMAGES: dict[str, tuple[Callable[[Path], object], str]] = {
    "no number": (
        swap("observations.csv", ",22.225,", ',"22,2",'),
        "observations.csv, row 2, column value: “22,2” is not a number: write it with a point, like 22.225.",
    ),
    "number beyond floats": (
        swap("observations.csv", ",22.225,", ",1e999,"),
        "observations.csv, row 2, column value: “1e999” is too large to be a number: look for a typing slip.",
    ),
    "implausible size": (
        swap("observations.csv", ",22.225,", ",564.515,"),
        (
            "observations.csv, row 2, column value: “564.515” is outside 8 to 60 mm for bore diameter: "
            "look for a typing slip."
        ),
    ),
    "number missing": (
        swap("observations.csv", ",22.225,", ",,"),
        "observations.csv, row 2, column value: “” stands where a number must stand: give bore diameter as a value.",
    ),
    "number where words belong": (
        swap("observations.csv", ",yes,,yes,", ",yes,5,yes,"),
        "observations.csv, row 3, column value: “5” stands where words belong: give unloader built in as a text.",
    ),
    "word not in the list": (
        swap("observations.csv", ",yes,,yes,", ",yes,,maybe,"),
        "observations.csv, row 3, column text: “maybe” is not a word for unloader built in: take one of yes, no.",
    ),
    "unknown field": (
        swap("observations.csv", "has_unloader", "has_wings"),
        (
            "observations.csv, row 3, column field: “has_wings” is not a field of data_schema/sizes.schema.json: "
            "mend the name."
        ),
    ),
    "field of the other side": (
        swap("observations.csv", "3,D-1A", "3,P-1A"),
        (
            "observations.csv, row 4, column field: “shaft_form” is a size of the machine, and the entry is a pump: "
            "give it to the other one."
        ),
    ),
    "negative doubt": (
        swap("observations.csv", ",22.225,,,", ",22.225,,-0.1,"),
        "observations.csv, row 2, column doubt: “-0.1” is outside 0 and more: look for a typing slip.",
    ),
    "no such day": (
        swap("observations.csv", "2025-03-02", "2025-02-30"),
        "observations.csv, row 2, column seen_on: “2025-02-30” is not a day of the calendar: write it like 2026-11-25.",
    ),
    "not a whole number": (
        swap("observations.csv", "\n1,P-1A", "\n1.5,P-1A"),
        "observations.csv, row 2, column observation_id: “1.5” is not a whole number: write it like 12.",
    ),
    "not in the closed list": (
        swap("entries.csv", ",driver,", ",engine,"),
        "entries.csv, row 3, column kind: “engine” is not a word for it: take one of pump, driver, machine.",
    ),
    "required cell empty": (
        swap("numbers.csv", ",B 1-2,", ",,"),
        "numbers.csv, row 2, column number: “” stands where a value must stand: fill it in.",
    ),
    "pattern": (
        swap("shelf.csv", "\n", "\nplace one,,P-1A,B3,1,,,\n"),
        (
            "shelf.csv, row 2, column shelf_id: “place one” does not look like shelf place: "
            "it must match [A-Z][A-Z0-9-]{2,23}."
        ),
    ),
    "too long": (
        swap("entries.csv", "Haldrune", "H" * 81),
        f"entries.csv, row 3, column maker: “{'H' * 59}…” is longer than 80 characters: shorten it.",
    ),
    "not true or false": (
        append("ports.csv", b"P-1A,inlet,G3/4,female,,perhaps,,measured,,\n"),
        "ports.csv, row 2, column swivel: “perhaps” is neither true nor false: write one of them.",
    ),
    "key twice": (
        append("numbers.csv", b"P-1A,B 1-2,old,sheet,\n"),
        (
            "numbers.csv, row 3, column entry_id and number: “P-1A, B 1-2” stands in row 2 already: "
            "take one of the two out."
        ),
    ),
    "entry that is not there": (
        swap("numbers.csv", "P-1A", "P-9Z"),
        "numbers.csv, row 2, column entry_id: “P-9Z” is not in entries.csv: add it there or mend it here.",
    ),
    "shelf place for nothing": (
        append("shelf.csv", b"S-01,,,B3,1,,,\n"),
        "shelf.csv, row 2, column part_id: “” is not one thing: name either a part or an entry.",
    ),
    "cell too many": (
        append("numbers.csv", b"P-1A,B9,old,sheet,,\n"),
        "numbers.csv, row 3: “P-1A,B9,old,sheet,,” makes 6 cells where 5 belong: look for a comma too many or too few.",
    ),
    "unknown column": (
        swap("shelf.csv", "counted_on", "counted_on,colour"),
        "shelf.csv, row 1: “colour” is not a column of this table: take it out.",
    ),
    "column twice": (
        swap("shelf.csv", "counted_on", "counted_on,bin"),
        "shelf.csv, row 1: “bin” stands there twice: take one out.",
    ),
    "column missing": (
        swap("shelf.csv", ",counted_on", ""),
        "shelf.csv, row 1: “counted_on” is missing from the headings: add the column.",
    ),
    "empty file": (
        lambda folder: (folder / "shelf.csv").write_bytes(b""),
        "shelf.csv: “shelf.csv” holds no headings: copy the file anew.",
    ),
    "not UTF-8": (
        append("numbers.csv", b"P-1A,B\xe9,old,sheet,\n"),
        "numbers.csv, row 3: “e9” is not UTF-8 text: save the file as CSV UTF-8.",
    ),
    "NUL": (
        append("numbers.csv", b"P-1A,B\x00,old,sheet,\n"),
        "numbers.csv, row 3: “NUL character” breaks the rules of CSV: save the file anew.",
    ),
    "quote left open": (
        append("numbers.csv", b'P-1A,"B9,old,sheet,\n'),
        "numbers.csv, row 3: “unexpected end of data” breaks the rules of CSV: save the file anew.",
    ),
}


@pytest.mark.parametrize(("change", "sentence"), DAMAGES.values(), ids=DAMAGES.keys())
def test_damage_is_worded_with_place_and_advice(folder: Path, change: Callable[[Path], object], sentence: str) -> None:
    change(folder)
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(folder)
    assert str(caught.value) == f"1 problem was found in the catalog folder “{folder}”, in {sentence}"


def test_too_large_a_file_is_not_read(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(table_schema_rows, "MAX_FILE_BYTES", 100)
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(folder)
    assert "is larger than 0 megabytes: take a smaller catalog" in str(caught.value)


def test_many_problems_are_all_kept_and_counted(folder: Path) -> None:
    swap("entries.csv", ",driver,", ",engine,")(folder)
    swap("observations.csv", ",22.225,", ",wide,")(folder)
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(folder)
    problems = [(problem.table, problem.row, problem.column, problem.found) for problem in caught.value.problems]
    assert problems == [("entries", 3, "kind", "engine"), ("observations", 2, "value", "wide")]
    assert str(caught.value).startswith(
        f"2 problems were found in the catalog folder “{folder}”, the first in entries.csv,"
    )


def test_reading_gives_up_after_a_thousand_problems(folder: Path) -> None:
    append("numbers.csv", b"P-1A,,old,sheet,\n" * (MAX_PROBLEMS + 5))(folder)
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(folder)
    assert len(caught.value.problems) == MAX_PROBLEMS
    assert str(caught.value).startswith("1000 or more problems were found")


def test_columns_may_stand_in_any_order_and_empty_lines_do_not_count(folder: Path) -> None:
    text = "number,entry_id,how,role,source\n\nB 1-2,P-1A,plate,plate,\n\n"
    (folder / "numbers.csv").write_bytes(b"\xef\xbb\xbf" + text.encode())
    assert read_data_package(folder) == ROWS


def test_what_is_written_reads_the_same(folder: Path) -> None:
    assert read_data_package(folder) == ROWS


def test_same_rows_give_the_same_bytes(folder: Path, tmp_path: Path) -> None:
    write_data_package(read_data_package(folder), tmp_path / "again")
    for file in folder.iterdir():
        assert (tmp_path / "again" / file.name).read_bytes() == file.read_bytes()


def test_folder_that_cannot_be_written_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    with pytest.raises(CatalogFolderError) as caught:
        write_data_package(ROWS, tmp_path / "taken")
    assert str(caught.value) == (
        f"The catalog folder “{tmp_path / 'taken'}” cannot be written (File exists): "
        "give a folder that you may write to."
    )
    assert isinstance(caught.value, XrefError)


# Each example writes and reads a whole folder.
FEW = settings(max_examples=60, deadline=None)
# Texts as people write them: anything that UTF-8 can hold but NUL, quotes, commas and line ends included.
TEXTS = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=60)
BORE = field_for("bore_diameter_mm")
BORES = st.floats(min_value=BORE.minimum or 0, max_value=BORE.maximum or 0)


ROWS_OF_ANY = st.builds(
    lambda note, source, bore, price, count: CatalogRows(
        entries=(replace(PUMP, note=note), ENGINE),
        observations=(replace(ROWS.observations[0], value=bore, source=source),),
        shelf=(ShelfRow("S-01", "", "P-1A", "B3", count, price),),
        replaced_by=(ReplacedBy("P-1A", "D-1A", "2020-01-31", "sheet", source),),
    ),
    note=TEXTS,
    source=TEXTS,
    bore=BORES,
    price=st.none() | st.floats(0, 99_999),
    count=st.integers(0, 99_999),
)


@FEW
@given(rows=ROWS_OF_ANY)
def test_any_text_and_number_comes_back_the_same(tmp_path_factory: pytest.TempPathFactory, rows: CatalogRows) -> None:
    folder = tmp_path_factory.mktemp("any")
    write_data_package(rows, folder)
    assert read_data_package(folder) == rows


@FEW
@given(
    file=st.sampled_from(("entries.csv", "observations.csv", DESCRIPTOR)),
    at=st.integers(0, 400),
    junk=st.binary(max_size=4),
)
def test_no_damage_ends_in_anything_but_one_sentence(
    tmp_path_factory: pytest.TempPathFactory, file: str, at: int, junk: bytes
) -> None:
    folder = tmp_path_factory.mktemp("junk")
    write_data_package(ROWS, folder)
    raw = (folder / file).read_bytes()
    (folder / file).write_bytes(raw[:at] + junk + raw[at + len(junk) :])
    sentence = _sentence_or_empty(folder)
    assert "\n" not in sentence
    assert sentence == "" or sentence.endswith(".")


def _sentence_or_empty(folder: Path) -> str:
    try:
        read_data_package(folder)
    except XrefError as error:
        return str(error)
    return ""
