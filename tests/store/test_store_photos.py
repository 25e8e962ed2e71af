"""A photo lies under the hash of its bytes and nowhere else; what does not match its name is not handed out."""

from __future__ import annotations

import random
import stat
from functools import partial
from hashlib import sha256
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import every_byte, small_catalog
from xref_app.core.model.catalog import Photo
from xref_app.store.edits import Numbers, RowEdit, save_edits
from xref_app.store.engine import open_engine
from xref_app.store.errors import ReadOnlyStoreError, StoreFullError, StoreUnreachableError, UnstorableValueError
from xref_app.store.photos import find_photo, keep_photo_file, photo_path_or_none, photos_folder
from xref_app.store.repository import CatalogRepository

JPEG = b"\xff\xd8\xff\xe0 the store does not look into it \xff\xd9"

# FIPS 180-2, appendix B.1: SHA-256 of "abc".
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_photo_lies_under_the_hash_of_its_bytes(path: Path, engine: Engine) -> None:
    assert keep_photo_file(engine, b"abc") == ABC
    kept = photo_path_or_none(engine, ABC)
    assert kept == path.parent / "photos" / f"{ABC}.jpg"
    assert kept.read_bytes() == b"abc"
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert stat.S_IMODE(kept.parent.stat().st_mode) == 0o700
    assert keep_photo_file(path.parent, b"abc") == ABC  # by the folder: the same place, and no second file
    assert [one.name for one in kept.parent.iterdir()] == [f"{ABC}.jpg"]


def test_its_row_is_read_with_the_entry(filled: Engine) -> None:
    photo = Photo("P002", keep_photo_file(filled, JPEG), "Plate", 1600, 1200, "Ana", "2026-11-25")
    save_edits(filled, lambda _: [RowEdit("photos", None, photo)], name="Plate", who="Ana", why="seen", save_id="1")
    repository = CatalogRepository(filled)
    assert repository.photos_of(["P001", "P002", "P003"]) == {
        "P001": small_catalog().photos,
        "P002": (photo,),
        "P003": (),
    }
    assert repository.rows_of(["P002"]).photos == (photo,)


def test_a_missing_photo_says_so(engine: Engine) -> None:
    found = find_photo(engine, ABC)
    assert (found.path, str(found.problem)) == (
        None,
        f"The photo {ABC} is not beside the catalog; put the folder “photos” back.",
    )


def test_a_damaged_photo_is_not_handed_out_and_can_be_put_right(engine: Engine) -> None:
    content_hash = keep_photo_file(engine, JPEG)
    path = photo_path_or_none(engine, content_hash)
    assert path is not None
    for place in range(len(JPEG)):
        path.write_bytes(JPEG[:place] + bytes([JPEG[place] ^ 1]) + JPEG[place + 1 :])
        assert photo_path_or_none(engine, content_hash) is None
    assert str(find_photo(engine, content_hash).problem).endswith("is damaged and is not shown; take it again.")
    keep_photo_file(engine, JPEG)
    assert photo_path_or_none(engine, content_hash) == path


def nasty_names() -> list[str]:
    """Return 500 names that have led programs out of their folder, or that systems treat in a way of their own."""
    rng = random.Random(13)
    pieces = [
        *("..", ".", "", "/", "\\", "//", "\\\\", "~", "%2e%2e", "%00", "\0", "\n", "\r", "C:", "c:\\", "file:", ":"),
        *("CON", "NUL", "aux.jpg", "COM1", "LPT9.jpg", "photos", "shop.sqlite", "shop.sqlite-wal", "etc", "passwd"),
        *("a" * 300, "é", "e\u0301", "\u202e", "\u2215", "\uff0f", "\ud800", ABC, ABC.upper(), ABC[:-1], " ", "*", "?"),
        *("|", "<", ">", '"', "'", ";", "$(id)", "`id`", ".jpg", "..jpg", "-rf", "..;", "....//"),
    ]
    names = {"/etc/passwd", "../shop.sqlite", f"../{ABC}", f"{ABC}/../../x", f"{ABC}\n", f"./{ABC}", f"photos/{ABC}"}
    while len(names) < 501:
        names.add(rng.choice(("", "/", "\\")).join(rng.choice(pieces) for _ in range(rng.randint(1, 6))))
    return sorted(names - {ABC})[:500]


def test_no_name_leads_out_of_the_folder(path: Path, engine: Engine) -> None:
    keep_photo_file(engine, b"abc")
    outside = path.parent.parent / "outside.jpg"
    outside.write_bytes(b"abc")
    engine.dispose()
    before = every_byte(path.parent.parent)
    names = nasty_names()
    assert len(names) == 500
    for name in names:
        found = find_photo(engine, name)
        assert found.path is None, name
        assert str(found.problem).endswith("names no photo; add the photo again."), name
    engine.dispose()
    assert every_byte(path.parent.parent) == before


