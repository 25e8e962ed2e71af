"""Format 0003: what is put by for a job, and the count at which a bin is marked low.

A step is never edited once released: it spells its columns out and reads nothing from tables.py. An empty ``low_at``
counts in no hash, so the hashes and tallies of the rows that are there still hold.
"""

from __future__ import annotations

from alembic import op
from sqlalchemy import Column, ForeignKeyConstraint, Integer, PrimaryKeyConstraint, Text

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("shelf", Column("low_at", Integer(), nullable=True))
    _create_reservations()


def _text(name: str) -> Column[str]:
    return Column(name, Text(), nullable=False, autoincrement=False)


def _create_reservations() -> None:
    op.create_table(
        "reservations",
        _text("reservation_id"),
        _text("shelf_id"),
        Column("quantity", Integer(), nullable=False),
        _text("job"),
        _text("reserved_by"),
        _text("reserved_on"),
        _text("released_on"),
        _text("withdrawn_on"),
        _text("row_hash"),
        ForeignKeyConstraint(["shelf_id"], ["shelf.shelf_id"], name=op.f("fk_reservations_shelf_id_shelf")),
        PrimaryKeyConstraint("reservation_id", name=op.f("pk_reservations")),
    )
    op.create_index(op.f("ix_reservations_shelf_id"), "reservations", ["shelf_id"])
