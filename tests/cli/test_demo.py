"""The demo from the terminal: made once, its sign-in for the owner only."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli.demo import SIGN_IN_FILE, SIGN_IN_NAME, renew_demo_word
from journal.cli.main import main
from journal.cli.serve import describe_way_in
from journal.domain.actors import OPERATOR
from journal.domain.settings import settings_from
from journal.records.work import open_work
from journal.services.teachers import prove_teacher
from journal.store import classes
from journal.store.engine import Store


@pytest.fixture(scope="module")
def instance(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of a journal that was filled with the demo."""
    folder = tmp_path_factory.mktemp("demo") / "instance"
    told = _run("demo", "--instance", str(folder))
    assert 0 == told.exit_code, told.output
    assert "The demo classes are there." in told.output
    return folder


def _run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def _sign_in(instance: Path) -> tuple[str, str]:
    _, name, _, password = (instance / SIGN_IN_FILE).read_text().split()
    return name, password


def test_the_sign_in_is_kept_for_the_owner_only_and_works(instance: Path) -> None:
    """The file has mode 0600, and its random password opens the teacher's pages."""
    assert 0o600 == (instance / SIGN_IN_FILE).stat().st_mode & 0o777
    name, password = _sign_in(instance)
    assert (SIGN_IN_NAME, True) == (name, len(password) >= 12)
    store = Store(f"sqlite:///{instance / 'journal.sqlite3'}")
    with open_work(store, OPERATOR, writing=False) as work:
        assert SIGN_IN_NAME == prove_teacher(work, name, password).sign_in_name
    store.close()


def test_a_journal_in_use_is_left_as_it_is(instance: Path) -> None:
    """A second demo is refused with a sentence and changes no sign-in."""
    before = _sign_in(instance)
    told = _run("demo", "--instance", str(instance))
    assert (2, True) == (told.exit_code, "not empty" in told.output)
    assert before == _sign_in(instance)


def test_a_start_shows_the_way_in(instance: Path) -> None:
    """Addresses, a lesson word in force and the demo sign-in are printed; a used-up word is new."""
    settings = settings_from({"JOURNAL_INSTANCE": str(instance)})
    store = Store(settings.database_url)
    with open_work(store, OPERATOR) as work:
        demo_classes = classes.all_classes(work.session)
        for one in demo_classes:
            classes.drop_lesson_words(work.session, one.id)
    assert "Lesson word" not in describe_way_in(settings, store)
    renew_demo_word(store)
    told = describe_way_in(settings, store)
    with open_work(store, OPERATOR, writing=False) as work:
        found = [
            classes.find_word(work.session, school_class.id, work.now())
            for school_class in demo_classes
        ]
    store.close()
    assert ["5B", "7A"] == [school_class.name for school_class in demo_classes]
    for one, word in zip(demo_classes, found, strict=True):
        assert word is not None
        assert f"Lesson word of {one.name}: {word[0]}" in told
    assert "Tablets open http://" in told
    assert _sign_in(instance)[1] in told
