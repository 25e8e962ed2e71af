"""A catalog folder that is no catalog folder, or leads out of itself, is refused in one sentence."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.exchange.damaged_folders import ROWS, path_of_entries, with_descriptor
from xref_app.core.fields.table_schemas import TABLES
from xref_app.exchange.data_package import DESCRIPTOR, read_data_package, write_data_package
from xref_app.exchange.data_package_problems import CatalogFolderError


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "catalog"
    write_data_package(ROWS, made)
    return made


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
        with_descriptor(lambda whole: whole.pop("resources")),
        "has a datapackage.json without resources: take a catalog folder.",
    ),
    "resource without path": (
        with_descriptor(lambda whole: whole.update(resources=[{"name": "entries", "data": []}])),
        "lists a resource without a name or path: mend its datapackage.json.",
    ),
    "table missing": (
        path_of_entries("entries.csv"),
        "has no table “numbers” in its datapackage.json: copy the folder anew from where it came.",
    ),
    "table unknown": (
        with_descriptor(lambda whole: whole.update(resources=[{"name": "people", "path": "people.csv"}])),
        f"names a table “people”: take one of {', '.join(TABLES)}.",
    ),
    "table twice": (
        with_descriptor(lambda whole: whole.update(resources=[{"name": "shelf", "path": "shelf.csv"}] * 2)),
        "names the table “shelf” twice: mend its datapackage.json.",
    ),
    "file missing": (
        lambda folder: (folder / "shelf.csv").unlink(),
        "lacks the file “shelf.csv”: copy the folder anew from where it came.",
    ),
    "absolute path": (
        path_of_entries("/etc/passwd"),
        "points to “/etc/passwd”, which is not a file inside it: give every file by its name alone.",
    ),
    "way out": (
        path_of_entries("../entries.csv"),
        "points to “../entries.csv”, which is not a file inside it: give every file by its name alone.",
    ),
    "address": (
        path_of_entries("file://entries.csv"),
        "points to “file://entries.csv”, which is not a file inside it: give every file by its name alone.",
    ),
    "way out for Windows": (
        path_of_entries("..\\entries.csv"),
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
