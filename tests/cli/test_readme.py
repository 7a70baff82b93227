"""The examples of the README do what it says, to the letter."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sqlalchemy.engine import make_url

from journal.cli.main import main
from journal.domain.actors import OPERATOR
from journal.domain.trials import TrialState
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom

README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"^```\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)
#: Digits that the README shows.
DIGITS = 7


def _block(start: str) -> str:
    (found,) = [one for one in BLOCKS if one.startswith(start)]
    return str(found)


@pytest.fixture
def trials_csv(tmp_path: Path) -> Path:
    """Return the README's table of trials as a file."""
    path = tmp_path / "trials.csv"
    path.write_text(_block("group,revision,student,own_part"), encoding="utf-8")
    return path


@pytest.fixture
def heron_room(store: Store, clock: StandingClock) -> Classroom:
    """Return a class with the shipped challenge and the two children of the table."""
    with open_work(store, OPERATOR, clock=clock) as work:
        return make_classroom(work.session, clock(), nicknames=(("Pim", "Juno", "Kit"),))


def test_the_table_is_taken_over_into_the_shipped_challenge(
    store: Store,
    clock: StandingClock,
    heron_room: Classroom,
    trials_csv: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """All twelve rows, and each is worth what the table says."""
    monkeypatch.setenv("JOURNAL_DATABASE_URL", str(make_url(store.url)))
    with open_work(store, heron_room.teacher, writing=False, clock=clock) as work:
        context = get_group_context(work, heron_room.group_ids[0])
    text = trials_csv.read_text("utf-8").replace("Heron", context.group.name)
    trials_csv.write_text(text, encoding="utf-8")
    words = ["--class", context.school_class.name, "--challenge", context.challenge.title]

    told = _run("trials", "import", str(trials_csv), *words)

    assert 0 == told.exit_code, told.output
    assert "Took over 12 trials" in told.output
    with open_work(store, heron_room.teacher, writing=False, clock=clock) as work:
        kept = gather_group(work, get_group_context(work, heron_room.group_ids[0])).trials
    written = [row.split(",")[7] for row in text.splitlines()[1:]]
    assert written == ["" if one.value is None else f"{one.value:g}" for one in kept]
    assert [5] == [at for at, one in enumerate(kept) if one.state is TrialState.MISFIRE]


def test_the_lines_of_the_first_example_are_those_printed(trials_csv: Path) -> None:
    """Letter by letter."""
    assert _block("Heron: revision") == _run("findings", str(trials_csv)).output


def test_the_json_of_the_first_example_is_what_is_printed(trials_csv: Path) -> None:
    """Every key and every digit shown, but for the second revision, which is left out."""
    shown = json.loads(re.sub(r",\s*\.\.\.", "", _block('[{"group"')))
    found = _rounded(json.loads(_run("findings", str(trials_csv), "--json").output))
    assert 2 == len(found[0]["revisions"])
    del found[0]["revisions"][1:]
    assert shown == found


def test_the_second_example_is_what_is_printed(tmp_path: Path) -> None:
    """The list under `handling`."""
    path = tmp_path / "handling.csv"
    path.write_text(_block("revision,student,handling"), encoding="utf-8")
    ((found,),) = (json.loads(_run("findings", str(path), "--json").output),)
    assert json.loads(_block('[{"name"')) == _rounded(found["handling"])


def _run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def _rounded(value: object) -> object:
    """Return plain values with every float as the README shows it."""
    if isinstance(value, dict):
        return {key: _rounded(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_rounded(one) for one in value]
    return round(value, DIGITS) if isinstance(value, float) else value
