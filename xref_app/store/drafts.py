"""Entries somebody began and has not saved: kept after every field, each in a transaction of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Final

from sqlalchemy import Engine

from xref_app.store.kept_texts import KeptTexts
from xref_app.store.tables import DRAFTS

_DRAFTS: Final = KeptTexts(DRAFTS)


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
    _DRAFTS.keep(engine, asdict(draft))


def read_drafts(engine: Engine) -> tuple[Draft, ...]:
    """Return the drafts that are whole, newest first; what is damaged is left out (see read_kept_drafts)."""
    return read_kept_drafts(engine).sound


def read_kept_drafts(engine: Engine) -> KeptDrafts:
    """Return the drafts that are whole, newest first, and the ids of the damaged ones."""
    kept = _DRAFTS.read(engine)
    return KeptDrafts(tuple(_draft(one) for one in kept.sound), kept.damaged)


def drop_draft(engine: Engine, draft_id: str) -> None:
    """Forget the draft ``draft_id``, a damaged one too; nothing happens where there is none."""
    _DRAFTS.drop(engine, draft_id)


def _draft(values: Mapping[str, str]) -> Draft:
    return Draft(values["draft_id"], values["kind"], values["content"], values["changed_at"])
