"""Format 0002: photos of entries, drafts of entries, and which saves were carried out.

A step is never edited once released: it spells its columns out and reads nothing from tables.py.
"""

from __future__ import annotations

from alembic import op
from sqlalchemy import Column, ForeignKeyConstraint, Integer, PrimaryKeyConstraint, Text

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _create_photos()
    _create_drafts()
    _create_saves()


def _text(name: str) -> Column[str]:
    return Column(name, Text(), nullable=False, autoincrement=False)


def _whole(name: str) -> Column[int]:
    return Column(name, Integer(), nullable=False, autoincrement=False)


def _create_photos() -> None:
    op.create_table(
        "photos",
        _text("entry_id"),
        _text("content_hash"),
        _text("caption"),
        _whole("width_px"),
        _whole("height_px"),
        _text("added_by"),
        _text("added_on"),
        _text("withdrawn_on"),
        _text("row_hash"),
        ForeignKeyConstraint(["entry_id"], ["entries.entry_id"], name=op.f("fk_photos_entry_id_entries")),
        PrimaryKeyConstraint("entry_id", "content_hash", name=op.f("pk_photos")),
    )


def _create_drafts() -> None:
    op.create_table(
        "drafts",
        _text("draft_id"),
        _whole("turn"),
        _text("kind"),
        _text("content"),
        _text("changed_at"),
        _text("row_hash"),
        PrimaryKeyConstraint("draft_id", name=op.f("pk_drafts")),
    )


def _create_saves() -> None:
    op.create_table(
        "saves",
        _text("save_id"),
        _whole("serial"),
        ForeignKeyConstraint(["serial"], ["history.serial"], name=op.f("fk_saves_serial_history")),
        PrimaryKeyConstraint("save_id", name=op.f("pk_saves")),
    )
