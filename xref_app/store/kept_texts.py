"""Texts kept under an id beside the catalog: each has a turn, which orders them as no clock set wrong can.

They are no part of the catalog: the history does not tell of them and no count holds them.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, Select, Table, bindparam, delete, func, insert, select, update

from xref_app.store.connect import reading, writing
from xref_app.store.errors import UnstorableValueError
from xref_app.store.row_hash import text_hash
from xref_app.store.verified import read_leniently

_TURN: Final = "turn"
_HASH: Final = "row_hash"


@dataclass(frozen=True, slots=True)
class KeptRows:
    """The rows that are whole, newest first, by column, and the ids of those set aside because they are damaged."""

    sound: tuple[Mapping[str, str], ...]
    damaged: tuple[str, ...]


class KeptTexts:
    """One table of texts: its first column is the id, its last the hash of all others."""

    def __init__(self, table: Table, *, most: int | None = None) -> None:
        """Make it; beyond the newest ``most`` rows all are dropped when another is kept, None keeps them all."""
        self._table = table
        self._names = tuple(table.c.keys())
        self._key = self._names[0]
        key, turn = table.c[self._key], table.c[_TURN]
        self._next_turn = select(func.coalesce(func.max(turn), 0) + 1)
        self._add = insert(table)
        is_wanted = key == bindparam("wanted")
        self._present = select(*table.c).where(is_wanted)
        self._change = update(table).where(is_wanted)
        self._drop = delete(table).where(is_wanted)
        self._drop_old = None if most is None else delete(table).where(key.in_(_beyond(table, self._key, most)))

    def keep(self, engine: Engine, texts: Mapping[str, str], *, over: Mapping[str, str] | None = None) -> bool:
        """Keep ``texts``, by column, in place of what was kept under their id; on return they are on the disk.

        Args:
            engine: The store.
            texts: Every column but turn and hash.
            over: What must stand there, by column, if anything does; otherwise nothing is kept and False returned.

        Raises:
            UnstorableValueError: a text that no database takes.
            StoreError: another of its kinds; what was kept before stands.
        """
        self._refuse_unstorable(texts)
        with writing(engine) as connection:
            if over is not None and not self._stands(connection, texts[self._key], over):
                return False
            self._write(connection, texts)
        return True

    def _stands(self, connection: Connection, wanted: str, over: Mapping[str, str]) -> bool:
        found = read_leniently(connection, self._present, {"wanted": wanted})
        rows = [dict(zip(self._names, row, strict=True)) for row in found]
        return all(str(row[column]) == text for row in rows for column, text in over.items())

    def _write(self, connection: Connection, texts: Mapping[str, str]) -> None:
        values: dict[str, object] = {**texts, _TURN: connection.scalar(self._next_turn)}
        values[_HASH] = self._hash(values)
        if not connection.execute(self._change, {**values, "wanted": texts[self._key]}).rowcount:
            connection.execute(self._add, values)
            if self._drop_old is not None:
                connection.execute(self._drop_old)

    def read(self, engine: Engine) -> KeptRows:
        """Return the rows that are whole, newest first, and the ids of the damaged ones."""
        with reading(engine) as connection:
            found = read_leniently(connection, select(self._table))
        rows: list[dict[str, object]] = [dict(zip(self._names, row, strict=True)) for row in found]
        whole = [one for one in rows if self._hash(one) == one[_HASH]]
        whole.sort(key=lambda one: int(str(one[_TURN])), reverse=True)
        damaged = tuple(str(one[self._key]) for one in rows if one not in whole)
        return KeptRows(tuple({name: str(value) for name, value in one.items()} for one in whole), damaged)

    def drop(self, engine: Engine, wanted: str) -> None:
        """Forget the row ``wanted``, a damaged one too; nothing happens where there is none."""
        with writing(engine) as connection:
            connection.execute(self._drop, {"wanted": wanted})

    def _hash(self, values: Mapping[str, object]) -> str:
        hashed = (str(values[name]) for name in self._names if name != _HASH)
        return text_hash(json.dumps([self._table.name, *hashed]))

    def _refuse_unstorable(self, texts: Mapping[str, str]) -> None:
        for column, value in texts.items():
            why = "it holds a NUL character" if "\0" in value else _half_a_character(value)
            if why:
                raise UnstorableValueError(table=self._table.name, column=column, value=value, why=why)


def _beyond(table: Table, key: str, most: int) -> Select[tuple[str]]:
    return select(table.c[key]).order_by(table.c[_TURN].desc()).offset(most)


def _half_a_character(value: str) -> str:
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        return "it holds half a character"
    return ""
