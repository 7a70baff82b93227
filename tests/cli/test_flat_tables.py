"""A table of trials is told group by group, whatever one of the groups looks like."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, example, given, settings

from journal.cli import diagnose, findings
from journal.cli.main import main
from tests.factories.flat_tables import as_rows, flat_tables, one_zone_a_child
from tests.factories.group_records import Told

HEADER = "group,revision,student,own_part,value"
PLAIN = [f"Wrens,{revision},a,,{value}" for revision, value in zip("1122", "3451", strict=True)]


def _elements(file: Path, command: str) -> list[dict[str, object]]:
    done = CliRunner().invoke(main, [command, str(file), "--json"])
    assert 0 == done.exit_code, done.output
    found: list[dict[str, object]] = json.loads(done.stdout)
    return found


@settings(
    deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@example(told=one_zone_a_child())
@given(told=flat_tables())
def test_no_group_stops_the_next_one(tmp_path: Path, told: list[Told]) -> None:
    """The flat group and the one after it are both told, with nothing failed."""
    file = tmp_path / "trials.csv"
    file.write_text("\n".join([HEADER, *as_rows(told, "Owls"), *PLAIN]), "utf-8")
    for command in ("findings", "diagnose"):
        found = _elements(file, command)
        assert ["Owls", "Wrens"] == [one["group"] for one in found]
        assert not any("cannot_say" in one for one in found)


@pytest.mark.failures
@pytest.mark.parametrize(
    ("module", "name", "command"),
    [(findings, "find_out", "findings"), (diagnose, "find_stall", "diagnose")],
)
def test_a_group_that_fails_carries_its_reason(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, module: object, name: str, command: str
) -> None:
    """Its element says so; the next group has its own. As lines the same."""
    file = tmp_path / "trials.csv"
    rows = as_rows(one_zone_a_child(), "Owls")
    file.write_text("\n".join([HEADER, *rows, *PLAIN]), "utf-8")
    plain, calls = getattr(module, name), []

    def fail_first(*given: object, **named: object) -> object:
        calls.append(given)
        if len(calls) == 1:
            raise OverflowError
        return plain(*given, **named)

    monkeypatch.setattr(module, name, fail_first)
    found = _elements(file, command)
    assert ["Owls", "Wrens"] == [one["group"] for one in found]
    told = json.dumps(found[0])
    assert "could not be worked out" in told or '"stalled": false' in told
    assert "cannot_say" not in found[1]
    calls.clear()
    lines = CliRunner().invoke(main, [command, str(file)]).stdout
    assert "Owls: " in lines
    assert "Wrens: " in lines
