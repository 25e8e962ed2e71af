"""How many rows each table should have, and the sum of their hashes: what a vanished row cannot keep right."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, select

from xref_app.store.row_hash import HASH_BYTES
from xref_app.store.tables import CATALOG_TABLES, AnyTable

_MODULUS: Final = 1 << (8 * HASH_BYTES)


@dataclass(frozen=True, slots=True)
class Tally:
    """The number of rows of a table and the sum of their hashes (order does not matter)."""

    rows: int = 0
    total: int = 0

    def plus(self, hashes: Iterable[str]) -> Tally:
        """Return the tally after rows with these ``hashes`` were added."""
        numbers = [int(one, 16) for one in hashes]
        return Tally(self.rows + len(numbers), (self.total + sum(numbers)) % _MODULUS)

    def minus(self, hashes: Iterable[str]) -> Tally:
        """Return the tally after rows with these ``hashes`` were taken away."""
        numbers = [int(one, 16) for one in hashes]
        return Tally(self.rows - len(numbers), (self.total - sum(numbers)) % _MODULUS)


Tallies = Mapping[str, Tally]


def tallies_as_text(tallies: Tallies) -> str:
    """Return ``tallies`` as the text that history keeps."""
    return json.dumps({name: [one.rows, f"{one.total:x}"] for name, one in sorted(tallies.items())})


def tallies_from_text(text: str) -> dict[str, Tally]:
    """Return the tallies kept in a history row; raise ValueError where the text is none."""
    found = json.loads(text)
    return {name: Tally(int(rows), int(total, 16)) for name, (rows, total) in found.items()}


def empty_tallies() -> dict[str, Tally]:
    """Return the tallies of a store without rows."""
    return {one.name: Tally() for one in CATALOG_TABLES}


def count_table(connection: Connection, table: AnyTable) -> Tally:
    """Return the tally of what lies in ``table`` now, from the stored hashes; raise ValueError for a torn hash."""
    return Tally().plus(str(one) for one in connection.scalars(select(table.table.c.row_hash)))
