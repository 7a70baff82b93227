"""Indexes for what the busy pages ask by: they read whole tables, those of other classes too.

Changes no row. It may run while tablets write: on SQLite they wait some milliseconds, on PostgreSQL
a table takes no writing until its index is there.
"""

from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None

_INDEXES = (
    ("revisions", ("part_id",)),
    ("sessions", ("class_id",)),
    ("groups", ("class_id",)),
    ("students", ("class_id",)),
    ("absences", ("session_id",)),
    ("climbs", ("group_id", "challenge_id")),
)


def upgrade() -> None:
    """Go forward."""
    for table, columns in _INDEXES:
        op.create_index(_name(table, columns), table, list(columns))


def downgrade() -> None:
    """Go back."""
    for table, columns in reversed(_INDEXES):
        op.drop_index(_name(table, columns), table_name=table)


def _name(table: str, columns: tuple[str, ...]) -> str:
    return op.f(f"ix_{table}_{'_'.join(columns)}")
