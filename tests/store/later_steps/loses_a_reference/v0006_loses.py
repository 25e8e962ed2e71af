"""Format 0006 that takes away an entry others name."""

from __future__ import annotations

from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.execute("DELETE FROM drivers WHERE entry_id = 'D001'")
    op.execute("INSERT INTO drivers VALUES ('D001', 'petrol', '', '', '00')")
    op.execute("DELETE FROM entries WHERE entry_id = 'D001'")
