"""Format 0004: which salvaged units are put by for a job.

A step is never edited once released: it spells its columns out and reads nothing from tables.py.
"""

from __future__ import annotations

from alembic import op
from sqlalchemy import Column, ForeignKeyConstraint, PrimaryKeyConstraint, Text

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "unit_reservations",
        _text("reservation_id"),
        _text("unit_id"),
        _text("job"),
        _text("reserved_by"),
        _text("reserved_on"),
        _text("released_on"),
        _text("withdrawn_on"),
        _text("row_hash"),
        ForeignKeyConstraint(
            ["unit_id"], ["salvaged_units.unit_id"], name=op.f("fk_unit_reservations_unit_id_salvaged_units")
        ),
        PrimaryKeyConstraint("reservation_id", name=op.f("pk_unit_reservations")),
    )
    op.create_index(op.f("ix_unit_reservations_unit_id"), "unit_reservations", ["unit_id"])


def _text(name: str) -> Column[str]:
    return Column(name, Text(), nullable=False, autoincrement=False)
