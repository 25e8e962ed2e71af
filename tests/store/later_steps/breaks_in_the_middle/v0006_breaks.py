"""Format 0006 with a fault after a table was rebuilt."""

from __future__ import annotations

from alembic import op
from sqlalchemy import Text

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("parts", recreate="always") as batch:
        batch.alter_column("note", existing_type=Text(), nullable=True)
    op.execute("UPDATE parts SET no_such_column = 1")
