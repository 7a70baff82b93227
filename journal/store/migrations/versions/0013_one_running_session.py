"""A class has at most one session that runs: the database itself says so.

On a server two sessions of a class may run because they were started at the same moment. All but
the newest of them are ended at the moment when the next one started; nothing is deleted, and every
trial stays in its session. It may run while tablets write: it takes a moment.
"""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

_sessions = sa.table(
    "sessions",
    sa.column("class_id", sa.Uuid()),
    sa.column("number", sa.Integer()),
    sa.column("started_at", sa.DateTime(timezone=True)),
    sa.column("ended_at", sa.DateTime(timezone=True)),
)


def upgrade() -> None:
    """Go forward."""
    later = _sessions.alias("later")
    after = sa.and_(later.c.class_id == _sessions.c.class_id, later.c.number > _sessions.c.number)
    op.execute(
        sa.update(_sessions)
        .where(
            _sessions.c.ended_at.is_(None),
            sa.exists().where(after, later.c.ended_at.is_(None)).correlate(_sessions),
        )
        .values(
            ended_at=sa.select(sa.func.min(later.c.started_at))
            .where(after)
            .correlate(_sessions)
            .scalar_subquery()
        )
    )
    op.create_index(
        "uq_sessions_running",
        "sessions",
        ["school_id", "class_id"],
        unique=True,
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )


def downgrade() -> None:
    """Go back."""
    op.drop_index("uq_sessions_running", "sessions")
