"""Limits for launches as a school edits them.

Makes a new table only; no data is touched, so it may run while tablets write.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    op.create_table(
        "safety_limits",
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column(
            "key",
            sa.Enum(
                "review_energy_j",
                "energy_per_area_j_m2",
                "eye_energy_per_area_j_m2",
                "rigid_tip_energy_j",
                "soft_tip_energy_j",
                "least_tip_mm",
                "small_part_width_mm",
                "small_part_length_mm",
                "small_ball_mm",
                "suction_cup_length_mm",
                "faces_range_mm",
                "faces_energy_j",
                "students_per_teacher",
                "floor_elementary_ft2",
                "floor_secondary_ft2",
                name="key",
                native_enum=False,
                create_constraint=True,
                length=24,
            ),
            nullable=False,
        ),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("source", sa.String(length=300), nullable=False),
        sa.Column("edited_at", Moment(), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_safety_limits_school_id")
        ),
        sa.ForeignKeyConstraint(
            ["teacher_id"], ["teachers.id"], name=op.f("fk_safety_limits_teacher_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_safety_limits")),
    )
    op.create_index(
        op.f("ix_safety_limits_school_id"), "safety_limits", ["school_id"], unique=False
    )


def downgrade() -> None:
    """Go back."""
    op.drop_index(op.f("ix_safety_limits_school_id"), table_name="safety_limits")
    op.drop_table("safety_limits")
