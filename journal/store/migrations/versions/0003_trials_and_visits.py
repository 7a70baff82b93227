"""Trials, corrections, the ladder, visits and near-misses.

Makes new tables only; no data is touched, so it may run while tablets write.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "climbs",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("started_at", Moment(), nullable=False),
        sa.Column("why", sa.String(length=40), nullable=False),
        sa.Column(
            "rung",
            sa.Enum(
                "notice",
                "compare",
                "explain",
                "aim",
                "choose_test",
                "ask_teacher",
                name="rung",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("rung_opened_at", Moment(), nullable=False),
        sa.Column("ended_at", Moment(), nullable=True),
        sa.Column(
            "ended_by",
            sa.Enum(
                "knows_what_to_try",
                "teacher_came",
                name="ended_by",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=True,
        ),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["challenge_id"], ["challenges.id"], name=op.f("fk_climbs_challenge_id")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_climbs_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_climbs_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_climbs")),
    )
    op.create_index(
        "uq_climbs_open",
        "climbs",
        ["school_id", "group_id", "challenge_id"],
        unique=True,
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.create_table(
        "near_misses",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("noted_at", Moment(), nullable=False),
        sa.Column("note", sa.String(length=600), nullable=False),
        sa.Column("looked_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_near_misses_group_id")),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_near_misses_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_near_misses")),
    )
    op.create_index(op.f("ix_near_misses_group_id"), "near_misses", ["group_id"], unique=False)
    op.create_table(
        "visits",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("visited_at", Moment(), nullable=False),
        sa.Column("reason", sa.String(length=200), nullable=False),
        sa.Column("note", sa.String(length=600), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_visits_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_visits_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_visits")),
    )
    op.create_index(op.f("ix_visits_group_id"), "visits", ["group_id"], unique=False)
    op.create_table(
        "answers",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("climb_id", sa.Uuid(), nullable=False),
        sa.Column(
            "rung",
            sa.Enum(
                "notice",
                "compare",
                "explain",
                "aim",
                "choose_test",
                "ask_teacher",
                name="rung",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("question", sa.String(length=400), nullable=False),
        sa.Column(
            "kind",
            sa.Enum(
                "words",
                "starter",
                "said",
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
        sa.Column("answered_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["climb_id"], ["climbs.id"], name=op.f("fk_answers_climb_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_answers_school_id")),
        sa.ForeignKeyConstraint(
            ["student_id"], ["students.id"], name=op.f("fk_answers_student_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_answers")),
    )
    op.create_index(op.f("ix_answers_climb_id"), "answers", ["climb_id"], unique=False)
    op.create_table(
        "trials",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("session_id", sa.Uuid(), nullable=False),
        sa.Column("student_id", sa.Uuid(), nullable=True),
        sa.Column("scribe_id", sa.Uuid(), nullable=True),
        sa.Column(
            "kind",
            sa.Enum(
                "practice",
                "counted",
                name="kind",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column(
            "state",
            sa.Enum(
                "measured",
                "misfire",
                "void",
                "struck",
                name="state",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("handling", sa.JSON(), nullable=False),
        sa.Column(
            "place",
            sa.Enum(
                "panel",
                "wall",
                "nowhere",
                name="place",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=True,
        ),
        sa.Column("x_mm", sa.Double(), nullable=True),
        sa.Column("y_mm", sa.Double(), nullable=True),
        sa.Column("zone", sa.String(length=60), nullable=True),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("amount", sa.Double(), nullable=True),
        sa.Column("misfire", sa.String(length=60), nullable=True),
        sa.Column("distance_mm", sa.Integer(), nullable=True),
        sa.Column("panel", sa.String(length=60), nullable=False),
        sa.Column("logged_at", Moment(), nullable=False),
        sa.Column("received_at", Moment(), nullable=False),
        sa.Column("content_hash", sa.String(length=64), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "(state != 'misfire') OR (misfire IS NOT NULL AND value IS NULL)",
            name=op.f("ck_trials_misfire_has_cause"),
        ),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_trials_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_trials_school_id")),
        sa.ForeignKeyConstraint(["scribe_id"], ["students.id"], name=op.f("fk_trials_scribe_id")),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_trials_session_id")),
        sa.ForeignKeyConstraint(["student_id"], ["students.id"], name=op.f("fk_trials_student_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trials")),
    )
    op.create_index(
        op.f("ix_trials_group_id_received_at"), "trials", ["group_id", "received_at"], unique=False
    )
    op.create_index(op.f("ix_trials_session_id"), "trials", ["session_id"], unique=False)
    op.create_index(op.f("ix_trials_student_id"), "trials", ["student_id"], unique=False)
    op.create_table(
        "corrections",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("trial_id", sa.Uuid(), nullable=False),
        sa.Column("field", sa.String(length=40), nullable=False),
        sa.Column("old", sa.String(length=200), nullable=False),
        sa.Column("new", sa.String(length=200), nullable=False),
        sa.Column("reason", sa.String(length=300), nullable=False),
        sa.Column("corrected_at", Moment(), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_corrections_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["teacher_id"], ["teachers.id"], name=op.f("fk_corrections_teacher_id")
        ),
        sa.ForeignKeyConstraint(["trial_id"], ["trials.id"], name=op.f("fk_corrections_trial_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_corrections")),
    )
    op.create_index(op.f("ix_corrections_trial_id"), "corrections", ["trial_id"], unique=False)
    op.create_table(
        "trial_revisions",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("trial_id", sa.Uuid(), nullable=False),
        sa.Column("revision_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["revision_id"], ["revisions.id"], name=op.f("fk_trial_revisions_revision_id")
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_trial_revisions_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["trial_id"], ["trials.id"], name=op.f("fk_trial_revisions_trial_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trial_revisions")),
        sa.UniqueConstraint(
            "school_id",
            "trial_id",
            "revision_id",
            name=op.f("uq_trial_revisions_school_id_trial_id_revision_id"),
        ),
    )
    op.create_index(
        op.f("ix_trial_revisions_revision_id"), "trial_revisions", ["revision_id"], unique=False
    )
    op.create_index(
        op.f("ix_trial_revisions_trial_id"), "trial_revisions", ["trial_id"], unique=False
    )


def downgrade() -> None:
    """Go back."""
    op.drop_index(op.f("ix_trial_revisions_trial_id"), table_name="trial_revisions")
    op.drop_index(op.f("ix_trial_revisions_revision_id"), table_name="trial_revisions")
    op.drop_table("trial_revisions")
    op.drop_index(op.f("ix_corrections_trial_id"), table_name="corrections")
    op.drop_table("corrections")
    op.drop_index(op.f("ix_trials_student_id"), table_name="trials")
    op.drop_index(op.f("ix_trials_session_id"), table_name="trials")
    op.drop_index(op.f("ix_trials_group_id_received_at"), table_name="trials")
    op.drop_table("trials")
    op.drop_index(op.f("ix_answers_climb_id"), table_name="answers")
    op.drop_table("answers")
    op.drop_index(op.f("ix_visits_group_id"), table_name="visits")
    op.drop_table("visits")
    op.drop_index(op.f("ix_near_misses_group_id"), table_name="near_misses")
    op.drop_table("near_misses")
    op.drop_index(
        "uq_climbs_open",
        table_name="climbs",
        sqlite_where=sa.text("ended_at IS NULL"),
        postgresql_where=sa.text("ended_at IS NULL"),
    )
    op.drop_table("climbs")
