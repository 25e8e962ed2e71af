"""What a change does to one row of the catalog, in words: what is new, what goes, each old value beside the new one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Final

from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fields.fields import field_for
from xref_app.core.fields.table_schemas import table_schema
from xref_app.core.sentence import Sentence, marked
from xref_app.store.row_changes import RowChange
from xref_app.store.row_hash import Values

CHANGED = marked("catalog file", "{what}: {before} → {after}")
NEW = marked("catalog file", "{what}: {after}")
NEW_ALONE = marked("catalog file", "{what}")
GOES = marked("catalog file", "{what}: withdrawn")
STANDS = marked("catalog file", "{what}: stands again")
NOTHING: Final = "nothing"

# What stands for a whole row where it is new; other columns say where it comes from and by whom.
_TELLS: Final[Mapping[str, tuple[str, ...]]] = {
    "entries": ("maker", "name", "note"),
    "numbers": ("role", "how"),
    "observations": ("as_typed", "how"),
    "drivers": ("power_kind", "frame"),
    "machines": ("model", "driver_id", "pump_id", "built_from", "built_to", "tell_apart"),
    "ports": ("thread", "gender", "seal_mm"),
    "replaced_by": ("how", "since"),
    "parts": ("kind", "name", "thread", "cost"),
    "outcomes": ("result", "note"),
    "blamed_sizes": ("outcome_id",),
}
# What a row is called beside its entry: a template and the column that fills it.
_CALLED: Final[Mapping[str, tuple[str, str]]] = {
    "numbers": (marked("catalog file", "Number {name}"), "number"),
    "ports": (marked("catalog file", "Port {name}"), "port"),
    "replaced_by": (marked("catalog file", "Replaced by {name}"), "new_entry_id"),
}
# These follow from what was typed, or are of the store alone.
_FOLLOWS: Final = frozenset({"value", "text", "row_hash"})
_MARK: Final = "withdrawn_on"


def row_words(change: RowChange) -> tuple[Sentence, ...]:
    """Return what ``change`` does to its row, one sentence for each thing; a row that stays as it was has none."""
    before, after = change.before, change.after
    what = _what(change.table.name, after)
    if before is None:
        return (_new(change.table.name, what, after),)
    if bool(before[_MARK]) != bool(after[_MARK]):
        return (Sentence(GOES if after[_MARK] else STANDS, {"what": what}),)
    return tuple(_differences(change.table.name, change.table.key, what, before, after))


def all_words(changes: Iterable[RowChange]) -> Iterator[Sentence]:
    """Yield what all of ``changes`` do, in their order."""
    for one in changes:
        yield from row_words(one)


def _new(table: str, what: object, after: Values) -> Sentence:
    parts = [_shown(after[name]) for name in _TELLS.get(table, ()) if after[name] not in ("", None)]
    return Sentence(NEW, {"what": what, "after": ", ".join(parts)}) if parts else Sentence(NEW_ALONE, {"what": what})


def _differences(table: str, key: tuple[str, ...], what: object, before: Values, after: Values) -> Iterator[Sentence]:
    for column, title in _titles(table).items():
        if column in key or column in _FOLLOWS or before[column] == after[column]:
            continue
        values = {"before": _shown(before[column]), "after": _shown(after[column])}
        is_value = table == "observations" and column == "as_typed"
        called = what if is_value else f"{what}, {_lower(title)}" if table in _NAMED_BY_ROW else title
        yield Sentence(CHANGED, {"what": called, **values})


_NAMED_BY_ROW: Final = frozenset({"observations", "blamed_sizes", *_CALLED})


def _what(table: str, row: Values) -> object:
    if table in ("observations", "blamed_sizes"):
        return _field_title(str(row["field"]))
    if table in _CALLED:
        template, column = _CALLED[table]
        return Sentence(template, {"name": row[column]})
    return table_schema(table).columns[0].title if table != "entries" else _kind(row)


def _kind(row: Values) -> str:
    return str(row["kind"]).capitalize()


def _field_title(field: str) -> str:
    try:
        return field_for(field).title
    except UnknownFieldError:
        return field.replace("_", " ")


@cache
def _titles(table: str) -> Mapping[str, str]:
    return {one.name: one.title for one in table_schema(table).columns}


def _lower(title: str) -> str:
    return title[:1].lower() + title[1:]


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    return NOTHING if value in ("", None) else str(value)