def test_bytes_that_are_nasty_names_stay_bytes(path: Path, engine: Engine) -> None:
    """The given name never reaches the store; were it taken for the content, it would still be only content."""
    engine.dispose()
    before = set(every_byte(path.parent.parent))
    for name in nasty_names():
        content = name.encode("utf-8", "surrogatepass")
        kept = photo_path_or_none(engine, keep_photo_file(engine, content))
        assert kept is not None
        assert kept.parent == path.parent / "photos"
    added = set(every_byte(path.parent.parent)) - before
    assert {Path(one).parent for one in added} == {Path("store/photos")}
    assert all(len(Path(one).stem) == 64 for one in added)


def _same(edits: list[RowEdit], _numbers: Numbers) -> list[RowEdit]:
    return edits


def test_a_nasty_caption_is_only_a_text(filled: Engine) -> None:
    for place, name in enumerate(nasty_names()):
        photo = Photo("P001", sha256(str(place).encode()).hexdigest(), name, 10, 10)
        edits = [RowEdit("photos", None, photo)]
        try:
            save_edits(filled, partial(_same, edits), name="x", who="Ana", why="", save_id=str(place))
        except UnstorableValueError:
            assert "\0" in name or "\ud800" in name
            continue
        assert photo in CatalogRepository(filled).photos_of(["P001"])["P001"]


def test_a_link_in_the_way_is_replaced_and_its_target_left_alone(path: Path, engine: Engine) -> None:
    outside = path.parent.parent / "outside.jpg"
    outside.write_bytes(b"abc")
    folder = photos_folder(engine)
    folder.mkdir()
    (folder / f"{ABC}.jpg").symlink_to(outside)
    assert photo_path_or_none(engine, ABC) is None  # though its bytes are right
    keep_photo_file(engine, b"abc")
    assert not (folder / f"{ABC}.jpg").is_symlink()
    assert photo_path_or_none(engine, ABC) is not None


def test_a_folder_that_is_a_link_is_refused(path: Path, engine: Engine) -> None:
    elsewhere = path.parent.parent / "elsewhere"
    elsewhere.mkdir()
    photos_folder(engine).symlink_to(elsewhere)
    with pytest.raises(StoreUnreachableError, match="it is a link to another folder"):
        keep_photo_file(engine, b"abc")
    (elsewhere / f"{ABC}.jpg").write_bytes(b"abc")
    assert photo_path_or_none(engine, ABC) is None
    assert [one.name for one in elsewhere.iterdir()] == [f"{ABC}.jpg"]


def open_files() -> int:
    """Return how many files this process has open, 0 where the system does not tell."""
    listed = Path("/proc/self/fd")
    return len(list(listed.iterdir())) if listed.exists() else 0


def test_a_folder_of_the_photos_name_is_no_photo(engine: Engine) -> None:
    (photos_folder(engine) / f"{ABC}.jpg").mkdir(parents=True)
    before = open_files()
    assert photo_path_or_none(engine, ABC) is None
    assert open_files() == before
    with pytest.raises(StoreUnreachableError):
        keep_photo_file(engine, b"abc")
    assert [one.name for one in photos_folder(engine).iterdir()] == [f"{ABC}.jpg"]


def test_a_file_where_the_folder_should_be_is_said(engine: Engine) -> None:
    photos_folder(engine).write_text("a file")
    with pytest.raises(StoreUnreachableError):
        keep_photo_file(engine, b"abc")


def test_a_full_disk_keeps_nothing_and_says_so(engine: Engine) -> None:
    """Linux's /dev/full answers every write with ENOSPC, as a full disk does (full(4))."""
    if not Path("/dev/full").exists():
        pytest.skip("this system has no /dev/full")
    from xref_app.store.photos import _our_words  # noqa: PLC0415

    with pytest.raises(StoreFullError), _our_words(photos_folder(engine)):
        Path("/dev/full").write_bytes(b"abc")


def test_a_store_that_is_only_looked_at_is_not_written_beside(path: Path, engine: Engine) -> None:
    keep_photo_file(engine, b"abc")
    engine.dispose()
    looker = open_engine(path, look_only=True)
    assert photo_path_or_none(looker, ABC) == path.parent / "photos" / f"{ABC}.jpg"
    with pytest.raises(ReadOnlyStoreError):
        keep_photo_file(looker, JPEG)
    looker.dispose()
    assert [one.name for one in photos_folder(path.parent).iterdir()] == [f"{ABC}.jpg"]
