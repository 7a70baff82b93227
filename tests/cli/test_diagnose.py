"""`journal diagnose`: a table of trials in, what they point to out."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli.main import main
from tests.simulation.classrooms import Telling, draw_classrooms, told_as

HEAD = "group,revision,student,own_part,order,x_mm,y_mm,place,value,amount,misfire"
PROBABILITIES = {
    "none", "device_offset", "device_scatter", "use", "use_some", "use_all_fading",
    "use_all_steady", "load", "mechanism", "own_part",
}  # fmt: skip


def _ask(*given: str) -> Result:
    return CliRunner().invoke(main, ["diagnose", *given])


def _write(folder: Path, telling: Telling, attempts: int = 24) -> str:
    """Write three groups with a device that misses one way, with nothing wrong, with misfires."""
    rows = [HEAD]
    sets = (frozenset({"device_offset"}), frozenset[str](), frozenset({"mechanism"}))
    for number, causes in enumerate(sets):
        room = draw_classrooms(40 + number, 1, attempts, causes=causes)[0]
        for one in told_as(room, telling):
            value = None if telling is Telling.POSITIONS else one.value
            cells = (
                f"group {number}", one.revision, one.student, one.own_part, one.order,
                one.x_mm, one.y_mm, one.place, value, one.amount, one.misfire,
            )  # fmt: skip
            rows.append(",".join("" if cell is None else str(cell) for cell in cells))
    file = folder / "trials.csv"
    file.write_text("\n".join(rows), encoding="utf-8")
    return str(file)


@pytest.mark.parametrize("telling", list(Telling))
def test_each_group_is_one_element(tmp_path: Path, telling: Telling) -> None:
    """One array, every key of every group, a joint that adds to 1, all plain numbers."""
    done = _ask(_write(tmp_path, telling), "--json")
    assert 0 == done.exit_code, done.output
    found = json.loads(done.output)
    assert ["group 0", "group 1", "group 2"] == [one["group"] for one in found]
    for one in found:
        assert {
            "group", "stalled", "since_order", "reasons", "probabilities", "joint", "grouped",
            "abstained", "students", "needs", "next_test",
        } == set(one)  # fmt: skip
        assert PROBABILITIES == set(one["probabilities"])
        assert ["none", "device", "use", "both"] == list(one["joint"])
        assert pytest.approx(1.0) == sum(one["joint"].values())
        assert one["abstained"] is (one["grouped"] == "cannot tell")
        assert all({"offset_mm", "scatter_mm"} == set(s) for s in one["students"].values())
        assert one["needs"] in {None, "contrast", "trials"}
        assert one["abstained"] is (one["needs"] is not None)
    shared = found[0]["probabilities"]
    assert shared["device_offset"] + shared["use_all_steady"] > 0.5
    assert {"kind", "launches", "minutes", "because"} == set(found[0]["next_test"])
    assert found[2]["probabilities"]["mechanism"] > 0.5


@pytest.mark.parametrize("telling", list(Telling))
def test_a_line_speaks_in_words_and_tenths(tmp_path: Path, telling: Telling) -> None:
    """Four readings a group, none finer than a tenth, and never in hundreds."""
    told = _ask(_write(tmp_path, telling)).output
    assert "in 100" not in told
    for line in told.splitlines():
        if line.startswith("group"):
            assert 4 == len(re.findall(r"(?:over|under|about) \d in 10\b", line.partition("[")[0]))


def test_guests_settle_what_all_share(tmp_path: Path) -> None:
    """All hit low: a contrast is needed; guests who hit low as well show the device."""
    head = "group,revision,student,order,x_mm,y_mm,guest,owner"
    spots = ((20, -220), (-40, -180), (10, -150), (60, -210), (-10, -190), (-30, -240), (40, -170))
    own = [f"Heron,L1,{'ABC'[at % 3]},{at + 1},{x},{y},,"
           for at, (x, y) in enumerate(spots + spots)]  # fmt: skip
    guests = [f"Heron,L1,{'GH'[at % 2]},{at + 50},{x},{y},yes,"
              for at, (x, y) in enumerate(spots)]  # fmt: skip
    file = tmp_path / "trials.csv"
    file.write_text("\n".join([head, *own]), encoding="utf-8")
    told = json.loads(_ask(str(file), "--json").output)[0]
    assert ("cannot tell", "contrast") == (told["grouped"], told["needs"])
    assert "guests" == told["next_test"]["kind"]
    assert "needs a contrast" in _ask(str(file)).output
    assert "A guest test would tell most" in _ask(str(file)).output
    file.write_text("\n".join([head, *own, *guests]), encoding="utf-8")
    told = json.loads(_ask(str(file), "--json").output)[0]
    assert ("device", None) == (told["grouped"], told["needs"])
    assert {"A", "B", "C"} == set(told["students"])


@pytest.mark.parametrize(
    ("cells", "column", "word"),
    [
        ("Heron,L1,A,8,maybe,", "guest", "Write yes"),
        ("Heron,L1,A,8,yes,Rook", "owner", "leave either guest or owner empty"),
        ("Heron,L1,A,8,,Heron", "owner", "the group itself"),
    ],
)
def test_a_guest_or_an_owner_that_cannot_be_is_named(
    tmp_path: Path, cells: str, column: str, word: str
) -> None:
    """Row, column, what is wrong and how to mend it."""
    file = tmp_path / "trials.csv"
    file.write_text(f"group,revision,student,value,guest,owner\n{cells}\n", encoding="utf-8")
    told = _ask(str(file)).output
    assert f"row 2, {column}" in told
    assert word in told


def test_a_group_at_the_top_has_not_stalled(tmp_path: Path) -> None:
    """Twelve times the most that a zone gives: no better one can come."""
    file = tmp_path / "top.csv"
    rows = [f"1,{'AB'[order % 2]},{order},8" for order in range(1, 13)]
    file.write_text("\n".join(["revision,student,order,value", *rows]), encoding="utf-8")
    told = _ask(str(file)).output
    assert "at the top since trial 1" in told
    assert "stalled" not in told
    assert not json.loads(_ask(str(file), "--json").output)[0]["stalled"]


def test_three_trials_are_too_few(tmp_path: Path) -> None:
    """Null where nothing can be said, and the reason."""
    done = _ask(_write(tmp_path, Telling.POSITIONS, attempts=3), "--json")
    one = json.loads(done.output)[0]
    assert ("cannot tell", None) == (one["grouped"], one["probabilities"]["use"])
    assert "too_few_trials" == one["reasons"][0]["key"]
    assert {None} == set(one["joint"].values())


def test_people_read_lines(tmp_path: Path) -> None:
    """Without --json one line a group, and one for the test that would tell most."""
    done = _ask(_write(tmp_path, Telling.POSITIONS))
    lines = [line for line in done.output.splitlines() if not line.startswith("  ")]
    assert 3 == len(lines)
    assert lines[0].startswith("group 0: ")
    assert "in 10" in lines[0]


def test_the_aim_point_moves_the_frame(tmp_path: Path) -> None:
    """A panel aimed at low has less room below: more of it is beyond, all stays finite."""
    done = _ask(
        _write(tmp_path, Telling.POSITIONS), "--json", "--panel-mm", "900", "--aim-mm", "450", "300"
    )
    assert 0 == done.exit_code, done.output
    assert 3 == len(json.loads(done.output))


@pytest.mark.parametrize(
    ("given", "word"),
    [
        (("--panel-mm", "0"), "--panel-mm"),
        (("--panel-mm", "nan"), "--panel-mm"),
        (("--aim-mm", "700", "10"), "--aim-mm"),
        (("--direction", "sideways"), "sideways"),
    ],
)
def test_bad_options_get_one_sentence(tmp_path: Path, given: tuple[str, ...], word: str) -> None:
    """What is wrong and how to mend it, with exit code 2."""
    done = _ask(_write(tmp_path, Telling.POSITIONS), *given)
    assert 2 == done.exit_code
    assert word in done.output
    assert "Traceback" not in done.output


def test_bad_rows_are_named(tmp_path: Path) -> None:
    """A table that cannot be read is refused whole, row and column named."""
    file = tmp_path / "trials.csv"
    file.write_text("revision,value\nr1,high\n", encoding="utf-8")
    done = _ask(str(file), "--json")
    assert 2 == done.exit_code
    assert "row 2, value" in done.output


def test_a_table_without_rows_is_refused(tmp_path: Path) -> None:
    """A header alone holds no group: somebody saved the wrong sheet."""
    file = tmp_path / "trials.csv"
    file.write_text("revision,value\n", encoding="utf-8")
    told = _ask(str(file), "--json")
    assert (2, True) == (told.exit_code, "one row for each trial" in told.output)
