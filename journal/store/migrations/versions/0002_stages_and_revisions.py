"""Stages, notes, parts and revisions.

Makes new tables only; no data is touched, so it may run while tablets write.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "parts",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("key", sa.String(length=60), nullable=False),
        sa.Column("owner_id", sa.Uuid(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["challenge_id"], ["challenges.id"], name=op.f("fk_parts_challenge_id")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_parts_group_id")),
        sa.ForeignKeyConstraint(["owner_id"], ["students.id"], name=op.f("fk_parts_owner_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_parts_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_parts")),
    )
    op.create_index(op.f("ix_parts_group_id"), "parts", ["group_id"], unique=False)
    op.create_index(
        "uq_parts_own",
        "parts",
        ["school_id", "group_id", "challenge_id", "key", "owner_id"],
        unique=True,
        sqlite_where=sa.text("owner_id IS NOT NULL"),
        postgresql_where=sa.text("owner_id IS NOT NULL"),
    )
    op.create_index(
        "uq_parts_shared",
        "parts",
        ["school_id", "group_id", "challenge_id", "key"],
        unique=True,
        sqlite_where=sa.text("owner_id IS NULL"),
        postgresql_where=sa.text("owner_id IS NULL"),
    )
    op.create_table(
        "notes",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("session_id", sa.Uuid(), nullable=True),
        sa.Column(
            "kind",
            sa.Enum(
                "problem",
                "question",
                "idea",
                "choice",
                "changes",
                "stays",
                "prediction",
                "materials",
                "found",
                "next",
                name="kind",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("text", sa.String(length=600), nullable=False),
        sa.Column("student_id", sa.Uuid(), nullable=True),
        sa.Column("scribe", sa.String(length=24), nullable=False),
        sa.Column("logged_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["challenge_id"], ["challenges.id"], name=op.f("fk_notes_challenge_id")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_notes_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_notes_school_id")),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_notes_session_id")),
        sa.ForeignKeyConstraint(["student_id"], ["students.id"], name=op.f("fk_notes_student_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_notes")),
    )
    op.create_index(
        op.f("ix_notes_group_id_challenge_id"), "notes", ["group_id", "challenge_id"], unique=False
    )
    op.create_table(
        "part_events",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("part_id", sa.Uuid(), nullable=False),
        sa.Column(
            "kind",
            sa.Enum(
                "lost",
                "broken",
                "mended",
                "borrowed",
                name="kind",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("at", Moment(), nullable=False),
        sa.Column("student_id", sa.Uuid(), nullable=True),
        sa.Column("borrower_group_id", sa.Uuid(), nullable=True),
        sa.Column("note", sa.String(length=200), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["borrower_group_id"], ["groups.id"], name=op.f("fk_part_events_borrower_group_id")
        ),
        sa.ForeignKeyConstraint(["part_id"], ["parts.id"], name=op.f("fk_part_events_part_id")),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_part_events_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["student_id"], ["students.id"], name=op.f("fk_part_events_student_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part_events")),
    )
    op.create_index(
        op.f("ix_part_events_borrower_group_id"), "part_events", ["borrower_group_id"], unique=False
    )
    op.create_index(op.f("ix_part_events_part_id"), "part_events", ["part_id"], unique=False)
    op.create_table(
        "revisions",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("part_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("parent_id", sa.Uuid(), nullable=True),
        sa.Column("made_at", Moment(), nullable=False),
        sa.Column("session_id", sa.Uuid(), nullable=True),
        sa.Column("changes", sa.JSON(), nullable=False),
        sa.Column("materials", sa.JSON(), nullable=False),
        sa.Column("reason", sa.String(length=600), nullable=False),
        sa.Column("prediction", sa.String(length=600), nullable=False),
        sa.Column("makers", sa.JSON(), nullable=False),
        sa.Column("deciders", sa.JSON(), nullable=False),
        sa.Column("scribe", sa.String(length=24), nullable=False),
        sa.Column("set_aside_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_revisions_group_id")),
        sa.ForeignKeyConstraint(
            ["parent_id"], ["revisions.id"], name=op.f("fk_revisions_parent_id")
        ),
        sa.ForeignKeyConstraint(["part_id"], ["parts.id"], name=op.f("fk_revisions_part_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_revisions_school_id")),
        sa.ForeignKeyConstraint(
            ["session_id"], ["sessions.id"], name=op.f("fk_revisions_session_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_revisions")),
        sa.UniqueConstraint(
            "school_id", "part_id", "number", name=op.f("uq_revisions_school_id_part_id_number")
        ),
    )
    op.create_index(op.f("ix_revisions_group_id"), "revisions", ["group_id"], unique=False)
    op.create_table(
        "steps",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("session_id", sa.Uuid(), nullable=True),
        sa.Column(
            "stage",
            sa.Enum(
                "ask",
                "imagine",
                "plan",
                "build",
                "test",
                "improve",
                name="stage",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["challenge_id"], ["challenges.id"], name=op.f("fk_steps_challenge_id")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_steps_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_steps_school_id")),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_steps_session_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_steps")),
    )
    op.create_index(
        op.f("ix_steps_group_id_challenge_id"), "steps", ["group_id", "challenge_id"], unique=False
    )


def downgrade() -> None:
    """Go back."""
    op.drop_index(op.f("ix_steps_group_id_challenge_id"), table_name="steps")
    op.drop_table("steps")
    op.drop_index(op.f("ix_revisions_group_id"), table_name="revisions")
    op.drop_table("revisions")
    op.drop_index(op.f("ix_part_events_part_id"), table_name="part_events")
    op.drop_index(op.f("ix_part_events_borrower_group_id"), table_name="part_events")
    op.drop_table("part_events")
    op.drop_index(op.f("ix_notes_group_id_challenge_id"), table_name="notes")
    op.drop_table("notes")
    op.drop_index(
        "uq_parts_shared",
        table_name="parts",
        sqlite_where=sa.text("owner_id IS NULL"),
        postgresql_where=sa.text("owner_id IS NULL"),
    )
    op.drop_index(
        "uq_parts_own",
        table_name="parts",
        sqlite_where=sa.text("owner_id IS NOT NULL"),
        postgresql_where=sa.text("owner_id IS NOT NULL"),
    )
    op.drop_index(op.f("ix_parts_group_id"), table_name="parts")
    op.drop_table("parts")
