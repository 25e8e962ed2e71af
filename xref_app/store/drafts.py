"""Entries somebody began and has not saved: kept after every field, each in a transaction of its own.

They are no part of the catalog: the history does not tell of them and no count holds them.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, bindparam, delete, func, insert, select, update

from xref_app.store.connect import reading, writing
from xref_app.store.errors import UnstorableValueError
from xref_app.store.row_hash import text_hash
from xref_app.store.tables import DRAFTS
from xref_app.store.verified import read_leniently

_HASHED: Final = ("draft_id", "turn", "kind", "content", "changed_at")
_NEXT_TURN: Final = select(func.coalesce(func.max(DRAFTS.c.turn), 0) + 1)
_ADD: Final = insert(DRAFTS)
_CHANGE: Final = update(DRAFTS).where(DRAFTS.c.draft_id == bindparam("wanted"))
_DROP: Final = delete(DRAFTS).where(DRAFTS.c.draft_id == bindparam("wanted"))


@dataclass(frozen=True, slots=True)
class Draft:
    """One unfinished entry: what kind of form, what was typed so far (JSON), and when (ISO 8601, UTC)."""

    draft_id: str
    kind: str
    content: str
    changed_at: str


@dataclass(frozen=True, slots=True)
class KeptDrafts:
    """The drafts that are whole, newest first, and the ids of those set aside because they are damaged."""

    sound: tuple[Draft, ...]
    damaged: tuple[str, ...]


def keep_draft(engine: Engine, draft: Draft) -> None:
    """Keep ``draft`` in place of what was kept under its id; once this returned it is on the disk.

    Raises:
        UnstorableValueError: a text that no database takes.
        StoreError: another of its kinds; what was kept before stands.
    """
    _refuse_unstorable(draft)
    with writing(engine) as connection:
        turn = connection.scalar(_NEXT_TURN)
        values: dict[str, object] = {
            "draft_id": draft.draft_id,
            "turn": turn,
            "kind": draft.kind,
            "content": draft.content,
            "changed_at": draft.changed_at,
        }
        values["row_hash"] = _hash(values)
        if not connection.execute(_CHANGE, {**values, "wanted": draft.draft_id}).rowcount:
            connection.execute(_ADD, values)


def read_drafts(engine: Engine) -> tuple[Draft, ...]:
    """Return the drafts that are whole, newest first; what is damaged is left out (see read_kept_drafts)."""
    return read_kept_drafts(engine).sound


def read_kept_drafts(engine: Engine) -> KeptDrafts:
    """Return the drafts that are whole, newest first, and the ids of the damaged ones."""
    with reading(engine) as connection:
        rows = _rows(connection)
    whole = [one for one in rows if _hash(one) == one["row_hash"]]
    whole.sort(key=lambda one: int(str(one["turn"])), reverse=True)
    damaged = tuple(str(one["draft_id"]) for one in rows if one not in whole)
    return KeptDrafts(tuple(_draft(one) for one in whole), damaged)


def drop_draft(engine: Engine, draft_id: str) -> None:
    """Forget the draft ``draft_id``, a damaged one too; nothing happens where there is none."""
    with writing(engine) as connection:
        connection.execute(_DROP, {"wanted": draft_id})


def _rows(connection: Connection) -> list[Mapping[str, object]]:
    names = tuple(DRAFTS.c.keys())
    return [dict(zip(names, row, strict=True)) for row in read_leniently(connection, select(DRAFTS))]


def _draft(values: Mapping[str, object]) -> Draft:
    return Draft(*(str(values[name]) for name in ("draft_id", "kind", "content", "changed_at")))


def _hash(values: Mapping[str, object]) -> str:
    return text_hash(json.dumps(["drafts", *(str(values[name]) for name in _HASHED)]))


def _refuse_unstorable(draft: Draft) -> None:
    for column in ("draft_id", "kind", "content", "changed_at"):
        value: str = getattr(draft, column)
        why = "it holds a NUL character" if "\0" in value else _half_a_character(value)
        if why:
            raise UnstorableValueError(table="drafts", column=column, value=value, why=why)


def _half_a_character(value: str) -> str:
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        return "it holds half a character"
    return ""
