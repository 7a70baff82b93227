"""Errors as one clear sentence on the terminal, with exit code 2."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from typing import Any

import click
import sqlalchemy as sa

from journal.content.messages import word_error, word_message
from journal.domain.errors import Invalid, JournalError, NotKept


class Stop(click.ClickException):
    """What ends a command: a sentence that says what to mend."""

    exit_code = 2


class JournalCommands(click.Group):
    """A group of commands that never shows a trace for what a person can mend.

    Each of `names` is a module of this room that holds the command of its name.
    """

    def __init__(self, *args: Any, names: Sequence[str] = (), **kwargs: Any) -> None:  # noqa: ANN401 (click's own)
        """Take the names of the commands; their modules are loaded when one is asked for."""
        super().__init__(*args, **kwargs)
        self.names = tuple(names)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names as they are to be listed."""
        del ctx
        return list(self.names)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load the command of this name."""
        del ctx
        if cmd_name not in self.names:
            return None
        command: click.Command = getattr(import_module(f"journal.cli.{cmd_name}"), cmd_name)
        return command

    def invoke(self, ctx: click.Context) -> Any:  # noqa: ANN401 (the type that click gives)
        """Run the command and turn its errors into sentences."""
        try:
            return super().invoke(ctx)
        except Invalid as error:
            raise Stop(_all_problems(error)) from error
        except NotKept as error:
            # A page says "send it again"; here the cause is named to the one who can mend it.
            cause = error.__cause__
            sentence = (
                _database_problem(cause)
                if isinstance(cause, sa.exc.DBAPIError)
                else word_error(error)
            )
            raise Stop(sentence) from error
        except JournalError as error:
            raise Stop(word_error(error)) from error
        except sa.exc.DatabaseError as error:
            # Its other kinds are slips of ours and keep their trace.
            if type(error) not in {sa.exc.OperationalError, sa.exc.DatabaseError}:
                raise
            raise Stop(_database_problem(error)) from error
        except OSError as error:
            place = f" ({error.filename})" if error.filename else ""
            raise Stop(f"{error.strerror or error}{place}.") from error


def _database_problem(error: sa.exc.DBAPIError) -> str:
    reason = str(error.orig)
    if "locked" in reason:
        return (
            "Another program holds the database locked, such as one that looks into it or copies "
            "it. Close that program, then try once more."
        )
    if "not a database" in reason or "malformed" in reason:
        return (
            f"The database is damaged, or the file is no database ({reason}). Nothing was changed. "
            "Put a copy of the journal in its place: journal restore FILE"
        )
    if "full" in reason or "disk I/O error" in reason:
        # A disk without any room left is told in both ways, by the step at which it is met.
        return f"The disk is full, or it fails ({reason}). Make room on it, then try once more."
    return (
        f"The database cannot be used: {reason}. Look at JOURNAL_DATABASE_URL and "
        "JOURNAL_INSTANCE, or run: journal database upgrade"
    )


def _all_problems(error: Invalid) -> str:
    message = word_error(error)
    sentences = [word_message(problem.what) for problem in error.problems]
    if message in sentences or all(sentence in message for sentence in sentences):
        return message
    return "\n".join([message, *(f"  {sentence}" for sentence in sentences)])
