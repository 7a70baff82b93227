"""Teachers from the terminal."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli.main import main

PASSWORD = "four words in a row"


@pytest.fixture(autouse=True)
def _instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JOURNAL_INSTANCE", str(tmp_path / "instance"))
    assert 0 == _run("database", "new").exit_code


def _run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(main, list(words), input=typed)


def test_a_teacher_is_added_once() -> None:
    """The first time it says so, the second time it says what is the matter."""
    assert "reed can sign in now." in _run("teacher", "add", "reed", typed=PASSWORD + "\n").output
    again = _run("teacher", "add", "reed", typed=PASSWORD + "\n")
    assert 2 == again.exit_code
    assert again.output.startswith("Error: ")


def test_a_new_password_needs_a_teacher() -> None:
    """A name that nobody has is named."""
    told = _run("teacher", "password", "reed", typed=PASSWORD + "\n")
    assert (2, True) == (told.exit_code, "'reed'" in told.output)


def test_a_new_password_is_set() -> None:
    """An existing teacher gets it."""
    _run("teacher", "add", "reed", typed=PASSWORD + "\n")
    told = _run("teacher", "password", "reed", typed="another row of words\n")
    assert (0, "reed has a new password.\n") == (told.exit_code, told.output)


@pytest.mark.parametrize("typed", ["", "\n", "short\n"])
def test_a_password_that_cannot_be_taken_is_refused(typed: str) -> None:
    """None at all, an empty one and a short one end with a sentence and exit code 2."""
    told = _run("teacher", "add", "reed", typed=typed)
    assert 2 == told.exit_code
    assert told.output.startswith("Error: ")
    assert "Traceback" not in told.output


def test_a_setting_that_cannot_be_taken_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """The variable and what it may be stand in the sentence."""
    monkeypatch.setenv("JOURNAL_PORT", "many")
    told = _run("database", "upgrade")
    assert (2, True) == (told.exit_code, "JOURNAL_PORT is 'many'" in told.output)


def test_a_database_out_of_reach_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that does not exist, and cannot be made by SQLite, is told without a trace."""
    monkeypatch.setenv("JOURNAL_DATABASE_URL", "sqlite:////no/such/folder/journal.sqlite3")
    told = _run("database", "new")
    assert 2 == told.exit_code
    assert "There is no folder /no/such/folder" in told.output
