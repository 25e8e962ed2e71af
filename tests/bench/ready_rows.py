"""Observations that stand in many entries: brought into stored form once, then stamped with a number and an entry.

A store of a million entries holds tens of millions of observations; hashing each from its dataclass would take most of
the time. Only the end of the hashed text is kept ready, so the hash stays the program's own: ``Stamp`` compares.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from xref_app.core.model.catalog import Observation
from xref_app.store.row_hash import row_hash, text_hash, to_values
from xref_app.store.tables import OBSERVATIONS

COLUMNS: Final = (*OBSERVATIONS.columns, "row_hash")
_FIRST_TWO: Final = ("observation_id", "entry_id")

Values = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class ReadyRow:
    """All of an observation but its number and entry: its values, and the end of the text that is hashed."""

    values: Values
    hashed_end: str


def ready(observations: Iterable[Observation]) -> tuple[ReadyRow, ...]:
    """Return the observations in the form that is stamped; raise ValueError if the store hashes in another form."""
    if OBSERVATIONS.columns[:2] != _FIRST_TWO:
        raise ValueError("the first columns of an observation are its number and its entry no more")
    return tuple(_ready(one) for one in observations)


def stamped(row: ReadyRow, observation_id: int, entry_id: str) -> Values:
    """Return the row as the table holds it, in the order of ``COLUMNS``."""
    text = f'["observations",{observation_id},"{entry_id}"{row.hashed_end}'
    return (observation_id, entry_id, *row.values, text_hash(text))


def refuse_other_hash(row: Values) -> None:
    """Raise ValueError where a stamped row has not the hash that the program gives it."""
    values = dict(zip(COLUMNS, row, strict=True))
    if row_hash(OBSERVATIONS, values) != values["row_hash"]:
        raise ValueError("the program hashes an observation in another form than ready_rows.py")


def _ready(observation: Observation) -> ReadyRow:
    values = to_values(OBSERVATIONS, replace(observation, observation_id=0, entry_id=""))
    rest: Sequence[object] = [values[name] for name in OBSERVATIONS.columns[2:]]
    encoded = json.dumps(rest, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return ReadyRow(tuple(rest), f",{encoded[1:]}")
