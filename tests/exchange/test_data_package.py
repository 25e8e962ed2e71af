"""A catalog folder is read whole or not at all, and every fault is worded in one sentence."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import field_for
from xref_app.core.fields.table_schemas import TABLES
from xref_app.core.model.catalog import Entry, Number, Observation, ReplacedBy, ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange import table_schema_rows
from xref_app.exchange.data_package import DESCRIPTOR, read_data_package, write_data_package
from xref_app.exchange.data_package_problems import MAX_PROBLEMS, CatalogFolderError, DamagedCatalogError

PUMP, ENGINE = Entry("P-1A", "pump", "Brundelo", "Pump"), Entry("D-1A", "driver", "Haldrune", "Engine")
ROWS = CatalogRows(
    entries=(PUMP, ENGINE),
    numbers=(Number("P-1A", "B 1-2", "plate", "plate"),),
    observations=(
        Observation(1, "P-1A", "bore_diameter_mm", "7/8 in", 22.225, "", None, "measured", "Ilvane", "2025-03-02"),
        Observation(2, "P-1A", "has_unloader", "yes", None, "yes", None, "sheet"),
        Observation(3, "D-1A", "shaft_form", "straight keyed", None, "straight keyed", None, "measured"),
    ),
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "catalog"
    write_data_package(ROWS, made)
    return made


def _swap(file: str, old: str, new: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        path = folder / file
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new), encoding="utf-8")

    return change


def _append(file: str, raw: bytes) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        with (folder / file).open("ab") as stream:
            stream.write(raw)

    return change


def _descriptor(change: Callable[[dict[str, object]], object]) -> Callable[[Path], None]:
    def changed(folder: Path) -> None:
        descriptor: dict[str, object] = json.loads((folder / DESCRIPTOR).read_text(encoding="utf-8"))
        change(descriptor)
        (folder / DESCRIPTOR).write_text(json.dumps(descriptor), encoding="utf-8")

    return changed


def _path_of_entries(path: object) -> Callable[[Path], None]:
    return _descriptor(lambda whole: whole.update(resources=[{"name": "entries", "path": path}]))


# Each kind of damage to cells and rows, and the sentence after "1 problem was found in the catalog folder “…”, in ".
DAMAGES: dict[str, tuple[Callable[[Path], object], str]] = {
    "no number": (
        _swap("observations.csv", ",22.225,", ',"22,2",'),
        "observations.csv, row 2, column value: “22,2” is not a number: write it with a point, like 22.225.",
    ),
    "number beyond floats": (
        _swap("observations.csv", ",22.225,", ",1e999,"),
        "observations.csv, row 2, column value: “1e999” is too large to be a number: look for a typing slip.",
    ),
    "implausible size": (
        _swap("observations.csv", ",22.225,", ",564.515,"),
        (
            "observations.csv, row 2, column value: “564.515” is outside 8 to 60 mm for bore diameter: "
            "look for a typing slip."
        ),
    ),
    "number missing": (
        _swap("observations.csv", ",22.225,", ",,"),
        "observations.csv, row 2, column value: “” stands where a number must stand: give bore diameter as a value.",
    ),
    "number where words belong": (
        _swap("observations.csv", ",yes,,yes,", ",yes,5,yes,"),
        "observations.csv, row 3, column value: “5” stands where words belong: give unloader built in as a text.",
    ),
    "word not in the list": (
        _swap("observations.csv", ",yes,,yes,", ",yes,,maybe,"),
        "observations.csv, row 3, column text: “maybe” is not a word for unloader built in: take one of yes, no.",
    ),
    "unknown field": (
        _swap("observations.csv", "has_unloader", "has_wings"),
        (
            "observations.csv, row 3, column field: “has_wings” is not a field of data_schema/sizes.schema.json: "
            "mend the name."
        ),
    ),
    "field of the other side": (
        _swap("observations.csv", "3,D-1A", "3,P-1A"),
        (
            "observations.csv, row 4, column field: “shaft_form” is a size of the machine, and the entry is a pump: "
            "give it to the other one."
        ),
    ),
    "negative doubt": (
        _swap("observations.csv", ",22.225,,,", ",22.225,,-0.1,"),
        "observations.csv, row 2, column doubt: “-0.1” is outside 0 and more: look for a typing slip.",
    ),
    "no such day": (
        _swap("observations.csv", "2025-03-02", "2025-02-30"),
        "observations.csv, row 2, column seen_on: “2025-02-30” is not a day of the calendar: write it like 2026-11-25.",
    ),
    "not a whole number": (
        _swap("observations.csv", "\n1,P-1A", "\n1.5,P-1A"),
        "observations.csv, row 2, column observation_id: “1.5” is not a whole number: write it like 12.",
    ),
    "not in the closed list": (
        _swap("entries.csv", ",driver,", ",engine,"),
        "entries.csv, row 3, column kind: “engine” is not a word for it: take one of pump, driver, machine.",
    ),
    "required cell empty": (
        _swap("numbers.csv", ",B 1-2,", ",,"),
        "numbers.csv, row 2, column number: “” stands where a value must stand: fill it in.",
    ),
    "pattern": (
        _swap("shelf.csv", "\n", "\nplace one,,P-1A,B3,1,,\n"),
        (
            "shelf.csv, row 2, column shelf_id: “place one” does not look like shelf place: "
            "it must match [A-Z][A-Z0-9-]{2,23}."
        ),
    ),
    "too long": (
        _swap("entries.csv", "Haldrune", "H" * 81),
        f"entries.csv, row 3, column maker: “{'H' * 59}…” is longer than 80 characters: shorten it.",
    ),
    "not true or false": (
        _append("ports.csv", b"P-1A,inlet,G3/4,female,,perhaps,,measured,,\n"),
        "ports.csv, row 2, column swivel: “perhaps” is neither true nor false: write one of them.",
    ),
    "key twice": (
        _append("numbers.csv", b"P-1A,B 1-2,old,sheet,\n"),
        (
            "numbers.csv, row 3, column entry_id and number: “P-1A, B 1-2” stands in row 2 already: "
            "take one of the two out."
        ),
    ),
    "entry that is not there": (
        _swap("numbers.csv", "P-1A", "P-9Z"),
        "numbers.csv, row 2, column entry_id: “P-9Z” is not in entries.csv: add it there or mend it here.",
    ),
    "shelf place for nothing": (
        _append("shelf.csv", b"S-01,,,B3,1,,\n"),
        "shelf.csv, row 2, column part_id: “” is not one thing: name either a part or an entry.",
    ),
    "cell too many": (
        _append("numbers.csv", b"P-1A,B9,old,sheet,,\n"),
        "numbers.csv, row 3: “P-1A,B9,old,sheet,,” makes 6 cells where 5 belong: look for a comma too many or too few.",
    ),
    "unknown column": (
        _swap("shelf.csv", "counted_on", "counted_on,colour"),
        "shelf.csv, row 1: “colour” is not a column of this table: take it out.",
    ),
    "column twice": (
        _swap("shelf.csv", "counted_on", "counted_on,bin"),
        "shelf.csv, row 1: “bin” stands there twice: take one out.",
    ),
    "column missing": (
        _swap("shelf.csv", ",counted_on", ""),
        "shelf.csv, row 1: “counted_on” is missing from the headings: add the column.",
    ),
    "empty file": (
        lambda folder: (folder / "shelf.csv").write_bytes(b""),
        "shelf.csv: “shelf.csv” holds no headings: copy the file anew.",
    ),
    "not UTF-8": (
        _append("numbers.csv", b"P-1A,B\xe9,old,sheet,\n"),
        "numbers.csv, row 3: “e9” is not UTF-8 text: save the file as CSV UTF-8.",
    ),
    "NUL": (
        _append("numbers.csv", b"P-1A,B\x00,old,sheet,\n"),
        "numbers.csv, row 3: “NUL character” breaks the rules of CSV: save the file anew.",
    ),
    "quote left open": (
        _append("numbers.csv", b'P-1A,"B9,old,sheet,\n'),
        "numbers.csv, row 3: “unexpected end of data” breaks the rules of CSV: save the file anew.",
    ),
}


@pytest.mark.parametrize(("change", "sentence"), DAMAGES.values(), ids=DAMAGES.keys())
def test_damage_is_worded_with_place_and_advice(folder: Path, change: Callable[[Path], object], sentence: str) -> None:
    change(folder)
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(folder)
    assert str(caught.value) == f"1 problem was found in the catalog folder “{folder}”, in {sentence}"


# Each fault of the folder as a whole, and the sentence after "The catalog folder “…” ".
FOLDER_FAULTS: dict[str, tuple[Callable[[Path], object], str]] = {
    "gone": (shutil.rmtree, "is not there: give the folder that holds a datapackage.json."),
    "no descriptor": (
        lambda folder: (folder / DESCRIPTOR).unlink(),
        "holds no datapackage.json: give the folder that a catalog was exported to.",
    ),
    "half a descriptor": (
        lambda folder: (folder / DESCRIPTOR).write_text('{"resources": [', encoding="utf-8"),
        "has a datapackage.json that is not JSON at line 1, column 16: copy the folder anew from where it came.",
    ),
    "descriptor not UTF-8": (
        lambda folder: (folder / DESCRIPTOR).write_bytes(b'{"name": "\xff"}'),
        "has a datapackage.json that cannot be read: copy the folder anew from where it came.",
    ),
    "descriptor nested too deep": (
        lambda folder: (folder / DESCRIPTOR).write_text("[" * 100_000, encoding="utf-8"),
        "has a datapackage.json that cannot be read: copy the folder anew from where it came.",
    ),
    "descriptor too large": (
        lambda folder: (folder / DESCRIPTOR).write_bytes(b" " * (4 * 1024 * 1024 + 1)),
        "has a datapackage.json larger than 4 megabytes: take another one.",
    ),
    "descriptor is a list": (
        lambda folder: (folder / DESCRIPTOR).write_text("[]", encoding="utf-8"),
        "has a datapackage.json that is no JSON object: take a catalog folder.",
    ),
    "no resources": (
        _descriptor(lambda whole: whole.pop("resources")),
        "has a datapackage.json without resources: take a catalog folder.",
    ),
    "resource without path": (
        _descriptor(lambda whole: whole.update(resources=[{"name": "entries", "data": []}])),
        "lists a resource without a name or path: mend its datapackage.json.",
    ),
    "table missing": (
        _path_of_entries("entries.csv"),
        "has no table “numbers” in its datapackage.json: copy the folder anew from where it came.",
    ),
    "table unknown": (
        _descriptor(lambda whole: whole.update(resources=[{"name": "people", "path": "people.csv"}])),
        f"names a table “people”: take one of {', '.join(TABLES)}.",
    ),
    "table twice": (
        _descriptor(lambda whole: whole.update(resources=[{"name": "shelf", "path": "shelf.csv"}] * 2)),
        "names the table “shelf” twice: mend its datapackage.json.",
    ),
    "file missing": (
        lambda folder: (folder / "shelf.csv").unlink(),
        "lacks the file “shelf.csv”: copy the folder anew from where it came.",
    ),
    "absolute path": (
        _path_of_entries("/etc/passwd"),
        "points to “/etc/passwd”, which is not a file inside it: give every file by its name alone.",
    ),
    "way out": (
        _path_of_entries("../entries.csv"),
        "points to “../entries.csv”, which is not a file inside it: give every file by its name alone.",
    ),
    "address": (
        _path_of_entries("file://entries.csv"),
        "points to “file://entries.csv”, which is not a file inside it: give every file by its name alone.",
    ),
    "way out for Windows": (
        _path_of_entries("..\\entries.csv"),
        "points to “..\\entries.csv”, which is not a file inside it: give every file by its name alone.",
    ),
}


@pytest.mark.parametrize(("change", "sentence"), FOLDER_FAULTS.values(), ids=FOLDER_FAULTS.keys())
def test_fault_of_the_folder_is_one_sentence(folder: Path, change: Callable[[Path], object], sentence: str) -> None:
    change(folder)
    with pytest.raises(CatalogFolderError) as caught:
        read_data_package(folder)
    assert str(caught.value) == f"The catalog folder “{folder}” {sentence}"


def test_link_out_of_the_folder_is_refused(folder: Path, tmp_path: Path) -> None:
    outside = (folder / "entries.csv").rename(tmp_path / "outside.csv")
    (folder / "entries.csv").symlink_to(outside)
    with pytest.raises(CatalogFolderError) as caught:
        read_data_package(folder)
    assert str(caught.value) == (
        f"The catalog folder “{folder}” points to “entries.csv”, which is a link out of it: "
        "put the file itself into the folder."
    )


def test_too_large_a_file_is_not_read(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(table_schema_rows, "MAX_FILE_BYTES", 100)
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(folder)
    assert "is larger than 0 megabytes: take a smaller catalog" in str(caught.value)


def test_many_problems_are_all_kept_and_counted(folder: Path) -> None:
    _swap("entries.csv", ",driver,", ",engine,")(folder)
    _swap("observations.csv", ",22.225,", ",wide,")(folder)
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(folder)
    problems = [(problem.table, problem.row, problem.column, problem.found) for problem in caught.value.problems]
    assert problems == [("entries", 3, "kind", "engine"), ("observations", 2, "value", "wide")]
    assert str(caught.value).startswith(
        f"2 problems were found in the catalog folder “{folder}”, the first in entries.csv,"
    )


def test_reading_gives_up_after_a_thousand_problems(folder: Path) -> None:
    _append("numbers.csv", b"P-1A,,old,sheet,\n" * (MAX_PROBLEMS + 5))(folder)
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


@given(rows=ROWS_OF_ANY)
def test_any_text_and_number_comes_back_the_same(tmp_path_factory: pytest.TempPathFactory, rows: CatalogRows) -> None:
    folder = tmp_path_factory.mktemp("any")
    write_data_package(rows, folder)
    assert read_data_package(folder) == rows


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
    try:
        read_data_package(folder)
    except XrefError as error:
        assert "\n" not in str(error)
        assert str(error).endswith(".")
