"""A session's length, its pauses, what we do today, and the teacher's notes.

Adds columns that are empty or have a default, which rewrites no row in SQLite or PostgreSQL, so it
may run while tablets write. Of sessions that are there nobody knows the length. Taking it back loses
lengths, pauses, plans and notes; SQLite copies the table for that, so stop the journal.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.add_column("sessions", sa.Column("length_min", sa.Integer(), nullable=True))
    op.add_column("sessions", sa.Column("paused_at", Moment(), nullable=True))
    op.add_column("sessions", sa.Column("paused_s", sa.Integer(), nullable=False, server_default="0"))
    op.add_column("sessions", sa.Column("plan", sa.String(400), nullable=False, server_default=""))
    op.add_column("sessions", sa.Column("notes", sa.String(2000), nullable=False, server_default=""))


def downgrade() -> None:
    """Go back."""
    for name in ("notes", "plan", "paused_s", "paused_at", "length_min"):
        op.drop_column("sessions", name)
