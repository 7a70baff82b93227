"""Trials, findings and portfolios from the terminal."""

from __future__ import annotations

import json
import statistics
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner, Result
from sqlalchemy.engine import make_url

from journal.cli import portfolio
from journal.cli.main import main
from journal.domain.errors import Refused
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

TABLE = """group,revision,student,order,value
Heron,1,Ada,1,3
Heron,1,Ada,2,5
Heron,2,Ada,3,8
Heron,2,Ada,4,9
Otter,1,Eli,1,4
"""


@pytest.fixture
def table(tmp_path: Path) -> Path:
    """Return a small table of two groups."""
    path = tmp_path / "trials.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


@pytest.fixture
def names(
    store: Store, clock: StandingClock, classroom: Classroom, monkeypatch: pytest.MonkeyPatch
) -> tuple[str, str]:
    """Let the terminal work on the classroom; return the names of its class and first group."""
    monkeypatch.setenv("JOURNAL_DATABASE_URL", str(make_url(store.url)))
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        context = get_group_context(work, classroom.group_ids[0])
    return context.school_class.name, context.group.name


def test_findings_are_one_json_array_with_an_element_a_group(table: Path) -> None:
    """Means as the standard library finds them, null where nothing can be said."""
    told = _run("findings", str(table), "--json")
    heron, otter = json.loads(told.output)
    assert (0, "Heron", "Otter") == (told.exit_code, heron["group"], otter["group"])
    second = heron["revisions"][1]
    assert statistics.mean([8, 9]) == second["mean"]
    assert statistics.stdev([8, 9]) == pytest.approx(second["sd"])
    assert ("1", "2") == (heron["comparisons"][0]["old"], heron["comparisons"][0]["new"])
    assert (
        statistics.mean([8, 9]) - statistics.mean([3, 5]) == heron["comparisons"][0]["difference"]
    )
    assert (None, []) == (otter["revisions"][0]["sd"], otter["comparisons"])


def test_findings_without_json_are_lines(table: Path) -> None:
    """A person reads n, mean and what stands beside what."""
    told = _run("findings", str(table)).output
    assert "Heron: revision 2: n = 2, mean 8.5" in told
    assert "Heron: revision 2 beside 1: too early" in told


def test_ways_of_handling_stand_beside_each_other(tmp_path: Path) -> None:
    """2 of the 70 ways to deal 4 and 4 are as far out, counted by hand; means 2 and 7."""
    path = tmp_path / "ways.csv"
    rows = [("half", 1), ("half", 2), ("half", 3), ("half", 2)]
    rows += [("full", 7), ("full", 6), ("full", 8), ("full", 7)]
    lines = [f"Launcher 1,Pim,{way},{value}" for way, value in rows]
    path.write_text("\n".join(["revision,student,handling,value", *lines]), encoding="utf-8")
    (found,) = json.loads(_run("findings", str(path), "--json").output)
    (ways,) = found["handling"]
    assert ("", "half", "full", 4, 4, 1) == tuple(
        ways[key] for key in ("name", "old", "new", "old_n", "new_n", "students")
    )
    assert (5.0, "more", "not ruled out") == (
        ways["difference"],
        ways["verdict"],
        ways["practice"],
    )
    assert 2 / 70 == pytest.approx(ways["p_value"]) == ways["smallest_p"]
    told = _run("findings", str(path)).output
    assert "handling full beside half: did better, practice not ruled out" in told


def test_a_table_without_rows_is_refused(tmp_path: Path) -> None:
    """Somebody saved the wrong sheet: an empty answer would hide it."""
    path = tmp_path / "empty.csv"
    path.write_text("revision,value\n", encoding="utf-8")
    told = _run("findings", str(path), "--json")
    assert 2 == told.exit_code
    assert "add one row for each trial" in told.output


@pytest.mark.parametrize(
    ("words", "text", "said"),
    [
        (["--direction", "up"], TABLE, "write more, less, or near:"),
        ([], "revision,speed\n1,2\n", 'The column "speed" is not known'),
        ([], "revision,value\n1,far\n", "row 2, value: “far” is not a number"),
        ([], "", "The file is empty"),
    ],
)
def test_what_cannot_be_read_is_said_without_a_trace(
    tmp_path: Path, words: list[str], text: str, said: str
) -> None:
    """Exit code 2, with the place and what to mend."""
    path = tmp_path / "trials.csv"
    path.write_text(text, encoding="utf-8")
    told = _run("findings", str(path), *words)
    assert 2 == told.exit_code
    assert said in told.output
    assert "Traceback" not in told.output


