"""${message}

What it does to data that is there, and whether it may run while tablets write: say it here.
"""

import sqlalchemy as sa
from alembic import op

from journal.store.tables import Moment

revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go forward."""
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    """Go back."""
    ${downgrades if downgrades else "pass"}
