"""Writes an export full of texts that spreadsheets run, for programs from outside to look at.

``python -m tests.sample.risky_export FOLDER`` makes FOLDER/package (CSV) and FOLDER/all.xlsx.
"""

from __future__ import annotations

import sys
import tempfile
from dataclasses import replace
from pathlib import Path

from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.services.export_catalog import export_folder, export_workbook
from xref_app.services.export_rows import ExportWish
from xref_app.store.engine import open_engine
from xref_app.store.importing import import_catalog

RISKY = (
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1)",
    "\t=1+1",
    "＝1+1",
    "'=1+1",
    "-12",
    '=HYPERLINK("x")',
    "=1+1\r\n=2",
    '","=1+1',
    "x\n=1+1",
)


def risky_rows() -> CatalogRows:
    """Return the sample with a risky text in every free column of its entries and observations."""
    rows = sample_rows()
    entries = tuple(
        replace(one, maker=RISKY[at % len(RISKY)], name=RISKY[(at + 3) % len(RISKY)], note=RISKY[(at + 5) % len(RISKY)])
        for at, one in enumerate(rows.entries)
    )
    observations = tuple(
        replace(one, as_typed=RISKY[at % len(RISKY)], source=RISKY[(at + 1) % len(RISKY)])
        for at, one in enumerate(rows.observations)
    )
    numbers = tuple(
        replace(one, number="-" + one.number[:39]) if not at % 3 else one for at, one in enumerate(rows.numbers)
    )
    return replace(rows, entries=entries, observations=observations, numbers=numbers)


def main(folder: Path) -> None:
    """Write both exports into ``folder``."""
    with tempfile.TemporaryDirectory() as own:
        engine = open_engine(Path(own) / "shop.sqlite")
        import_catalog(engine, risky_rows(), who="nobody", why="to look at")
        wish = ExportWish(with_shop=True)
        export_folder(engine, folder / "package", wish)
        export_workbook(engine, folder / "all.xlsx", wish)
        engine.dispose()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
