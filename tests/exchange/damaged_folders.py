"""A small catalog and the ways to damage its folder."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

from xref_app.core.model.catalog import Entry, Number, Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.data_package import DESCRIPTOR

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


def swap(file: str, old: str, new: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        path = folder / file
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new), encoding="utf-8")

    return change


def append(file: str, raw: bytes) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        with (folder / file).open("ab") as stream:
            stream.write(raw)

    return change


def with_descriptor(change: Callable[[dict[str, object]], object]) -> Callable[[Path], None]:
    def changed(folder: Path) -> None:
        descriptor: dict[str, object] = json.loads((folder / DESCRIPTOR).read_text(encoding="utf-8"))
        change(descriptor)
        (folder / DESCRIPTOR).write_text(json.dumps(descriptor), encoding="utf-8")

    return changed


def path_of_entries(path: object) -> Callable[[Path], None]:
    return with_descriptor(lambda whole: whole.update(resources=[{"name": "entries", "path": path}]))
