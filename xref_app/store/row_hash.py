"""A row in the one form that is hashed and stored, and back.

SQLite's own checks miss most single changed bytes; a hash kept in the row finds them when the row is read.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from operator import attrgetter, itemgetter
from typing import Any, Final

from xref_app.store.errors import UnstorableValueError
from xref_app.store.tables import CATALOG_TABLES, AnyTable, CatalogRow

# House rule: 16 bytes. Nobody attacks a row; two rows of a shop must not collide by chance.
HASH_BYTES: Final = 16

Value = str | int | float | bool | None
Values = dict[str, Value]

# The cells of one row in the order of the database's columns, without the hash: those of its class, then its mark.
Cells = tuple[Value, ...]

_encode = json.JSONEncoder(ensure_ascii=True, allow_nan=False, separators=(",", ":")).encode

# How JSON begins to spell half a character. So it does for other things, which are then looked at.
_NUL_SPELLED: Final = "\\u0000"
_HALF_SPELLED: Final = "\\ud"
_PLAIN_TYPES: Final = frozenset({str, int, float, bool, type(None)})


@dataclass(frozen=True, slots=True)
class _Form:
    """What has to be known of a table for each of its rows, worked out once: getters, and places among the cells."""

    of_row: Callable[[Any], tuple[Any, ...]]  # Any: the cells of a row have many types
    of_values: Callable[[Any], tuple[Any, ...]]
    names: tuple[str, ...]
    numeric: tuple[int, ...]
    optional: tuple[int, ...]
    later: tuple[int, ...]
    has_own_mark: bool

    @classmethod
    def of(cls, table: AnyTable) -> _Form:
        has_own_mark = "withdrawn_on" in table.columns
        names = table.columns if has_own_mark else (*table.columns, "withdrawn_on")

        def places(wanted: frozenset[str]) -> tuple[int, ...]:
            return tuple(place for place, name in enumerate(names) if name in wanted)

        return cls(
            of_row=attrgetter(*table.columns),
            of_values=itemgetter(*names),
            names=names,
            numeric=places(table.numeric),
            optional=places(table.optional),
            later=places(table.later),
            has_own_mark=has_own_mark,
        )


_FORMS: Final[Mapping[str, _Form]] = {one.name: _Form.of(one) for one in CATALOG_TABLES}


def text_hash(text: str) -> str:
    """Return the BLAKE2b of ``text`` as 32 hexadecimal digits."""
    return blake2b(text.encode("utf-8"), digest_size=HASH_BYTES).hexdigest()


def row_hash(table: AnyTable, values: Mapping[str, object]) -> str:
    """Return the hash of the canonical ``values`` of one row: the table's name, every column, the withdrawal mark.

    A column that came after its table is left out where it is empty.

    Raises:
        TypeError, ValueError: a value is of no kind that a column may hold (the row is damaged).
    """
    form = _FORMS[table.name]
    return text_hash(_spelled(table, form, form.of_values(values)))


def hash_of_stored(table: AnyTable, cells: Sequence[object]) -> str:
    """Return the hash of a row whose ``cells`` are in the order of the database; an empty reference may be NULL.

    Raises:
        TypeError, ValueError: as ``row_hash``.
    """
    form = _FORMS[table.name]
    if form.optional:
        cells = [*cells]
        for place in form.optional:
            if cells[place] is None:
                cells[place] = ""
    return text_hash(_spelled(table, form, cells))


def _spelled(table: AnyTable, form: _Form, cells: Sequence[object]) -> str:
    """Return the text that is hashed."""
    canonical = [table.name, *cells]
    for place in reversed(form.later):
        if cells[place] is None:
            del canonical[place + 1]
    return _encode(canonical)


def canonical_cells(table: AnyTable, cells: Sequence[Value], *, withdrawn_on: str = "") -> tuple[Cells, str]:
    """Return cells of a row, in the order of its class, in canonical form, and the row's hash.

    ``withdrawn_on`` is for the tables whose class has no such attribute.

    Raises:
        UnstorableValueError: a number that is not finite, or a text that no database takes.
    """
    form = _FORMS[table.name]
    plain = [*cells]
    if not _PLAIN_TYPES.issuperset(map(type, plain)):  # a word of a closed list becomes a plain text
        plain = [str(one) if isinstance(one, str) else one for one in plain]
    for place in form.numeric:
        number = plain[place]
        if number is not None and not isinstance(number, str):
            plain[place] = float(number) + 0.0  # -0.0 comes back from SQLite as 0.0
    if not form.has_own_mark:
        plain.append(withdrawn_on)
    try:
        spelled = _spelled(table, form, plain)
    except ValueError:  # JSON has no word for what is not finite
        _refuse_unstorable(table, form, plain)
        raise
    if _NUL_SPELLED in spelled or _HALF_SPELLED in spelled:
        _refuse_unstorable(table, form, plain)
    return tuple(plain), text_hash(spelled)


def to_values(table: AnyTable, row: CatalogRow, *, withdrawn_on: str = "") -> Values:
    """Return ``row`` as column values in canonical form, with its hash, ready to be stored.

    ``withdrawn_on`` is for the tables whose class has no such attribute.

    Raises:
        UnstorableValueError: a number that is not finite, or a text that no database takes.
    """
    cells, own_hash = canonical_cells(table, cells_of(table, row), withdrawn_on=withdrawn_on)
    return as_values(table, cells, own_hash)


def cells_of(table: AnyTable, row: CatalogRow) -> tuple[Value, ...]:
    """Return the attributes of ``row`` in order."""
    found: tuple[Value, ...] = _FORMS[table.name].of_row(row)
    return found


def as_values(table: AnyTable, cells: Cells, own_hash: str) -> Values:
    """Return canonical ``cells`` and their hash by column."""
    values: Values = dict(zip(_FORMS[table.name].names, cells, strict=True))
    values["row_hash"] = own_hash
    return values


def for_database(table: AnyTable, values: Mapping[str, Value]) -> Mapping[str, Value]:
    """Return canonical ``values`` as the database holds them: an empty optional reference is NULL."""
    if not table.optional:
        return values
    return {column: None if column in table.optional and value == "" else value for column, value in values.items()}


def _refuse_unstorable(table: AnyTable, form: _Form, cells: Sequence[Value]) -> None:
    """Raise UnstorableValueError for the first cell that cannot be stored, if there is one."""
    for place, (column, value) in enumerate(zip(form.names, cells, strict=True)):
        why = _why_unstorable(value, is_number=place in form.numeric)
        if why:
            raise UnstorableValueError(table=table.name, column=column, value=value, why=why)


def _why_unstorable(value: Value, *, is_number: bool) -> str:
    if isinstance(value, str):
        try:
            value.encode("utf-8")
        except UnicodeEncodeError:
            return "it holds half a character"
        return "it holds a NUL character" if "\0" in value else ""
    if is_number and value is not None and not math.isfinite(value):
        return "it is not a finite number"
    return ""
