"""Format 0005: jobs that reopen as they were, and the sizes that are blamed for what went wrong.

A step is never edited once released: it spells its columns out and reads nothing from tables.py.
"""

from __future__ import annotations

from alembic import op
from sqlalchemy import Column, ForeignKeyConstraint, Integer, PrimaryKeyConstraint, Text

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _create_jobs()
    _create_blamed_sizes()


def _text(name: str) -> Column[str]:
    return Column(name, Text(), nullable=False, autoincrement=False)


def _whole(name: str) -> Column[int]:
    return Column(name, Integer(), nullable=False, autoincrement=False)


def _create_jobs() -> None:
    op.create_table(
        "jobs",
        _text("job_id"),
        _whole("turn"),
        _text("content"),
        _text("changed_at"),
        _text("row_hash"),
        PrimaryKeyConstraint("job_id", name=op.f("pk_jobs")),
    )


def _create_blamed_sizes() -> None:
    op.create_table(
        "blamed_sizes",
        _text("blamed_id"),
        _text("outcome_id"),
        _text("entry_id"),
        _text("field"),
        _whole("doubts_up_to"),
        _text("withdrawn_on"),
        _text("row_hash"),
        ForeignKeyConstraint(["outcome_id"], ["outcomes.outcome_id"], name=op.f("fk_blamed_sizes_outcome_id_outcomes")),
        ForeignKeyConstraint(["entry_id"], ["entries.entry_id"], name=op.f("fk_blamed_sizes_entry_id_entries")),
        PrimaryKeyConstraint("blamed_id", name=op.f("pk_blamed_sizes")),
    )
    op.create_index(op.f("ix_blamed_sizes_outcome_id"), "blamed_sizes", ["outcome_id"])
    op.create_index(op.f("ix_blamed_sizes_entry_id"), "blamed_sizes", ["entry_id"])
