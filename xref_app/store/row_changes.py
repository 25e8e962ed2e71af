"""What an act does to single rows: checked against what stands there, written, counted, and told in the history."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from sqlalchemy import Connection

from xref_app.store.connect import place_of
from xref_app.store.errors import DamagedStoreError, LostReferenceError
from xref_app.store.history import Change, Head, HistoryRow, append
from xref_app.store.package import spelled
from xref_app.store.row_hash import Values, row_hash
from xref_app.store.row_writing import write_rows
from xref_app.store.tables import CATALOG_TABLES, TABLES_BY_NAME, AnyTable
from xref_app.store.tally import Tally
from xref_app.store.verified import read_beginning, read_one

# House rules: an act of so few rows asks for each; SQLite takes some thousand values in one question.
_FEW = 20
_AT_ONCE = 400


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row before an act (None: it was not there) and after it, in canonical form with hash and mark."""

    table: AnyTable
    before: Values | None
    after: Values

    @property
    def key(self) -> tuple[object, ...]:
        """Return the row's key."""
        return tuple(self.after[name] for name in self.table.key)

    @property
    def alters(self) -> bool:
        """Say whether the row is another afterwards."""
        return self.before is None or self.before["row_hash"] != self.after["row_hash"]

    @property
    def spelled(self) -> str:
        """Return table and key for a sentence."""
        return f"{self.table.name} {spelled(self.key)}"


def find_row(connection: Connection, table: AnyTable, key: Mapping[str, object]) -> Values | None:
    """Return the row that stands there, withdrawn ones too; raise DamagedStoreError where it is damaged."""
    found = read_one(connection, table, key)
    if found.damaged:
        hit = f"row {spelled(found.damaged[0].key)} of {table.name} does not match its check sum"
        raise DamagedStoreError(place_of(connection.engine), hit)
    return plain(found.sound[0]) if found.sound else None


def find_rows(
    connection: Connection, wanted: Sequence[tuple[AnyTable, Mapping[str, object]]]
) -> tuple[Values | None, ...]:
    """Return what ``find_row`` returns for each table and key of ``wanted``, with a question for hundreds of them."""
    if len(wanted) <= _FEW:
        return tuple(find_row(connection, table, key) for table, key in wanted)
    places = [(table.name, *(key[name] for name in table.key)) for table, key in wanted]
    sound: dict[tuple[object, ...], Values] = {}
    damaged: set[tuple[str, ...]] = set()
    for table in {table.name: table for table, _key in wanted}.values():
        first = list(dict.fromkeys(place[1] for place in places if place[0] == table.name))
        for start in range(0, len(first), _AT_ONCE):
            found = read_beginning(connection, table, first[start : start + _AT_ONCE])
            sound.update({(table.name, *(one[name] for name in table.key)): plain(one) for one in found.sound})
            damaged.update((table.name, *one.key) for one in found.damaged)
    for place, (table, key) in zip(places, wanted, strict=True):
        if tuple(map(str, place)) in damaged:
            find_row(connection, table, key)  # refuses it in the usual words
    return tuple(sound.get(place) for place in places)


def plain(values: Mapping[str, object], table: AnyTable | None = None) -> Values:
    """Return ``values`` as those of a row; what an older act could not know of ``table`` is empty."""
    later: Values = dict.fromkeys(table.later) if table else {}
    return later | {
        name: value if isinstance(value, str | int | float | bool) else None for name, value in values.items()
    }


def with_mark(table: AnyTable, values: Values, withdrawn_on: str) -> Values:
    """Return the row ``values`` with its withdrawal marked, or taken back by an empty text."""
    marked: Values = {**values, "withdrawn_on": withdrawn_on}
    marked["row_hash"] = row_hash(table, marked)
    return marked


def today() -> str:
    """Return today's date, ISO 8601, UTC."""
    return datetime.now(UTC).date().isoformat()


def refuse_lost_references(connection: Connection, changes: Sequence[RowChange]) -> None:
    """Raise LostReferenceError where a row names another that neither the store nor ``changes`` hold."""
    brought = {(one.table.name, *one.key) for one in changes}
    for one in changes:
        for column, target in one.table.references.items():
            named = one.after[column]
            other = TABLES_BY_NAME[target.partition(".")[0]]
            if named == "" and column in one.table.optional:
                continue
            if (other.name, named) in brought or find_row(connection, other, {other.key[0]: named}) is not None:
                continue
            key = spelled(one.key)
            raise LostReferenceError(table=one.table.name, key=key, column=column, value=str(named))


def carry_out(connection: Connection, head: Head, changes: Sequence[RowChange], change: Change) -> int:
    """Write ``changes``, count them, add ``change`` to the history and return its serial."""
    tallies = dict(head.tallies)
    for table in CATALOG_TABLES:
        of_table = [one for one in changes if one.table is table]
        if not of_table:
            continue
        write_rows(
            connection,
            table,
            added=tuple(one.after for one in of_table if one.before is None),
            changed=tuple(one.after for one in of_table if one.before is not None),
        )
        tally = tallies.get(table.name, Tally()).minus(str(one.before["row_hash"]) for one in of_table if one.before)
        tallies[table.name] = tally.plus(str(one.after["row_hash"]) for one in of_table)
    return append(connection, head, change, tallies)


def told(change: Change, changes: Sequence[RowChange]) -> Change:
    """Return ``change`` with the rows before and after, by table."""
    before: dict[str, list[Values]] = {}
    after: dict[str, list[Values]] = {}
    for one in changes:
        after.setdefault(one.table.name, []).append(one.after)
        if one.before is not None:
            before.setdefault(one.table.name, []).append(one.before)
    return replace(change, before=before, after=after)


def changes_of(act: HistoryRow) -> tuple[RowChange, ...]:
    """Return what ``act`` (no import) did to single rows, in the order of the tables."""
    change = act.change
    if change.table:
        table = TABLES_BY_NAME[change.table]
        before = None if change.before is None else plain(change.before, table)
        return (RowChange(table, before, plain(change.after or {}, table)),)
    return tuple(one for table in CATALOG_TABLES for one in _changes_of_table(change, table))


def rows_after(act: HistoryRow, table: str) -> list[Values]:
    """Return the rows of ``table`` as ``act`` (no import) left them."""
    return [one.after for one in changes_of(act) if one.table.name == table]


def _changes_of_table(change: Change, table: AnyTable) -> list[RowChange]:
    before = {tuple(one[name] for name in table.key): one for one in _rows(change.before, table)}
    return [
        RowChange(table, before.get(tuple(after[name] for name in table.key)), after)
        for after in _rows(change.after, table)
    ]


def _rows(kept: Mapping[str, object] | None, table: AnyTable) -> list[Values]:
    rows = (kept or {}).get(table.name, [])
    return [plain(one, table) for one in rows if isinstance(one, dict)] if isinstance(rows, list) else []
