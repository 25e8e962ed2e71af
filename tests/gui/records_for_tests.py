"""The sample catalog in memory with what the shop saw: a model of many builds, and pumps that were tried before."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from tests.sample.in_memory import catalog_of
from xref_app.core.model.catalog import Entry, MachineRow, OutcomeRow
from xref_app.core.resources import folder
from xref_app.exchange.data_package import read_data_package
from xref_app.services.desk import CatalogDesk

# One model, told apart by nothing less than two looks: the first two builds are one choice, the last may be any day's.
MANY_BUILDS = "TR-77Q4"
_LOOKS = (
    ("M-901", "D-01", "P-005", "2012-03-01", "2014-11-30", "round air cleaner on top"),
    ("M-902", "D-01", "P-005", "2015-03-01", "2015-11-30", "round air cleaner on top"),
    ("M-903", "D-01", "P-001", "2016-03-01", "2018-11-30", "square air cleaner at the side"),
    ("M-904", "D-02", "P-009", "2016-05-01", "", "square air cleaner at the side"),
)

# A model of which no more is known than that it came with three pumps.
UNTOLD_BUILDS = "TR-80Q1"
_UNTOLD = (
    ("M-905", "D-01", "P-005", "2012-03-01", "2016-11-30"),
    ("M-906", "D-01", "P-001", "2014-03-01", ""),
    ("M-907", "D-02", "P-009"),
)

# Of M-001 in the sample: P-001 fits as is, as P-005 does; P-002 needs parts, P-004 does not fit.
TRIED_MACHINE, FAILED_PUMP = "FL-54C3", "P-001"
_OUTCOMES = (
    (
        "O-901",
        "M-001",
        FAILED_PUMP,
        "did not fit",
        "key stood 0.4 mm too high in the hub, sent back",
        "Quenna",
        "2025-09-02",
    ),
    ("O-902", "M-001", "P-002", "installed and fine", "", "Torbic", "2025-10-11"),
    ("O-903", "M-011", "P-005", "failed in use", "oil at the shaft seal after 20 hours", "Ilvane", "2025-06-30"),
    ("O-904", "M-006", "P-005", "installed and fine", "", "Odrin", "2024-05-01"),
)


@cache
def tried_desk() -> CatalogDesk:
    """Return a desk over that catalog."""
    rows = read_data_package(Path(str(folder("sample_catalog"))))
    machines = tuple(MachineRow(entry_id, MANY_BUILDS, *rest) for entry_id, *rest in _LOOKS)
    machines += tuple(MachineRow(entry_id, UNTOLD_BUILDS, *rest) for entry_id, *rest in _UNTOLD)
    entries = tuple(Entry(one.entry_id, "machine", "Lowmarsh", one.model) for one in machines)
    outcomes = tuple(OutcomeRow(*one) for one in _OUTCOMES)
    more = replace(
        rows,
        machines=(*rows.machines, *machines),
        entries=(*rows.entries, *entries),
        outcomes=(*rows.outcomes, *outcomes),
    )
    return CatalogDesk(catalog_of(more), "Sample, made up")
