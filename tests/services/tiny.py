"""A catalog of a few made-up entries, its sizes those of the example case of tests/core/fit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from tests.core.fit.test_mutations import example
from tests.sample.in_memory import catalog_of
from xref_app.core.fields.fields import Field, Kind, Side, all_fields
from xref_app.core.model.catalog import Entry, MachineRow, Number, Observation, ReplacedBy
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.progress import WorkCancelledError
from xref_app.services.catalog import Catalog


class Quiet:
    """Progress that keeps what it is told and never cancels."""

    def __init__(self) -> None:
        self.told: list[tuple[int, int]] = []

    def step(self, done: int, total: int) -> None:
        """Keep it."""
        self.told.append((done, total))


class Cancelled:
    """Progress of work that nobody wants after ``after`` steps."""

    def __init__(self, after: int = 0) -> None:
        self.left = after

    def step(self, done: int, total: int) -> None:  # noqa: ARG002 - the protocol's signature
        """Cancel once the steps are used up."""
        if self.left == 0:
            raise WorkCancelledError
        self.left -= 1


def reading(entry: str, field: str, value: float | str, how: str = "measured", **more: Any) -> Observation:
    """Return one observation; ``more`` are columns of its row."""
    number, text = (value, "") if isinstance(value, int | float) else (None, value)
    return Observation(0, entry, field, str(value), number, text, more.pop("doubt", None), how, **more)


def readings_of(entry: str, side: Side) -> tuple[Observation, ...]:
    """Return the example case's machine or pump as measured observations of ``entry``."""
    return tuple(_readings(entry, side))


def _readings(entry: str, side: Side) -> Iterator[Observation]:
    for field in all_fields().values():
        if field.side is side:
            value = _at(field.case_field)
            doubt = None
            if isinstance(value, dict):
                value, doubt = value["value"], value["doubt"]
            if value is not None:
                yield reading(entry, field.field_id, _written(field, value), doubt=doubt)


def _at(path: str) -> Any:  # JSON
    here: Any = example()
    for name in path.split("."):
        here = here.get(name) if isinstance(here, dict) else None
    return here


def _written(field: Field, value: Any) -> float | str:  # JSON
    match field.kind:
        case Kind.NUMBER:
            return float(value)
        case Kind.HOLES | Kind.SECTORS:
            return "; ".join(" ".join(f"{number:g}" for number in row) for row in value)
        case Kind.HEIGHTS:
            return "; ".join(f"{number:g}" for number in value)
        case Kind.YES_NO:
            return "yes" if value else "no"
        case Kind.WORD | Kind.THREAD:
            return str(value)


def entry(entry_id: str, kind: str) -> Entry:
    """Return an entry of an invented maker."""
    return Entry(entry_id, kind, "Lowmarsh", f"Model {entry_id}")


def tiny_rows() -> CatalogRows:
    """Return one machine M1 (engine D1, old pump P1) and pumps P1 and P2, both the example's; P1 replaced by P2."""
    return CatalogRows(
        entries=(entry("M1", "machine"), entry("D1", "driver"), entry("P1", "pump"), entry("P2", "pump")),
        numbers=(Number("P1", "LM 100", "seller", "claimed"), Number("P1", "LM100-A", "maker", "sheet")),
        machines=(MachineRow("M1", "Heron 27", "D1", "P1", "2009-01-01", "2013-12-31", "round cover"),),
        observations=(
            *readings_of("M1", Side.MACHINE),
            *readings_of("P1", Side.PUMP),
            *readings_of("P2", Side.PUMP),
        ),
        replaced_by=(ReplacedBy("P1", "P2"),),
    )


def tiny(**changed: Any) -> Catalog:
    """Return that catalog with some of its tables exchanged."""
    return catalog_of(replace(tiny_rows(), **changed))


def without(rows: Sequence[Observation], entry_id: str, *fields: str) -> tuple[Observation, ...]:
    """Return ``rows`` without these fields of one entry."""
    return tuple(row for row in rows if row.entry_id != entry_id or row.field not in fields)
