"""Whose numbers are among many wanted ones: one pass over all numbers, where asking for each would take longer."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, select

from xref_app.store.connect import reading
from xref_app.store.tables import ENTRIES, NUMBERS

_ALL: Final = (
    select(NUMBERS.table.c.entry_id, NUMBERS.table.c.number, NUMBERS.table.c.source)
    .join(ENTRIES.table, ENTRIES.table.c.entry_id == NUMBERS.table.c.entry_id)
    .where(ENTRIES.table.c.withdrawn_on == "")
)


@dataclass(frozen=True, slots=True)
class NumberOwner:
    """An entry that is not withdrawn, one of its numbers and where that was read."""

    entry_id: str
    number: str
    source: str


def owners_of_numbers(
    store: Engine | Connection, wanted: Collection[str], fold: Callable[[str], str]
) -> dict[str, list[NumberOwner]]:
    """Return who carries each of ``wanted``, by the folded number.

    The rows are not compared with their hashes: what an entry says must be read in the usual way.

    Args:
        store: The store, or the connection of a transaction that is open.
        wanted: Numbers as ``fold`` returns them.
        fold: What is one and the same number.
    """
    if isinstance(store, Engine):
        with reading(store) as connection:
            return owners_of_numbers(connection, wanted, fold)
    found: dict[str, list[NumberOwner]] = {}
    for entry_id, number, source in store.execute(_ALL):
        folded = fold(str(number))
        if folded in wanted:
            found.setdefault(folded, []).append(NumberOwner(str(entry_id), str(number), str(source)))
    return found
