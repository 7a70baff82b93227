"""Sketches as answers, a teacher's own wording of the ladder, a group's language of questions.

Makes a table and adds empty columns. `answers` gets a wider check, for which SQLite copies that
table, forward and back: stop the journal for it. Answers by sketch alone are taken back as said.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

_RUNGS = ("notice", "compare", "explain", "aim", "choose_test", "ask_teacher")
_KINDS = ("words", "starter", "said")


def _choice(*values: str, name: str) -> sa.Enum:
    return sa.Enum(*values, name=name, native_enum=False, create_constraint=True, length=24)


def _listed(column: str, values: tuple[str, ...]) -> str:
    return f"{column} IN ({', '.join(repr(value) for value in values)})"


def _check(column: str, *values: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(_listed(column, values), name=f"ck_answers_{column}")


def _answers(*kinds: str) -> sa.Table:
    """Return the table as it stands: SQLite cannot tell its checks when it is copied."""
    return sa.Table(
        "answers",
        # Without a naming rule: the names of checks are whole here.
        sa.MetaData(),
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("climb_id", sa.Uuid(), nullable=False),
        sa.Column("rung", sa.String(length=24), nullable=False),
        sa.Column("question", sa.String(length=400), nullable=False),
        sa.Column("kind", sa.String(length=24), nullable=False),
        sa.Column("text", sa.String(length=600), nullable=False),
        sa.Column("student_id", sa.Uuid(), nullable=True),
        sa.Column("scribe", sa.String(length=24), nullable=False),
        sa.Column("answered_at", Moment(), nullable=False),
        # At its column, as it was made, so that the migration before can drop both together.
        sa.Column(
            "borne_out",
            sa.String(length=24),
            _check("borne_out", "yes", "no", "cannot_tell"),
            nullable=True,
        ),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(["climb_id"], ["climbs.id"], name="fk_answers_climb_id"),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name="fk_answers_school_id"),
        sa.ForeignKeyConstraint(["student_id"], ["students.id"], name="fk_answers_student_id"),
        sa.PrimaryKeyConstraint("id", name="pk_answers"),
        sa.Index("ix_answers_climb_id", "climb_id"),
        _check("rung", *_RUNGS),
        _check("kind", *kinds),
    )


def _allow(*kinds: str, before: tuple[str, ...]) -> None:
    """Exchange the check of the kinds of answers."""
    with op.batch_alter_table("answers", copy_from=_answers(*before)) as batch:
        batch.drop_constraint(op.f("ck_answers_kind"), type_="check")
        batch.create_check_constraint(op.f("ck_answers_kind"), sa.text(_listed("kind", kinds)))


def upgrade() -> None:
    """Go forward."""
    _allow(*_KINDS, "sketch", before=_KINDS)
    op.add_column("answers", sa.Column("sketch", sa.JSON(none_as_null=True), nullable=True))
    op.add_column("groups", sa.Column("question_language", sa.String(length=8), nullable=True))
    op.create_table(
        "ladder_texts",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("rung", _choice(*_RUNGS, name="rung"), nullable=False),
        sa.Column("text", sa.String(length=400), nullable=False),
        sa.Column("set_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_ladder_texts_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_ladder_texts_class_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ladder_texts")),
        sa.UniqueConstraint(
            "school_id",
            "class_id",
            "rung",
            "set_at",
            name=op.f("uq_ladder_texts_school_id_class_id_rung_set_at"),
        ),
    )


def downgrade() -> None:
    """Go back."""
    op.drop_table("ladder_texts")
    op.execute("ALTER TABLE groups DROP COLUMN question_language")
    op.execute("UPDATE answers SET kind = 'said' WHERE kind = 'sketch'")
    op.execute("ALTER TABLE answers DROP COLUMN sketch")
    _allow(*_KINDS, before=(*_KINDS, "sketch"))
