"""Rows of photos in a catalog folder: read, written, refused, and absent from folders made before there were any."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.exchange.damaged_folders import ROWS
from xref_app.core.model.catalog import Photo
from xref_app.exchange.data_package import DESCRIPTOR, DamagedCatalogError, read_data_package, write_data_package

# FIPS 180-2, appendix B.1: SHA-256 of "abc".
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
PHOTO = Photo("P-1A", ABC, "Plate, from the left", 1600, 1200, "Ilvane", "2025-03-02")


def written(folder: Path, *photos: Photo) -> Path:
    write_data_package(replace(ROWS, photos=photos), folder)
    return folder


def test_photos_come_back_equal(tmp_path: Path) -> None:
    assert read_data_package(written(tmp_path, PHOTO)).photos == (PHOTO,)


def test_a_folder_made_before_there_were_photos_is_read(tmp_path: Path) -> None:
    written(tmp_path)
    (tmp_path / "photos.csv").unlink()
    descriptor = json.loads((tmp_path / DESCRIPTOR).read_text("utf-8"))
    descriptor["resources"] = [one for one in descriptor["resources"] if one["name"] != "photos"]
    (tmp_path / DESCRIPTOR).write_text(json.dumps(descriptor), "utf-8")
    assert read_data_package(tmp_path) == ROWS


@pytest.mark.parametrize(
    ("photo", "column"),
    [
        (replace(PHOTO, entry_id="P-9Z"), "entry_id"),
        (replace(PHOTO, content_hash="../../etc/passwd"), "content_hash"),
        (replace(PHOTO, content_hash=ABC.upper()), "content_hash"),
        (replace(PHOTO, content_hash=f"{ABC}.jpg"), "content_hash"),
        (replace(PHOTO, width_px=0), "width_px"),
        (replace(PHOTO, caption="x" * 201), "caption"),
    ],
)
def test_a_row_that_names_no_photo_is_refused(tmp_path: Path, photo: Photo, column: str) -> None:
    with pytest.raises(DamagedCatalogError) as caught:
        read_data_package(written(tmp_path, photo))
    assert [(one.table, one.column) for one in caught.value.problems] == [("photos", column)]
