"""Jobs: what is printed outside the requests, with lease, attempts and outcome.

Makes a table, so it may run while tablets write. Taking it back loses what is queued and which
prints there are; their files are removed at the next start.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None

_KEYS = {
    "school_id": "schools",
    "class_id": "classes",
    "group_id": "groups",
    "challenge_id": "challenges",
    "teacher_id": "teachers",
}
_LIVE = sa.text("state IN ('queued', 'running')")


def _choice(name: str, *values: str) -> sa.Enum:
    return sa.Enum(*values, name=name, native_enum=False, create_constraint=True, length=24)


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "jobs",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=True),
        sa.Column("challenge_id", sa.Uuid(), nullable=True),
        sa.Column("teacher_id", sa.Uuid(), nullable=False),
        sa.Column("kind", _choice("kind", "portfolio"), nullable=False),
        sa.Column(
            "state",
            _choice("state", "queued", "running", "done", "failed", "cancelled"),
            nullable=False,
        ),
        sa.Column("asked_at", Moment(), nullable=False),
        sa.Column("ended_at", Moment(), nullable=True),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("percent", sa.Integer(), nullable=False),
        sa.Column("lease_owner", sa.Uuid(), nullable=True),
        sa.Column("lease_until", Moment(), nullable=True),
        sa.Column("problem", sa.String(length=400), nullable=False),
        sa.Column("class_version", sa.Integer(), nullable=True),
        sa.Column("edition", sa.String(length=40), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        *(
            sa.ForeignKeyConstraint([column], [f"{table}.id"], name=op.f(f"fk_jobs_{column}"))
            for column, table in _KEYS.items()
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_jobs")),
    )
    op.create_index(op.f("ix_jobs_group_id"), "jobs", ["group_id"])
    op.create_index(
        "uq_jobs_live",
        "jobs",
        ["school_id", "kind", "group_id", "challenge_id"],
        unique=True,
        sqlite_where=_LIVE,
        postgresql_where=_LIVE,
    )


def downgrade() -> None:
    """Go back."""
    op.drop_table("jobs")
