"""A row in the one form that is hashed and stored, and back.

SQLite's own checks miss most single changed bytes; a hash kept in the row finds them when the row is read.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from hashlib import blake2b
from typing import Final

from xref_app.store.errors import UnstorableValueError
from xref_app.store.tables import AnyTable, CatalogRow

# House rule: 16 bytes. Nobody attacks a row; two rows of a shop must not collide by chance.
HASH_BYTES: Final = 16

Value = str | int | float | bool | None
Values = dict[str, Value]

_encode = json.JSONEncoder(ensure_ascii=True, allow_nan=False, separators=(",", ":")).encode


def text_hash(text: str) -> str:
    """Return the BLAKE2b of ``text`` as 32 hexadecimal digits."""
    return blake2b(text.encode("utf-8"), digest_size=HASH_BYTES).hexdigest()


def row_hash(table: AnyTable, values: Mapping[str, object]) -> str:
    """Return the hash of the canonical ``values`` of one row: the table's name, every column, the withdrawal mark.

    A column that came after its table is left out where it is empty.

    Raises:
        TypeError, ValueError: a value is of no kind that a column may hold (the row is damaged).
    """
    counted = (one for one in table.columns if one not in table.later or values[one] is not None)
    canonical = [table.name, *map(values.__getitem__, counted)]
    if "withdrawn_on" not in table.columns:
        canonical.append(values["withdrawn_on"])
    return text_hash(_encode(canonical))


def to_values(table: AnyTable, row: CatalogRow, *, withdrawn_on: str = "") -> Values:
    """Return ``row`` as column values in canonical form, with its hash, ready to be stored.

    ``withdrawn_on`` is for the tables whose class has no such attribute.

    Raises:
        UnstorableValueError: a number that is not finite, or a text that no database takes.
    """
    values: Values = {column: _storable(table, column, getattr(row, column)) for column in table.columns}
    values.setdefault("withdrawn_on", withdrawn_on)
    values["row_hash"] = row_hash(table, values)
    return values


def for_database(table: AnyTable, values: Mapping[str, Value]) -> Values:
    """Return canonical ``values`` as the database holds them: an empty optional reference is NULL."""
    return {column: None if column in table.optional and value == "" else value for column, value in values.items()}


def _storable(table: AnyTable, column: str, value: Value) -> Value:
    if isinstance(value, str):
        return _storable_text(table, column, value)
    if column not in table.numeric or value is None:
        return value
    if not math.isfinite(value):
        raise UnstorableValueError(table=table.name, column=column, value=value, why="it is not a finite number")
    return float(value) + 0.0  # -0.0 comes back from SQLite as 0.0


def _storable_text(table: AnyTable, column: str, value: str) -> str:
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        why = "it holds half a character"
        raise UnstorableValueError(table=table.name, column=column, value=value, why=why) from None
    if "\0" in value:
        why = "it holds a NUL character"
        raise UnstorableValueError(table=table.name, column=column, value=value, why=why)
    return str(value)  # a word of a closed list becomes a plain text
