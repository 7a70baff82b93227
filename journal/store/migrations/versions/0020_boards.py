"""A sign-in of its own for the board: one more role in the check of sign-ins.

No row changes. SQLite copies the table of sign-ins for it, which takes moments; tablets that write
meanwhile wait, so rather stop the journal. Taking it back ends every board: its sign-ins are
deleted.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None

_ROLES = ("teacher", "tablet", "operator", "nobody")
_KEYS = {
    "class_id": "classes",
    "group_id": "groups",
    "school_id": "schools",
    "student_id": "students",
    "teacher_id": "teachers",
}


def _listed(column: str, values: tuple[str, ...]) -> str:
    return f"{column} IN ({', '.join(repr(value) for value in values)})"


def _check(column: str, *values: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(_listed(column, values), name=f"ck_sign_ins_{column}")


def _sign_ins(*roles: str) -> sa.Table:
    """Return the table as it stands: SQLite cannot tell its checks when it is copied."""
    return sa.Table(
        "sign_ins",
        # Without a naming rule: the names of checks are whole here.
        sa.MetaData(),
        sa.Column("school_id", sa.Uuid(), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("role", sa.String(length=24), nullable=False),
        sa.Column("teacher_id", sa.Uuid(), nullable=True),
        sa.Column("class_id", sa.Uuid(), nullable=True),
        sa.Column("group_id", sa.Uuid(), nullable=True),
        sa.Column("student_id", sa.Uuid(), nullable=True),
        sa.Column("tablet_state", sa.String(length=24), nullable=True),
        sa.Column("started_at", Moment(), nullable=False),
        sa.Column("last_seen_at", Moment(), nullable=False),
        sa.Column("ended_at", Moment(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        *(
            sa.ForeignKeyConstraint([column], [f"{table}.id"], name=f"fk_sign_ins_{column}")
            for column, table in _KEYS.items()
        ),
        sa.PrimaryKeyConstraint("id", name="pk_sign_ins"),
        sa.UniqueConstraint("token_hash", name="uq_sign_ins_token_hash"),
        sa.Index("ix_sign_ins_class_id", "class_id"),
        sa.Index("ix_sign_ins_teacher_id", "teacher_id"),
        _check("role", *roles),
        _check("tablet_state", "waiting", "in", "out"),
    )


def _allow(*roles: str, before: tuple[str, ...]) -> None:
    """Exchange the check of the roles."""
    with op.batch_alter_table("sign_ins", copy_from=_sign_ins(*before)) as batch:
        batch.drop_constraint(op.f("ck_sign_ins_role"), type_="check")
        batch.create_check_constraint(op.f("ck_sign_ins_role"), sa.text(_listed("role", roles)))


def upgrade() -> None:
    """Go forward."""
    _allow(*_ROLES, "board", before=_ROLES)


def downgrade() -> None:
    """Go back."""
    op.execute("DELETE FROM sign_ins WHERE role = 'board'")
    _allow(*_ROLES, before=(*_ROLES, "board"))
