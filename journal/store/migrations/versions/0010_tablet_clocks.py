"""How far a tablet's clock was off when it sent a trial.

Adds one column with a default, which rewrites no row in SQLite or PostgreSQL, so it may run while
tablets write. Trials that are there keep their times as claimed. Taking it back loses how far the
clocks were off; SQLite copies the table for that, so stop the journal.
"""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.add_column(
        "trials", sa.Column("clock_slow_s", sa.BigInteger(), nullable=False, server_default="0")
    )


def downgrade() -> None:
    """Go back."""
    op.drop_column("trials", "clock_slow_s")
