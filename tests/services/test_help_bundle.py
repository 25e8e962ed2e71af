"""A help bundle shows how the program is doing and nothing of the shop: seeded secrets are looked for in it."""

from __future__ import annotations

import io
import json
import random
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import small_catalog
from xref_app.services.help_bundle import MOST_BYTES, BundlePart, BundlePlaces, bundle_bytes, bundle_parts, write_bundle
from xref_app.store.connect import writing
from xref_app.store.engine import Store, open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.writing import withdraw

SEEDED = "Zwiebelturm"
PRICE = "77123.45"
SETTINGS = f"[window]\ntheme=dark\ntext_percent=120\n[bench]\nmeasured_by={SEEDED}\n[fix]\nhour_rate={PRICE}\n"


@pytest.fixture
def places(tmp_path: Path) -> BundlePlaces:
    settings = tmp_path / "window.ini"
    settings.write_text(SETTINGS, encoding="utf-8")
    logs = tmp_path / "log"
    logs.mkdir()
    (logs / "xref_app.log").write_text(f"WARNING {Path.home()}/store could not be read\n", encoding="utf-8")
    return BundlePlaces(settings, logs)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Engine]:
    """A store in which every text and price is a secret."""
    rows = small_catalog()
    rows = replace(
        rows,
        entries=tuple(replace(one, maker=SEEDED, name=SEEDED, note=SEEDED) for one in rows.entries),
        numbers=tuple(replace(one, number=f"{SEEDED}-{at}") for at, one in enumerate(rows.numbers)),
        shelf=tuple(replace(one, price=float(PRICE)) for one in rows.shelf),
        reservations=tuple(replace(one, job=SEEDED, reserved_by=SEEDED) for one in rows.reservations),
    )
    engine = open_engine(tmp_path / "shop.sqlite")
    import_catalog(engine, rows, who=SEEDED, why=f"{SEEDED} at {PRICE}")
    withdraw(engine, "numbers", ("P001", f"{SEEDED}-1"), who=SEEDED, why=SEEDED)
    with writing(engine) as connection:
        connection.exec_driver_sql("UPDATE numbers SET role = 'old' WHERE entry_id = 'P002'")
        connection.exec_driver_sql("UPDATE entries SET note = 'x' WHERE entry_id = 'P003'")
    yield engine
    engine.dispose()


def files(content: bytes) -> dict[str, str]:
    with zipfile.ZipFile(io.BytesIO(content)) as opened:
        return {name: opened.read(name).decode(errors="replace") for name in opened.namelist()}


def test_nothing_of_the_shop_is_in_it(shop: Engine, places: BundlePlaces) -> None:
    found = files(bundle_bytes(bundle_parts(lambda: shop, places)))
    for name, content in found.items():
        assert SEEDED not in content, name
        assert PRICE not in content, name
        assert str(Path.home()) + "/" not in content, name


def test_it_tells_how_the_program_is_doing(shop: Engine, places: BundlePlaces) -> None:
    found = files(bundle_bytes(bundle_parts(lambda: shop, places)))
    health = json.loads(found["health.json"])
    assert health["is_whole"] is False
    assert health["damaged_rows"] == {"numbers": 1, "entries": 1}
    assert health["rows"]["observations"] == len(small_catalog().observations)
    assert health["format"] == "0005"
    assert [one["action"] for one in json.loads(found["history.json"])] == ["withdraw", "import"]
    assert "sqlalchemy" in found["versions.json"].lower()
    assert "window/theme = dark" in found["settings.txt"]
    assert "bench/measured_by = (left out)" in found["settings.txt"]
    assert "WARNING ~/store" in found["log/xref_app.log"]


def test_what_is_in_it_is_listed_before_it_is_written_and_in_it(
    shop: Engine, places: BundlePlaces, tmp_path: Path
) -> None:
    parts = bundle_parts(lambda: shop, places)
    assert not (tmp_path / "help.zip").exists()
    write_bundle(tmp_path / "help.zip", parts)
    found = files((tmp_path / "help.zip").read_bytes())
    assert set(found) == {"contents.txt", *(one.name for one in parts)}
    assert found["contents.txt"].splitlines() == [f"{one.name}: {one.about}" for one in parts]


def test_names_are_in_it_when_they_are_asked_for(shop: Engine, places: BundlePlaces) -> None:
    found = files(bundle_bytes(bundle_parts(lambda: shop, places, with_names=True)))
    assert SEEDED in found["history.json"]
    assert PRICE in found["settings.txt"]


def test_it_is_never_larger_than_mail_takes(shop: Engine, places: BundlePlaces) -> None:
    rng = random.Random(3)
    for turn in range(5):
        (places.logs / f"xref_app.log.{turn}").write_bytes(rng.randbytes(3_000_000))
    content = bundle_bytes(bundle_parts(lambda: shop, places))
    assert len(content) <= MOST_BYTES
    assert len(files(content)) == 8
    large = tuple(BundlePart(f"{turn}.txt", "much", rng.randbytes(3_000_000).hex()) for turn in range(3))
    assert len(bundle_bytes(large)) <= MOST_BYTES


def test_a_store_that_cannot_be_opened_is_told(tmp_path: Path, places: BundlePlaces) -> None:
    (tmp_path / SEEDED).write_bytes(b"no store")

    def opened() -> Store:
        return open_engine(tmp_path / SEEDED)

    found = files(bundle_bytes(bundle_parts(opened, places)))
    assert json.loads(found["health.json"]) == {"fault": "NotAStoreError"}
    places.settings.write_bytes(b"\xff\xfe")
    assert files(bundle_bytes(bundle_parts(opened, places)))["settings.txt"] == "UnicodeDecodeError"
