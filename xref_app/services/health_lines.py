"""What is not right with the catalog: fits that failed come first, then what contradicts itself, then damage."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from xref_app.core.fields.fields import field_for
from xref_app.core.model.catalog import OutcomeRow
from xref_app.core.model.known import Known
from xref_app.core.progress import Progress
from xref_app.core.sentence import Sentence, marked
from xref_app.services.catalog import Catalog
from xref_app.services.doubts import Doubt
from xref_app.services.facts import shown_value
from xref_app.services.kept_tables import bench_ids, table_of_kind
from xref_app.store.engine import Store
from xref_app.store.health import check_store

FAILED_FIT = marked("health", "{pump} was said to fit {machine}, and {result}: {seen}.")
IN_DOUBT = marked("health", "{title} of {entry}")
IN_DOUBT_WAS = marked("health", "{title} of {entry}, was {value}")
CONFLICT = marked("health", "Readings of {entry} contradict each other.")
CONFLICT_FIELD = marked("health", "{title}: {values}")
DAMAGED = marked("health", "{entry}: part of what is stored of it is damaged and does not count.")
LOST = marked(
    "health", "Rows are lost or damaged whose owner cannot be told: nothing is said to fit until that is mended."
)
MORE_CONFLICTS = marked("health", "{count} more entries contradict themselves.")

# More contradictions nobody reads at a time; the others are counted. House rule.
MOST_CONFLICTS: Final = 200


class LineKind(StrEnum):
    """What a line of the sheet is about, in the order they stand."""

    FAILED_FIT = "failed fit"
    CONFLICT = "contradiction"
    DAMAGED = "damaged"


@dataclass(frozen=True, slots=True)
class HealthLine:
    """One thing that is not right.

    ``told`` says it in one line and ``sizes`` say which sizes it is about. ``machine_id`` and ``pump_id`` are the job
    to open for it, empty where there is none; ``blamed_ids`` what to clear where the sizes were right after all.
    """

    kind: LineKind
    told: Sentence
    sizes: tuple[Sentence, ...] = ()
    machine_id: str = ""
    pump_id: str = ""
    blamed_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WholeCheck:
    """What came out when every row of the store was read and compared with its hash."""

    rows: int
    damaged_rows: int
    complaints: tuple[str, ...]
    lost_tables: tuple[str, ...]
    history_is_whole: bool

    @property
    def is_whole(self) -> bool:
        """Say whether nothing at all is wrong."""
        return not (self.damaged_rows or self.complaints or self.lost_tables) and self.history_is_whole


class CatalogHealth:
    """Says what is not right with one store; every method may be called in any thread."""

    def __init__(self, store: Store, restock: Callable[[], Catalog]) -> None:
        """Make it; ``restock`` reads anew what happened and returns the catalog that knows it."""
        self._store = store
        self._restock = restock

    def lines(self, progress: Progress) -> tuple[HealthLine, ...]:
        """Return what is not right, fits that failed first.

        Raises:
            WorkCancelledError: ``progress`` says nobody waits any more.
        """
        return health_lines(self._restock(), progress)

    def check_everything(self, progress: Progress) -> WholeCheck:
        """Read every row of the store and compare it with its hash; takes as long as the store is large.

        Raises:
            DamagedStoreError: the file cannot be read at all.
            WorkCancelledError: ``progress`` says nobody waits any more.
        """
        found = check_store(self._store, progress)
        return WholeCheck(
            rows=sum(found.rows.values()),
            damaged_rows=len(found.damaged),
            complaints=found.complaints,
            lost_tables=tuple(one.table for one in found.tally_breaks),
            history_is_whole=found.chain_break is None,
        )


def health_lines(catalog: Catalog, progress: Progress) -> tuple[HealthLine, ...]:
    """Return what is not right with a catalog, fits that failed first, the newest before the others."""
    return (*_failed_fits(catalog), *_conflicts(catalog, progress), *_damage(catalog))


def _failed_fits(catalog: Catalog) -> list[HealthLine]:
    doubts: dict[str, list[Doubt]] = {}
    for doubt in (one for of_entry in catalog.doubts.values() for one in of_entry):
        doubts.setdefault(doubt.blamed.outcome_id, []).append(doubt)
    rows = [row for row in catalog.outcomes if row.outcome_id in doubts]
    rows.sort(key=lambda row: (row.seen_on, row.outcome_id), reverse=True)
    return [_failed_fit(catalog, row, doubts[row.outcome_id]) for row in rows]


def _failed_fit(catalog: Catalog, row: OutcomeRow, doubts: Sequence[Doubt]) -> HealthLine:
    values = {
        "pump": catalog.number_of(row.pump_id),
        "machine": _called(catalog, row.machine_id),
        "result": row.result,
        "seen": ", ".join(text for text in (row.note, row.seen_by, row.seen_on) if text),
    }
    return HealthLine(
        LineKind.FAILED_FIT,
        Sentence(FAILED_FIT, values),
        tuple(_size(catalog, one) for one in doubts),
        row.machine_id,
        row.pump_id,
        tuple(one.blamed.blamed_id for one in doubts),
    )


def _size(catalog: Catalog, doubt: Doubt) -> Sentence:
    field = field_for(doubt.blamed.field)
    values = {
        "title": field.title,
        "entry": _called(catalog, doubt.blamed.entry_id),
        "value": _values(field.field_id, doubt.was),
    }
    return Sentence(IN_DOUBT_WAS if doubt.was else IN_DOUBT, values)


_KINDS: Final = ("driver", "machine", "pump")


def _conflicts(catalog: Catalog, progress: Progress) -> Iterator[HealthLine]:
    shown = more = 0
    for done, kind in enumerate(_KINDS):
        progress.step(done, len(_KINDS))
        table = table_of_kind(catalog, kind)
        for entry_id in (table.ids[place] for place in table.contradicting().tolist()):
            if shown < MOST_CONFLICTS:
                line = _conflict(catalog, kind, entry_id)
                shown += line is not None
                if line is not None:
                    yield line
            else:
                more += 1
    if more:
        yield HealthLine(LineKind.CONFLICT, Sentence(MORE_CONFLICTS, {"count": more}))


def _conflict(catalog: Catalog, kind: str, entry_id: str) -> HealthLine | None:
    """Return the line of one entry; None for a machine of which only the engine contradicts itself, told by itself."""
    row = catalog.machines.get(entry_id)
    told_apart = {field for field, found in catalog.known(row.driver_id).items() if len(found) > 1} if row else ()
    known = catalog.known(*bench_ids(catalog, entry_id)).items()
    sizes = tuple(
        Sentence(CONFLICT_FIELD, {"title": field_for(field).title, "values": _values(field, versions)})
        for field, versions in known
        if len(versions) > 1 and field not in told_apart
    )
    if not sizes:
        return None
    told = Sentence(CONFLICT, {"entry": _called(catalog, entry_id)})
    if kind == "pump":
        return HealthLine(LineKind.CONFLICT, told, sizes, pump_id=entry_id)
    driven = entry_id if row else next((one.entry_id for one in catalog.machines_driven_by(entry_id)), "")
    return HealthLine(LineKind.CONFLICT, told, sizes, machine_id=driven)


def _values(field: str, versions: Sequence[Known]) -> str:
    return " / ".join(shown_value(field_for(field), one) for one in versions)


def _damage(catalog: Catalog) -> list[HealthLine]:
    damage = catalog.damaged.known()
    lines = [HealthLine(LineKind.DAMAGED, Sentence(LOST))] if damage.anywhere else []
    return lines + [
        HealthLine(LineKind.DAMAGED, Sentence(DAMAGED, {"entry": _called(catalog, one)}))
        for one in sorted(damage.entries)
    ]


def _called(catalog: Catalog, entry_id: str) -> str:
    """Return what an entry is called: its model or number, with its id."""
    row = catalog.machines.get(entry_id)
    name = row.model if row is not None else catalog.number_of(entry_id)
    return f"{name} ({entry_id})" if name and name != entry_id else entry_id
