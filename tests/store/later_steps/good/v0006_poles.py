"""Format 0006 as a later version might bring it: one more column, and a table rebuilt."""

from __future__ import annotations

from alembic import op
from sqlalchemy import Column, Integer, Text

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("drivers", Column("poles", Integer(), nullable=True))
    with op.batch_alter_table("parts", recreate="always") as batch:
        batch.alter_column("note", existing_type=Text(), nullable=True)
