"""Another key for the challenge with the ditch: `trail_blaze` becomes `beyond_the_ditch`.

Changes `key` of the class copies, in their column and their document; a copy keeps its title and
everything else. One small row a copy is written, and tablets write none of them, so it may run
while tablets write; a teacher must not save a challenge meanwhile.
"""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

_CHALLENGES = sa.table(
    "challenges",
    sa.column("id", sa.Uuid()),
    sa.column("key", sa.String()),
    sa.column("document", sa.JSON()),
)


def _rename(old: str, new: str) -> None:
    connection = op.get_bind()
    copies = connection.execute(
        sa.select(_CHALLENGES.c.id, _CHALLENGES.c.document).where(_CHALLENGES.c.key == old)
    ).all()
    for copy in copies:
        connection.execute(
            sa.update(_CHALLENGES)
            .where(_CHALLENGES.c.id == copy.id)
            .values(key=new, document={**copy.document, "key": new})
        )


def upgrade() -> None:
    """Go forward."""
    _rename("trail_blaze", "beyond_the_ditch")


def downgrade() -> None:
    """Go back."""
    _rename("beyond_the_ditch", "trail_blaze")