def test_unknown_columns_can_be_passed_over(tmp_path: Path) -> None:
    """Only when asked."""
    path = tmp_path / "trials.csv"
    path.write_text("revision,value,speed\n1,2,9\n", encoding="utf-8")
    told = _run("findings", str(path), "--json", "--ignore-unknown")
    assert 2 == json.loads(told.output)[0]["revisions"][0]["mean"]


def test_a_table_is_taken_over_and_printed(tmp_path: Path, names: tuple[str, str]) -> None:
    """From a file to trials, and from these to one PDF and to a folder of PDFs."""
    class_name, group_name = names
    path = tmp_path / "mine.csv"
    path.write_text("revision,student,x_mm,y_mm\n1,Ada,0,0\nlonger,Ben,9,9\n", encoding="utf-8")
    taken = _run(
        *("trials", "import", str(path), "--class", class_name, "--challenge", "beyond the ditch"),
        *("--group", group_name),
    )
    assert (0, f"Took over 2 trials and 1 new revision for {group_name}.\n") == (
        taken.exit_code,
        taken.output,
    )
    one = tmp_path / "one.pdf"
    assert 0 == _run("portfolio", "--group", group_name, "-o", str(one)).exit_code
    text = " ".join(sheet.extract_text() for sheet in pypdf.PdfReader(one).pages)
    assert "it is called longer" in " ".join(text.split())
    folder = tmp_path / "all"
    assert 0 == _run("portfolio", "--class", class_name, "-o", str(folder)).exit_code
    assert 2 == len(list(folder.glob("portfolio-*.pdf")))


@pytest.mark.failures
@pytest.mark.parametrize("name", ["gather_portfolio", "print_portfolio"])
@pytest.mark.parametrize(
    ("error", "reason"),
    [
        (ValueError("Ada was here"), "drawing or printing it failed with ValueError."),
        (Refused("The panel has no zones."), "The panel has no zones."),
    ],
)
def test_a_group_that_cannot_be_printed_stops_no_other(
    tmp_path: Path,
    names: tuple[str, str],
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    error: Exception,
    reason: str,
) -> None:
    """It is named with its reason, the next one is printed, and the exit code tells of it."""
    plain, calls = getattr(portfolio, name), []

    def fail_first(*given: object) -> object:
        calls.append(given)
        if len(calls) == 1:
            raise error
        return plain(*given)

    monkeypatch.setattr(portfolio, name, fail_first)
    folder = tmp_path / "all"
    told = _run("portfolio", "--class", names[0], "-o", str(folder))
    assert 2 == told.exit_code
    assert f"not printed, because {reason}" in told.output
    assert "1 of 2 not printed." in told.output
    assert "Ada" not in told.output
    assert 1 == len(list(folder.glob("portfolio-*.pdf")))


def test_a_spoiled_table_leaves_everything_as_it_is(tmp_path: Path, names: tuple[str, str]) -> None:
    """Row and column are named on the terminal; exit code 2."""
    path = tmp_path / "mine.csv"
    path.write_text("revision,student,x_mm,y_mm\n1,Zoe,0,0\n1,Ada,0,0\n", encoding="utf-8")
    words = ("trials", "import", str(path), "--class", names[0], "--challenge", "Beyond the ditch")
    told = _run(*words, "--group", names[1])
    assert 2 == told.exit_code
    assert "mine.csv: 1 row needs mending; nothing was taken over." in told.output
    assert '  row 2, student: Nobody called "Zoe"' in told.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("portfolio", "--class", "9Z", "-o", "x.pdf"), 'There is no class "9Z".'),
        (("portfolio", "--group", "Yak", "-o", "x.pdf"), 'There is no group "Yak"'),
    ],
)
def test_a_name_that_nobody_has_is_said(
    names: tuple[str, str], words: tuple[str, ...], said: str
) -> None:
    """With the names that there are."""
    told = _run(*words)
    assert 2 == told.exit_code
    assert said in told.output
    assert any(name in told.output for name in names)


def _run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


@pytest.mark.parametrize("command", ["findings", "diagnose"])
@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("revision,value\n", "There is no trial below the names of the columns"),
        ("", "The file is empty"),
        ("revision,value\0\n", "The file is not plain text"),
        ('revision,value\nLauncher 1,"4\n', "t.csv"),
    ],
)
def test_what_is_wrong_with_a_whole_table_is_said_once(
    tmp_path: Path, command: str, content: str, said: str
) -> None:
    """One sentence and its place; no second line repeats it."""
    path = tmp_path / "t.csv"
    path.write_text(content)
    told = _run(command, str(path))
    assert 2 == told.exit_code
    (line,) = told.output.strip().splitlines()
    assert 1 == line.count(said)
    assert "t.csv" in line
