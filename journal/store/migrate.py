"""Bring a database to the newest shape, or back: Alembic without a file at the top level."""

from __future__ import annotations

from pathlib import Path

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory

from journal.store.engine import wait_for_turn

_FOLDER = Path(__file__).parent / "migrations"


def upgrade(engine: sa.Engine, revision: str = "head") -> None:
    """Apply the migrations up to a revision."""
    with engine.begin() as connection:
        if connection.dialect.name == "postgresql":
            # Two servers that start at once must not make the same tables; the second finds them.
            wait_for_turn(connection, None)
        command.upgrade(_config(connection), revision)


def downgrade(engine: sa.Engine, revision: str) -> None:
    """Take migrations back to a revision, or to "base"."""
    with engine.begin() as connection:
        command.downgrade(_config(connection), revision)


def find_revision(engine: sa.Engine) -> str | None:
    """Return the revision that the database is at; None for an empty one."""
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def newest_revision() -> str | None:
    """Return the revision that this version of the journal works with."""
    return ScriptDirectory.from_config(_config(None)).get_current_head()


def known_revisions() -> tuple[str, ...]:
    """Return every revision that this version of the journal knows, oldest first."""
    script = ScriptDirectory.from_config(_config(None))
    return tuple(script_revision.revision for script_revision in script.walk_revisions())[::-1]


def _config(connection: sa.Connection | None) -> Config:
    config = Config()
    config.set_main_option("script_location", str(_FOLDER).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config
