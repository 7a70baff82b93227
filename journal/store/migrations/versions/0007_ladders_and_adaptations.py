"""Passed rungs, practice sets, fair-test cards, adaptations and judged causes.

Makes new tables and adds two empty columns, which rewrites no row in SQLite or PostgreSQL, so it
may run while tablets write; taking it back copies tables in SQLite, so stop the journal for that.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

_RUNGS = ("notice", "compare", "explain", "aim", "choose_test", "ask_teacher")
_READINGS = ("device", "use", "both", "none", "cannot tell")


def _choice(*values: str, name: str) -> sa.Enum:
    return sa.Enum(*values, name=name, native_enum=False, create_constraint=True, length=24)


def _add_choice(table: str, column: str, *values: str) -> None:
    """Add an empty column with its check; SQLite takes a check only together with its column."""
    listed = ", ".join(f"'{value}'" for value in values)
    op.execute(
        f"ALTER TABLE {table} ADD COLUMN {column} VARCHAR(24) "
        f"CONSTRAINT ck_{table}_{column} CHECK ({column} IN ({listed}))"
    )


def upgrade() -> None:
    """Go forward."""
    _add_choice("climbs", "led_to", "revision", "handling", "swap_test", "practice_set")
    _add_choice("answers", "borne_out", "yes", "no", "cannot_tell")
    op.create_table(
        "rung_passes",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("climb_id", sa.Uuid(), nullable=False),
        sa.Column("rung", _choice(*_RUNGS, name="rung"), nullable=False),
        sa.Column(
            "kind",
            _choice("not_sure", "teacher", "new_trial", "left", name="kind"),
            nullable=False,
        ),
        sa.Column("question", sa.String(length=400), nullable=False),
        sa.Column("passed_at", Moment(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_rung_passes_school_id")
        ),
        sa.ForeignKeyConstraint(["climb_id"], ["climbs.id"], name=op.f("fk_rung_passes_climb_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_rung_passes")),
        sa.UniqueConstraint(
            "school_id", "climb_id", "rung", name=op.f("uq_rung_passes_school_id_climb_id_rung")
        ),
    )
    op.create_index(op.f("ix_rung_passes_climb_id"), "rung_passes", ["climb_id"])
    op.create_table(
        "practice_sets",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("trials", sa.Integer(), nullable=False),
        sa.Column("started_at", Moment(), nullable=False),
        sa.Column("by_teacher", sa.Boolean(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "trials BETWEEN 1 AND 60", name=op.f("ck_practice_sets_trials_are_few")
        ),
        *_of_a_group("practice_sets"),
    )
    op.create_index(
        op.f("ix_practice_sets_group_id_challenge_id"),
        "practice_sets",
        ["group_id", "challenge_id"],
    )
    op.create_table(
        "fair_test_cards",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("class_id", sa.Uuid(), nullable=False),
        sa.Column("offered_at", Moment(), nullable=False),
        sa.Column("done_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_fair_test_cards_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_fair_test_cards_class_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fair_test_cards")),
        sa.UniqueConstraint(
            "school_id", "class_id", name=op.f("uq_fair_test_cards_school_id_class_id")
        ),
    )
    op.create_table(
        "adaptations",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column(
            "kind",
            _choice("closer", "simpler", "other_way", "more_practice", "back", name="kind"),
            nullable=False,
        ),
        sa.Column("distance_mm", sa.Integer(), nullable=True),
        sa.Column("note", sa.String(length=300), nullable=False),
        sa.Column("checks", sa.JSON(), nullable=False),
        sa.Column("adapted_at", Moment(), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "(kind != 'closer') OR (distance_mm IS NOT NULL)",
            name=op.f("ck_adaptations_closer_has_distance"),
        ),
        sa.ForeignKeyConstraint(
            ["teacher_id"], ["teachers.id"], name=op.f("fk_adaptations_teacher_id")
        ),
        *_of_a_group("adaptations"),
    )
    op.create_index(
        op.f("ix_adaptations_group_id_challenge_id"), "adaptations", ["group_id", "challenge_id"]
    )
    op.create_table(
        "judged_causes",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("group_id", sa.Uuid(), nullable=False),
        sa.Column("challenge_id", sa.Uuid(), nullable=False),
        sa.Column("said", _choice(*_READINGS, name="said"), nullable=False),
        sa.Column("in_100", sa.Integer(), nullable=False),
        sa.Column("trials", sa.Integer(), nullable=False),
        sa.Column("turned_out", _choice(*_READINGS, name="turned_out"), nullable=False),
        sa.Column("note", sa.String(length=300), nullable=False),
        sa.Column("judged_at", Moment(), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["teacher_id"], ["teachers.id"], name=op.f("fk_judged_causes_teacher_id")
        ),
        *_of_a_group("judged_causes"),
    )
    op.create_index(op.f("ix_judged_causes_group_id"), "judged_causes", ["group_id"])


def _of_a_group(table: str) -> list[sa.Constraint]:
    return [
        sa.ForeignKeyConstraint(
            ["challenge_id"], ["challenges.id"], name=op.f(f"fk_{table}_challenge_id")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"], name=op.f(f"fk_{table}_group_id")),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f(f"fk_{table}_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{table}")),
    ]


def downgrade() -> None:
    """Go back."""
    for table in ("judged_causes", "adaptations", "fair_test_cards", "practice_sets"):
        op.drop_table(table)
    op.drop_table("rung_passes")
    op.execute("ALTER TABLE answers DROP COLUMN borne_out")
    op.execute("ALTER TABLE climbs DROP COLUMN led_to")
