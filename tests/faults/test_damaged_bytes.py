"""One byte of the file changed anywhere: no altered value leaves the store, and no row is lost in silence."""

from __future__ import annotations

import random
from pathlib import Path

from tests.store.rows import small_catalog
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.copies import make_copy
from xref_app.store.engine import open_engine
from xref_app.store.errors import StoreError
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository

TRIALS = 1500
PAGE = 4096
TABLES = tuple(CatalogRows.__dataclass_fields__)


def rows_read(path: Path) -> tuple[dict[str, set[object]], bool] | None:
    """Return the rows of every table and whether a fault was reported; None where the file was refused."""
    try:
        engine = open_engine(path, create=False)
    except StoreError:
        return None
    try:
        repository = CatalogRepository(engine)
        everything = repository.everything()
        reported = bool(repository.damaged() or repository.missing())
        return {name: set(getattr(everything, name)) for name in TABLES}, reported
    except StoreError:
        return None
    finally:
        engine.dispose()


def anywhere(rng: random.Random, size: int) -> int:
    return rng.randrange(size)


def in_a_page_head(rng: random.Random, size: int) -> int:
    """Return a place among the counts and pointers of a page, where one bit can make whole rows vanish.

    Source: sqlite.org/fileformat2.html, 1.6: the head is 8 or 12 bytes, then two bytes for each cell.
    """
    return rng.randrange(size // PAGE) * PAGE + rng.randrange(40)


def test_no_altered_value_leaves_the_store_and_no_row_vanishes_in_silence(tmp_path: Path) -> None:
    engine = open_engine(tmp_path / "shop.sqlite")
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    make_copy(engine, tmp_path / "copy.sqlite")
    engine.dispose()
    whole = (tmp_path / "copy.sqlite").read_bytes()
    true = {name: set(getattr(small_catalog(), name)) for name in TABLES}
    rng = random.Random(3)
    refused = reported = 0
    path = tmp_path / "hit" / "shop.sqlite"
    path.parent.mkdir()
    for _ in range(TRIALS):
        place, bit = rng.choice((anywhere, in_a_page_head))(rng, len(whole)), 1 << rng.randrange(8)
        path.write_bytes(whole[:place] + bytes([whole[place] ^ bit]) + whole[place + 1 :])
        read = rows_read(path)
        for left in path.parent.glob("*-*"):
            left.unlink()
        if read is None:
            refused += 1
            continue
        rows, told = read
        reported += told
        for name in TABLES:
            assert rows[name] <= true[name], f"byte {place}, bit {bit}: an altered row of {name} was handed out"
            assert told or rows[name] == true[name], f"byte {place}, bit {bit}: {name} lost a row in silence"
    assert refused > TRIALS / 100  # the damage was real
    assert reported > TRIALS / 100
