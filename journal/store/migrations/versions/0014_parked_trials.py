"""Trials that came late and belong nowhere, until the teacher places or discards them.

Makes a table, so it may run while tablets write. Taking it back loses what waits in it.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None

_KEYS = {
    "school_id": "schools",
    "group_id": "groups",
    "teacher_id": "teachers",
    "session_id": "sessions",
}


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "parked_trials",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("entry", sa.JSON(), nullable=False),
        sa.Column("content_hash", sa.String(length=64), nullable=False),
        sa.Column(
            "why",
            sa.Enum(
                "no_session",
                "before_gate",
                name="why",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("made_at", Moment(), nullable=False),
        sa.Column("clock_slow_s", sa.BigInteger(), nullable=False),
        sa.Column("received_at", Moment(), nullable=False),
        sa.Column("decided_at", Moment(), nullable=True),
        sa.Column("teacher_id", sa.Uuid(), nullable=True),
        sa.Column("session_id", sa.Uuid(), nullable=True),
        sa.Column("reason", sa.String(length=300), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        *(
            sa.ForeignKeyConstraint(
                [column], [f"{table}.id"], name=op.f(f"fk_parked_trials_{column}")
            )
            for column, table in _KEYS.items()
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_parked_trials")),
    )
    op.create_index(op.f("ix_parked_trials_group_id"), "parked_trials", ["group_id"])


def downgrade() -> None:
    """Go back."""
    op.drop_table("parked_trials")
