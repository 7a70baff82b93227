"""Until when a lane stayed open and what closed it; trials that were made while it was closed.

Adds empty columns and one with a default, which rewrites no row in SQLite or PostgreSQL, so it may
run while tablets write. A lane that is open stays open; a session that loads and runs meanwhile
waits for its checklist from then on. Taken back, each lane that was ever opened counts as open;
SQLite copies tables for that, so stop the journal.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.add_column("gates", sa.Column("closed_at", Moment(), nullable=True))
    # SQLite takes a check only together with its column.
    op.execute(
        "ALTER TABLE gates ADD COLUMN closed_by VARCHAR(24) "
        "CONSTRAINT ck_gates_closed_by CHECK (closed_by IN ('teacher', 'near_miss'))"
    )
    op.add_column(
        "trials", sa.Column("lane_closed", sa.Boolean(), nullable=False, server_default=sa.false())
    )


def downgrade() -> None:
    """Go back."""
    op.drop_column("trials", "lane_closed")
    op.execute("ALTER TABLE gates DROP COLUMN closed_by")
    op.execute("ALTER TABLE gates DROP COLUMN closed_at")
