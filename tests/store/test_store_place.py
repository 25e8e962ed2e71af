"""The sample has a file of its own, made anew when its content changes; the shop's store is never touched."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.store.rows import every_byte, small_catalog
from xref_app.core.model.catalog import Entry
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.engine import open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.place import folder_hash, open_sample_store, own_store_path, sample_store_path
from xref_app.store.repository import CatalogRepository


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path


@pytest.fixture
def sample(tmp_path: Path) -> Path:
    folder = tmp_path / "sample"
    (folder / "data").mkdir(parents=True)
    (folder / "datapackage.json").write_text("{}")
    (folder / "data" / "entries.csv").write_text("entry_id\nP1\n")
    return folder


def read_one(folder: object) -> CatalogRows:
    name = (Path(str(folder)) / "data" / "entries.csv").read_text().split()[1]
    return CatalogRows(entries=(Entry(name, "pump", "", ""),))


def test_the_sample_is_made_once_and_again_when_it_changes(home: Path, sample: Path) -> None:
    read = 0

    def counted(folder: object) -> CatalogRows:
        nonlocal read
        read += 1
        return read_one(folder)

    open_sample_store(sample, counted).dispose()
    open_sample_store(sample, counted).dispose()
    assert read == 1
    old = sample_store_path(sample)
    (sample / "data" / "entries.csv").write_text("entry_id\nP2\n")
    changed = open_sample_store(sample, counted)
    assert read == 2
    assert [one.entry_id for one in CatalogRepository(changed).entries()] == ["P2"]
    changed.dispose()
    assert not old.exists()
    assert [one.name for one in old.parent.iterdir()] == [sample_store_path(sample).name]
    assert (home / "cache") in old.parents


def test_the_shops_own_store_is_never_touched(home: Path, sample: Path) -> None:
    own = own_store_path()
    assert (home / "data") in own.parents
    engine = open_engine(own)
    import_catalog(engine, small_catalog(), who="Ana", why="ours")
    engine.dispose()
    before = every_byte(own.parent)
    open_sample_store(sample, read_one).dispose()
    assert every_byte(own.parent) == before


@pytest.mark.parametrize("content", [b"", b"rubbish" * 1000])
def test_an_unreadable_sample_store_is_made_again(home: Path, sample: Path, content: bytes) -> None:
    path = sample_store_path(sample)
    path.parent.mkdir(parents=True)
    path.write_bytes(content)
    engine = open_sample_store(sample, read_one)
    assert len(CatalogRepository(engine).entries()) == 1
    engine.dispose()
    assert home in path.parents


def test_a_faulty_sample_leaves_nothing_behind(home: Path, sample: Path) -> None:
    def broken(_folder: object) -> CatalogRows:
        entry = Entry("P1", "pump", "", "")
        return CatalogRows(entries=(entry, entry))

    with pytest.raises(Exception, match="two rows of the package have this key"):
        open_sample_store(sample, broken)
    assert every_byte(home / "cache") == {}


def test_the_hash_sees_names_and_contents(tmp_path: Path) -> None:
    hashes = set()
    for number, files in enumerate([{"a": "bc"}, {"ab": "c"}, {"a": "bd"}, {"a": "b", "c": ""}]):
        folder = tmp_path / str(number)
        folder.mkdir()
        for name, content in files.items():
            (folder / name).write_text(content)
        hashes.add(folder_hash(folder))
    assert len(hashes) == 4
