"""Swap tests and the trials that took their turns.

Makes new tables only; no data is touched, so it may run while tablets write.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "swap_tests",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column(
            "kind",
            sa.Enum(
                "revisions",
                "own_parts",
                name="kind",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("old_revision_id", sa.Uuid(), nullable=True),
        sa.Column("new_revision_id", sa.Uuid(), nullable=True),
        sa.Column("turns", sa.JSON(), nullable=False),
        sa.Column("started_at", Moment(), nullable=False),
        sa.Column("ended_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "(kind != 'revisions') OR "
            "(old_revision_id IS NOT NULL AND new_revision_id IS NOT NULL)",
            name=op.f("ck_swap_tests_revisions_are_two"),
        ),
        sa.ForeignKeyConstraint(
            ["challenge_id"], ["challenges.id"], name=op.f("fk_swap_tests_challenge_id")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_swap_tests_group_id")),
        sa.ForeignKeyConstraint(
            ["new_revision_id"], ["revisions.id"], name=op.f("fk_swap_tests_new_revision_id")
        ),
        sa.ForeignKeyConstraint(
            ["old_revision_id"], ["revisions.id"], name=op.f("fk_swap_tests_old_revision_id")
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_swap_tests_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_swap_tests")),
    )
    op.create_index(
        "uq_swap_tests_open",
        "swap_tests",
        ["school_id", "group_id", "challenge_id"],
        unique=True,
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.create_index(
        op.f("ix_swap_tests_group_id_challenge_id"), "swap_tests", ["group_id", "challenge_id"]
    )
    op.create_table(
        "swap_trials",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("swap_test_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("trial_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_swap_trials_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["swap_test_id"], ["swap_tests.id"], name=op.f("fk_swap_trials_swap_test_id")
        ),
        sa.ForeignKeyConstraint(["trial_id"], ["trials.id"], name=op.f("fk_swap_trials_trial_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_swap_trials")),
        sa.UniqueConstraint(
            "school_id", "trial_id", name=op.f("uq_swap_trials_school_id_trial_id")
        ),
    )
    op.create_index(op.f("ix_swap_trials_swap_test_id"), "swap_trials", ["swap_test_id"])


def downgrade() -> None:
    """Go back."""
    op.drop_index(op.f("ix_swap_trials_swap_test_id"), table_name="swap_trials")
    op.drop_table("swap_trials")
    op.drop_index(op.f("ix_swap_tests_group_id_challenge_id"), table_name="swap_tests")
    op.drop_index(
        "uq_swap_tests_open",
        table_name="swap_tests",
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.drop_table("swap_tests")
