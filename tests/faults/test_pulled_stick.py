"""A stick pulled in the middle of anything that is read from it: the store is as it was, and one sentence says so."""

from __future__ import annotations

import errno
import io
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.exchange.damaged_folders import ROWS
from tests.store.rows import every_byte
from xref_app.core.errors import XrefError
from xref_app.exchange.catalog_file import catalog_file_bytes
from xref_app.exchange.data_package import write_data_package
from xref_app.exchange.signing_keys import load_signing_key, load_supplier, new_key_files
from xref_app.services.catalog_update import look_at_catalog, take_catalog
from xref_app.services.open_catalog import import_folder
from xref_app.services.supplier_keys import trust_supplier
from xref_app.store.engine import open_engine
from xref_app.store.repository import CatalogRepository

CUTS = 200
Open = Callable[..., Any]  # Path.open
Pull = Callable[[Path, int | None], None]


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    folder = tmp_path / "stick"
    write_data_package(ROWS, folder)
    return folder


class PulledAfter(io.RawIOBase):
    """A file that can be read up to a byte, as one on a stick that is pulled then."""

    def __init__(self, content: bytes, length: int) -> None:
        self._content = io.BytesIO(content[:length])

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int:  # any buffer
        read = self._content.readinto(buffer)
        if not read:
            raise OSError(errno.EIO, "Input/output error")
        return read


@pytest.fixture
def pull(monkeypatch: pytest.MonkeyPatch) -> Pull:
    """Return what makes one file end in an error of the drive after so many bytes (None: not any more)."""
    honest: Open = Path.open
    pulled: dict[Path, int] = {}

    def opened(path: Path, mode: str = "r", *args: Any, **kwargs: Any) -> Any:
        if path not in pulled:
            return honest(path, mode, *args, **kwargs)
        with honest(path, "rb") as file:
            raw = io.BufferedReader(PulledAfter(file.read(), pulled[path]))
        return raw if "b" in mode else io.TextIOWrapper(raw, encoding=kwargs["encoding"], newline=kwargs.get("newline"))

    monkeypatch.setattr(Path, "open", opened)

    def pull_or_not(path: Path, length: int | None) -> None:
        pulled.pop(path, None)
        if length is not None:
            pulled[path] = length

    return pull_or_not


def test_a_folder_that_goes_away_at_any_of_its_files_changes_nothing(tmp_path: Path, stick: Path, pull: Pull) -> None:
    store = tmp_path / "shop" / "shop.sqlite"
    open_engine(store).dispose()
    before = every_byte(store.parent)
    files = sorted(stick.iterdir())
    for file in files:
        for length in {0, file.stat().st_size // 2, file.stat().st_size}:
            pull(file, length)
            with pytest.raises(XrefError):
                import_folder(stick, who="Ana", store=store)
            assert every_byte(store.parent) == before, file.name
        pull(file, None)
        file.rename(file.with_suffix(".gone"))
        with pytest.raises(XrefError):
            import_folder(stick, who="Ana", store=store)
        assert every_byte(store.parent) == before, file.name
        file.with_suffix(".gone").rename(file)
    import_folder(stick, who="Ana", store=store)  # and whole again it is taken
    assert every_byte(store.parent) != before


def test_a_catalog_file_that_goes_away_at_any_byte_changes_nothing(tmp_path: Path, pull: Pull) -> None:
    new_key_files(tmp_path / "keys")
    content = catalog_file_bytes(
        ROWS, title="x", serial=1, withdrawn=(), key=load_signing_key(tmp_path / "keys" / "signing.key")
    )
    file = tmp_path / "spring.xrefcat"
    file.write_bytes(content)
    engine = open_engine(tmp_path / "shop" / "shop.sqlite")
    fingerprint = load_supplier(tmp_path / "keys" / "public.pem", "Torbic").fingerprint
    trust_supplier(engine, tmp_path / "keys" / "public.pem", name="Torbic", fingerprint=fingerprint)
    rng = random.Random(5)
    for length in rng.sample(range(len(content)), CUTS):
        pull(file, length)
        with pytest.raises(XrefError, match=r"cannot be read \(Input/output error\); nothing was changed"):
            look_at_catalog(engine, file)
    assert CatalogRepository(engine).entries() == ()
    engine.dispose()


def test_once_looked_at_the_stick_is_not_needed_any_more(tmp_path: Path) -> None:
    new_key_files(tmp_path / "keys")
    key = load_signing_key(tmp_path / "keys" / "signing.key")
    file = tmp_path / "spring.xrefcat"
    file.write_bytes(catalog_file_bytes(ROWS, title="x", serial=1, withdrawn=(), key=key))
    engine = open_engine(tmp_path / "shop" / "shop.sqlite")
    fingerprint = load_supplier(tmp_path / "keys" / "public.pem", "Torbic").fingerprint
    trust_supplier(engine, tmp_path / "keys" / "public.pem", name="Torbic", fingerprint=fingerprint)
    update = look_at_catalog(engine, file)
    file.unlink()
    take_catalog(engine, update, who="Ana")
    assert len(CatalogRepository(engine).entries()) == len(ROWS.entries)
    engine.dispose()
