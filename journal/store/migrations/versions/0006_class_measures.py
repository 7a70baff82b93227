"""Measures that a teacher opened or closed for a class.

Adds one column with a default, which rewrites no row in SQLite or PostgreSQL, so it may run while
tablets write; taking it back copies the table in SQLite, so stop the journal for that.
"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.add_column(
        "classes", sa.Column("measures", sa.JSON(), nullable=False, server_default="{}")
    )


def downgrade() -> None:
    """Go back."""
    op.drop_column("classes", "measures")
