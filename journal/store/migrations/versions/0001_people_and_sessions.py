"""People, classes, challenges and sessions.

Makes new tables only; no data is touched, so it may run while tablets write.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "schools",
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_schools")),
    )
    op.create_table(
        "teachers",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("sign_in_name", sa.String(length=60), nullable=False),
        sa.Column("shown_name", sa.String(length=60), nullable=False),
        sa.Column("password_hash", sa.String(length=200), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_teachers_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_teachers")),
        sa.UniqueConstraint("sign_in_name", name=op.f("uq_teachers_sign_in_name")),
    )
    op.create_table(
        "classes",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=False),
        sa.Column("name", sa.String(length=60), nullable=False),
        sa.Column(
            "band",
            sa.Enum("2", "3-5", "6-8", name="band", native_enum=False, create_constraint=True, length=24),
            nullable=False,
        ),
        sa.Column("language", sa.String(length=12), nullable=False),
        sa.Column("retention_date", sa.Date(), nullable=False),
        sa.Column(
            "door",
            sa.Enum("open", "knock", name="door", native_enum=False, create_constraint=True, length=24),
            nullable=False,
        ),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_classes_school_id")),
        sa.ForeignKeyConstraint(["teacher_id"], ["teachers.id"], name=op.f("fk_classes_teacher_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_classes")),
        sa.UniqueConstraint(
            "school_id", "teacher_id", "name", name=op.f("uq_classes_school_id_teacher_id_name")
        ),
    )
    op.create_table(
        "challenges",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("key", sa.String(length=60), nullable=False),
        sa.Column("title", sa.String(length=120), nullable=False),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.Column("opened_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["class_id"], ["classes.id"], name=op.f("fk_challenges_class_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_challenges_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_challenges")),
    )
    op.create_index(op.f("ix_challenges_class_id"), "challenges", ["class_id"], unique=False)
    op.create_table(
        "groups",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=40), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["class_id"], ["classes.id"], name=op.f("fk_groups_class_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_groups_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_groups")),
        sa.UniqueConstraint("school_id", "class_id", "name", name=op.f("uq_groups_school_id_class_id_name")),
        sa.UniqueConstraint(
            "school_id", "class_id", "number", name=op.f("uq_groups_school_id_class_id_number")
        ),
    )
    op.create_table(
        "lesson_words",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("word", sa.String(length=24), nullable=False),
        sa.Column("expires_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["class_id"], ["classes.id"], name=op.f("fk_lesson_words_class_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_lesson_words_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lesson_words")),
        sa.UniqueConstraint("word", name=op.f("uq_lesson_words_word")),
    )
    op.create_index(op.f("ix_lesson_words_class_id"), "lesson_words", ["class_id"], unique=False)
    op.create_table(
        "students",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("nickname", sa.String(length=24), nullable=False),
        sa.Column("left_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["class_id"], ["classes.id"], name=op.f("fk_students_class_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_students_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_students")),
        sa.UniqueConstraint(
            "school_id",
            "class_id",
            "nickname",
            name=op.f("uq_students_school_id_class_id_nickname"),
        ),
    )
    op.create_table(
        "memberships",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("student_id", sa.Uuid(), nullable=False),
        sa.Column("joined_at", Moment(), nullable=False),
        sa.Column("left_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_memberships_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_memberships_school_id")),
        sa.ForeignKeyConstraint(["student_id"], ["students.id"], name=op.f("fk_memberships_student_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_memberships")),
    )
    op.create_index(op.f("ix_memberships_group_id"), "memberships", ["group_id"], unique=False)
    op.create_index(op.f("ix_memberships_student_id"), "memberships", ["student_id"], unique=False)
    op.create_index(
        "uq_memberships_present",
        "memberships",
        ["school_id", "student_id"],
        unique=True,
        sqlite_where=sa.text("left_at IS NULL"),
        postgresql_where=sa.text("left_at IS NULL"),
    )
    op.create_table(
        "sessions",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("started_at", Moment(), nullable=False),
        sa.Column("ended_at", Moment(), nullable=True),
        sa.Column("distance_mm", sa.Integer(), nullable=True),
        sa.Column("panel", sa.String(length=60), nullable=False),
        sa.Column("lanes", sa.Integer(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["challenge_id"], ["challenges.id"], name=op.f("fk_sessions_challenge_id")),
        sa.ForeignKeyConstraint(["class_id"], ["classes.id"], name=op.f("fk_sessions_class_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_sessions_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sessions")),
        sa.UniqueConstraint(
            "school_id", "class_id", "number", name=op.f("uq_sessions_school_id_class_id_number")
        ),
    )
    op.create_index(op.f("ix_sessions_challenge_id"), "sessions", ["challenge_id"], unique=False)
    op.create_table(
        "sign_ins",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column(
            "role",
            sa.Enum(
                "teacher",
                "tablet",
                "operator",
                "nobody",
                name="role",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("teacher_id", sa.Uuid(), nullable=True),
        sa.Column("class_id", sa.Uuid(), nullable=True),
        sa.Column("group_id", sa.Uuid(), nullable=True),
        sa.Column("student_id", sa.Uuid(), nullable=True),
        sa.Column(
            "tablet_state",
            sa.Enum(
                "waiting",
                "in",
                "out",
                name="tablet_state",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=True,
        ),
        sa.Column("started_at", Moment(), nullable=False),
        sa.Column("last_seen_at", Moment(), nullable=False),
        sa.Column("ended_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["class_id"], ["classes.id"], name=op.f("fk_sign_ins_class_id")),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f("fk_sign_ins_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_sign_ins_school_id")),
        sa.ForeignKeyConstraint(["student_id"], ["students.id"], name=op.f("fk_sign_ins_student_id")),
        sa.ForeignKeyConstraint(["teacher_id"], ["teachers.id"], name=op.f("fk_sign_ins_teacher_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sign_ins")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_sign_ins_token_hash")),
    )
    op.create_index(op.f("ix_sign_ins_class_id"), "sign_ins", ["class_id"], unique=False)
    op.create_index(op.f("ix_sign_ins_teacher_id"), "sign_ins", ["teacher_id"], unique=False)
    op.create_table(
        "absences",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("session_id", sa.Uuid(), nullable=False),
        sa.Column("student_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_absences_school_id")),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_absences_session_id")),
        sa.ForeignKeyConstraint(["student_id"], ["students.id"], name=op.f("fk_absences_student_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_absences")),
        sa.UniqueConstraint(
            "school_id",
            "session_id",
            "student_id",
            name=op.f("uq_absences_school_id_session_id_student_id"),
        ),
    )
    op.create_table(
        "gates",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("session_id", sa.Uuid(), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=False),
        sa.Column("opened_at", Moment(), nullable=False),
        sa.Column("checks", sa.JSON(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_gates_school_id")),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_gates_session_id")),
        sa.ForeignKeyConstraint(["teacher_id"], ["teachers.id"], name=op.f("fk_gates_teacher_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gates")),
    )
    op.create_index(op.f("ix_gates_session_id"), "gates", ["session_id"], unique=False)


def downgrade() -> None:
    """Go back."""
    op.drop_index(op.f("ix_gates_session_id"), table_name="gates")
    op.drop_table("gates")
    op.drop_table("absences")
    op.drop_index(op.f("ix_sign_ins_teacher_id"), table_name="sign_ins")
    op.drop_index(op.f("ix_sign_ins_class_id"), table_name="sign_ins")
    op.drop_table("sign_ins")
    op.drop_index(op.f("ix_sessions_challenge_id"), table_name="sessions")
    op.drop_table("sessions")
    op.drop_index(
        "uq_memberships_present",
        table_name="memberships",
        sqlite_where=sa.text("left_at IS NULL"),
        postgresql_where=sa.text("left_at IS NULL"),
    )
    op.drop_index(op.f("ix_memberships_student_id"), table_name="memberships")
    op.drop_index(op.f("ix_memberships_group_id"), table_name="memberships")
    op.drop_table("memberships")
    op.drop_table("students")
    op.drop_index(op.f("ix_lesson_words_class_id"), table_name="lesson_words")
    op.drop_table("lesson_words")
    op.drop_table("groups")
    op.drop_index(op.f("ix_challenges_class_id"), table_name="challenges")
    op.drop_table("challenges")
    op.drop_table("classes")
    op.drop_table("teachers")
    op.drop_table("schools")
