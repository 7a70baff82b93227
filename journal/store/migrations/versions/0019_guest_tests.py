"""Guest tests and their launches.

Makes new tables only; no data is touched, so it may run while tablets write.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None


def _choice(name: str, *values: str) -> sa.Enum:
    return sa.Enum(*values, name=name, native_enum=False, create_constraint=True, length=24)


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "guest_tests",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("kind", _choice("kind", "guests", "their_device"), nullable=False),
        sa.Column("revision_id", sa.Uuid(), nullable=False),
        sa.Column("asked_group_id", sa.Uuid(), nullable=True),
        sa.Column("turns", sa.JSON(), nullable=False),
        sa.Column("asked_at", Moment(), nullable=False),
        sa.Column("agreed", sa.Boolean(), nullable=True),
        sa.Column("ended_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["asked_group_id"], ["groups.id"], name=op.f("fk_guest_tests_asked_group_id")),
        sa.ForeignKeyConstraint(["challenge_id"], ["challenges.id"], name=op.f("fk_guest_tests_challenge_id")),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_guest_tests_group_id")),
        sa.ForeignKeyConstraint(["revision_id"], ["revisions.id"], name=op.f("fk_guest_tests_revision_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_guest_tests_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_guest_tests")),
    )
    op.create_index(
        "uq_guest_tests_open",
        "guest_tests",
        ["school_id", "group_id", "challenge_id"],
        unique=True,
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.create_index(op.f("ix_guest_tests_asked_group_id"), "guest_tests", ["asked_group_id"])
    op.create_index(
        op.f("ix_guest_tests_group_id_challenge_id"), "guest_tests", ["group_id", "challenge_id"]
    )
    op.create_table(
        "guest_trials",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("guest_test_id", sa.Uuid(), nullable=False),
        sa.Column("session_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Uuid(), nullable=True),
        sa.Column("state", _choice("state", "measured", "misfire", "void", "struck"), nullable=False),
        sa.Column("place", _choice("place", "panel", "wall", "nowhere"), nullable=True),
        sa.Column("x_mm", sa.Double(), nullable=True),
        sa.Column("y_mm", sa.Double(), nullable=True),
        sa.Column("zone", sa.String(length=60), nullable=True),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("amount", sa.Double(), nullable=True),
        sa.Column("misfire", sa.String(length=60), nullable=True),
        sa.Column("own_revision_id", sa.Uuid(), nullable=True),
        sa.Column("distance_mm", sa.Integer(), nullable=True),
        sa.Column("logged_at", Moment(), nullable=False),
        sa.Column("received_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["guest_test_id"], ["guest_tests.id"], name=op.f("fk_guest_trials_guest_test_id")),
        sa.ForeignKeyConstraint(["own_revision_id"], ["revisions.id"], name=op.f("fk_guest_trials_own_revision_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_guest_trials_school_id")),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_guest_trials_session_id")),
        sa.ForeignKeyConstraint(["student_id"], ["students.id"], name=op.f("fk_guest_trials_student_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_guest_trials")),
    )
    op.create_index(op.f("ix_guest_trials_guest_test_id"), "guest_trials", ["guest_test_id"])


def downgrade() -> None:
    """Go back."""
    op.drop_index(op.f("ix_guest_trials_guest_test_id"), table_name="guest_trials")
    op.drop_table("guest_trials")
    op.drop_index(op.f("ix_guest_tests_group_id_challenge_id"), table_name="guest_tests")
    op.drop_index(op.f("ix_guest_tests_asked_group_id"), table_name="guest_tests")
    op.drop_index(
        "uq_guest_tests_open",
        table_name="guest_tests",
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.drop_table("guest_tests")
