"""Settings from the environment."""

from pathlib import Path

import pytest

from journal.domain.errors import Invalid
from journal.domain.settings import settings_from
from tests.sentences import raises


def test_without_any_variable_everything_has_its_default() -> None:
    """An empty environment gives a journal in ./instance on port 8080 of every network."""
    settings = settings_from({})
    assert Path("instance") == settings.instance
    assert "sqlite:///instance/journal.sqlite3" == settings.database_url
    assert ("0.0.0.0", 8080, 8) == (settings.host, settings.port, settings.threads)
    assert Path("instance/secret_key") == settings.secret_file
    assert not settings.secure_cookies


def test_the_instance_moves_database_and_key_along() -> None:
    """Another instance folder is another journal, whole."""
    settings = settings_from({"JOURNAL_INSTANCE": "/srv/school"})
    assert "sqlite:////srv/school/journal.sqlite3" == settings.database_url
    assert Path("/srv/school/secret_key") == settings.secret_file


def test_an_empty_variable_counts_as_not_set() -> None:
    """A variable that is there but empty changes nothing."""
    names = ("JOURNAL_INSTANCE", "JOURNAL_PORT", "JOURNAL_HOST", "JOURNAL_SECURE_COOKIES")
    assert settings_from({}) == settings_from(dict.fromkeys(names, " "))


@pytest.mark.parametrize("port", ["0", "65536", "-1", "8080.0", "x", "\u0663", "1e3"])
def test_a_port_that_is_none_is_refused(port: str) -> None:
    """The sentence names the variable and what it may be."""
    with raises(Invalid, match=r"JOURNAL_PORT is .* from 1 to 65535"):
        settings_from({"JOURNAL_PORT": port})


def test_all_problems_come_at_once() -> None:
    """Three slips are three problems in one error."""
    slips = {
        "JOURNAL_PORT": "x",
        "JOURNAL_THREADS": "257",
        "JOURNAL_SECURE_COOKIES": "perhaps",
    }
    with pytest.raises(Invalid) as caught:
        settings_from(slips)
    assert list(slips) == [problem.field for problem in caught.value.problems]
