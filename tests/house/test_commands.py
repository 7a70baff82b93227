"""Every command of the terminal explains itself."""

from collections.abc import Iterator

import click
import pytest
from click.testing import CliRunner

from journal.cli.main import main

SHORTEST_HELP = 40


def _commands(group: click.Group, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    for name, command in group.commands.items():
        yield (*path, name)
        if isinstance(command, click.Group):
            yield from _commands(command, (*path, name))


@pytest.mark.parametrize("path", [(), *_commands(main)], ids=" ".join)
def test_a_command_has_help_that_says_what_it_does(path: tuple[str, ...]) -> None:
    """`--help` answers with sentences, and each option has its words."""
    told = CliRunner().invoke(main, [*path, "--help"])
    assert 0 == told.exit_code
    command: click.Command = main
    for name in path:
        assert isinstance(command, click.Group)
        command = command.commands[name]
    assert command.help is not None
    assert len(command.help) >= SHORTEST_HELP or isinstance(command, click.Group)
    options = [param for param in command.params if isinstance(param, click.Option)]
    assert [] == [option.name for option in options if not option.help]


def test_no_command_answers_a_slip_with_a_trace() -> None:
    """An unknown command is one sentence and exit code 2."""
    told = CliRunner().invoke(main, ["serv"])
    assert 2 == told.exit_code
    assert "Traceback" not in told.output
