"""How many practice trials an adaptation asks for, in a column of its own.

Until here the number stood in the note where the teacher had written none, and was lost where there
was one. Adds an empty column, which rewrites no row in SQLite or PostgreSQL, and fills it from the
practice set that was begun with the adaptation; a note that held nothing but the number is emptied.
It may run while tablets write. Taken back, the number goes into the empty notes again and is lost
beside a written one; SQLite copies the table for that, so stop the journal.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None

_ADAPTATIONS = sa.table(
    "adaptations",
    sa.column("id", sa.Uuid()),
    sa.column("group_id", sa.Uuid()),
    sa.column("challenge_id", sa.Uuid()),
    sa.column("kind", sa.String()),
    sa.column("note", sa.String()),
    sa.column("adapted_at", Moment()),
    sa.column("practice_trials", sa.Integer()),
)
_SETS = sa.table(
    "practice_sets",
    sa.column("group_id", sa.Uuid()),
    sa.column("challenge_id", sa.Uuid()),
    sa.column("trials", sa.Integer()),
    sa.column("started_at", Moment()),
    sa.column("by_teacher", sa.Boolean()),
)
_KIND = "more_practice"


def upgrade() -> None:
    """Go forward."""
    # SQLite takes a check only together with its column.
    op.execute(
        "ALTER TABLE adaptations ADD COLUMN practice_trials INTEGER "
        "CONSTRAINT ck_adaptations_practice_is_short CHECK (practice_trials BETWEEN 1 AND 60)"
    )
    kept = _ADAPTATIONS.c
    begun = (
        sa.select(_SETS.c.trials)
        .where(
            _SETS.c.group_id == kept.group_id,
            _SETS.c.challenge_id == kept.challenge_id,
            _SETS.c.started_at >= kept.adapted_at,
            _SETS.c.by_teacher,
        )
        .order_by(_SETS.c.started_at)
        .limit(1)
        .scalar_subquery()
    )
    op.execute(_ADAPTATIONS.update().where(kept.kind == _KIND).values(practice_trials=begun))
    number = sa.cast(kept.practice_trials, sa.String())
    op.execute(_ADAPTATIONS.update().where(kept.note == number).values(note=""))


def downgrade() -> None:
    """Go back."""
    kept = _ADAPTATIONS.c
    number = sa.cast(kept.practice_trials, sa.String())
    op.execute(
        _ADAPTATIONS.update()
        .where(kept.practice_trials.is_not(None), kept.note == "")
        .values(note=number)
    )
    op.execute("ALTER TABLE adaptations DROP COLUMN practice_trials")
