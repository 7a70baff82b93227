"""Tallies of wrong lesson words and passwords, and the browsers that were in before.

Makes new tables and ends the lesson words in force, which were shorter: the teacher makes a new
one. No other data is touched; tablets that are in stay in, so it may run while they write.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "guess_tallies",
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("wrong", sa.Integer(), nullable=False),
        sa.Column("since", Moment(), nullable=False),
        sa.Column("last_at", Moment(), nullable=False),
        sa.Column("pauses", sa.Integer(), nullable=False),
        sa.Column("paused_until", Moment(), nullable=True),
        sa.Column("free_until", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_guess_tallies")),
        sa.UniqueConstraint("key", name=op.f("uq_guess_tallies_key")),
    )
    op.create_index(op.f("ix_guess_tallies_last_at"), "guess_tallies", ["last_at"])
    op.create_table(
        "known_browsers",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=True),
        sa.Column("signed_in_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_known_browsers_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["teacher_id"], ["teachers.id"], name=op.f("fk_known_browsers_teacher_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_known_browsers")),
        sa.UniqueConstraint(
            "token_hash", "teacher_id", name=op.f("uq_known_browsers_token_hash_teacher_id")
        ),
    )
    op.execute("DELETE FROM lesson_words")


def downgrade() -> None:
    """Go back."""
    op.drop_table("known_browsers")
    op.drop_index(op.f("ix_guess_tallies_last_at"), table_name="guess_tallies")
    op.drop_table("guess_tallies")
    op.execute("DELETE FROM lesson_words")
