"""A small version of the report: fails if the figures slip.

The bounds lie off what the report found by about three standard errors of so few groups.
"""

import re
from pathlib import Path

import pytest

from tests.simulation.causes import CAUSE_SETS, CHANCES
from tests.simulation.classrooms import Telling, draw_classrooms, told_as
from tests.simulation.judged import Judged, judge_cell
from tests.simulation.report import LINE, RESULTS, SEED, TELLINGS, TRIALS, main, write_tables
from tests.simulation.scores import calibration_error, list_misses, score, wilson
from tests.simulation.worlds import BLAMELESS, PRIORS, Stage, World, draw_rooms

GROUPS = 16


def test_causes_are_drawn_as_often_as_said() -> None:
    """A quarter nothing, an eighth each single cause, an eighth all pairs."""
    assert pytest.approx(1.0) == sum(CHANCES)
    rooms = draw_classrooms(1, 2000, 6)
    counts = {causes: sum(room.causes == causes for room in rooms) for causes in CAUSE_SETS}
    assert pytest.approx(0.25, abs=0.03) == counts[frozenset()] / len(rooms)
    assert pytest.approx(0.125, abs=0.025) == counts[frozenset({"use"})] / len(rooms)


def test_trials_told_without_positions_carry_none() -> None:
    """Points and measures give a value, and never where it was."""
    room = draw_classrooms(2, 1, 12)[0]
    for telling in (Telling.POINTS, Telling.MEASURES):
        records = told_as(room, telling)
        assert {None} == {record.hit for record in records}
        assert 12 == len(records)


@pytest.mark.parametrize("world", [World.OWN, World.B])
@pytest.mark.parametrize(("telling", "named"), [(Telling.POSITIONS, 0.60), (Telling.POINTS, 0.30)])
def test_the_diagnosis_finds_known_causes(world: World, telling: Telling, named: float) -> None:
    """No offset is named without a contrast; with guests it is, and seldom where use is poor."""
    stages = (Stage.BEFORE, Stage.GUESTS_8)
    judged = judge_cell((world, 12, telling), GROUPS, 5500, stages=stages)
    assert judged is not None
    before, after = (
        score([entry for entry in judged if entry.stage == stage.value]) for stage in stages
    )
    assert 0.0 == before.device["device_offset"]
    assert after.device["device_offset"] > named
    for found in (before, after):
        assert sum(found.device[cause] for cause in BLAMELESS) / len(BLAMELESS) < 0.12
        assert found.right > 0.6
        assert found.calibration < 0.2


def test_priors_of_the_worlds_add_up() -> None:
    """Each cause is weighed as the model expects it."""
    assert pytest.approx(1.0) == sum(PRIORS.values())


@pytest.mark.parametrize("world", list(World))
def test_every_stage_begins_with_the_same_own_trials(world: World) -> None:
    """What is launched later changes nothing of what was launched before."""
    room = draw_rooms(world, "use_all_fading", 3, 1, 12)[0]
    own = room.tell(Stage.BEFORE, Telling.POSITIONS)
    assert 12 == len(own)
    for stage in Stage:
        told = room.tell(stage, Telling.POSITIONS)
        assert own == told[:12]
        assert (stage in {Stage.GUESTS_4, Stage.GUESTS_8}) == any(r.guest for r in told)
        assert (stage in {Stage.THEIRS_4, Stage.THEIRS_8}) == any(r.owner for r in told)
    assert 20 == len(room.tell(Stage.GUESTS_8, Telling.POSITIONS))


def test_the_second_revision_of_world_c_helps() -> None:
    """The first half was launched with an older one."""
    room = draw_rooms(World.C, "none", 3, 1, 12)[0]
    told = room.tell(Stage.BEFORE, Telling.POSITIONS)
    assert ["r1"] * 6 + ["r2"] * 6 == [record.revision for record in told]


def test_calibration_is_zero_for_honest_and_large_for_boasting_numbers() -> None:
    """Nine of ten said with .9 is right; all said with 1.0 is off by a tenth."""
    held = [True] * 9 + [False]
    assert pytest.approx(0.0) == calibration_error([(1.0, 0.9, one) for one in held])
    assert pytest.approx(0.1) == calibration_error([(1.0, 1.0, one) for one in held])


def test_wilson_is_that_of_newcombe() -> None:
    """Newcombe, Statistics in Medicine 17 (1998), 857-872: 81 of 263 and 15 of 148."""
    assert pytest.approx((0.2553, 0.3662), abs=1e-4) == wilson(81 / 263, 263)
    assert pytest.approx((0.0624, 0.1605), abs=1e-4) == wilson(15 / 148, 148)


def _judged(cause: str, device: float, use: float) -> Judged:
    none = 1 - device - use
    return Judged(
        cause=cause,
        causes=() if cause == "none" else (cause,),
        stage="guests 8",
        joint={"none": none, "device": device, "use": use, "both": 0.0},
        next_test=None,
    )


def test_a_goal_that_is_missed_is_told() -> None:
    """The device said of a steady use, again and again; and an offset that is never named."""
    blamed = [_judged("use_all_steady", 0.9, 0.1), _judged("device_offset", 0.2, 0.7)] * 20
    misses = list_misses(score(blamed), World.OWN, Stage.GUESTS_8, positions=True)
    assert any(miss.startswith("device said in 1.000 of use_all_steady") for miss in misses)
    assert any(miss.startswith("offset named in 0.000") for miss in misses)
    fine = [_judged("use_all_steady", 0.01, 0.99), _judged("device_offset", 0.99, 0.01)] * 20
    assert [] == list_misses(score(fine), World.OWN, Stage.GUESTS_8, positions=True)


def test_the_report_is_made_in_pieces(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With no time it says so; what was judged is kept and found again; each cell has its rows."""
    kept = tmp_path / "kept.jsonl"
    main(["--groups", "1", "--kept", str(kept), "--minutes", "0"])
    assert "start the same command again" in capsys.readouterr().out
    cell = (World.OWN, 12, Telling.POSITIONS)
    first = judge_cell(cell, 1, SEED, kept=kept)
    lines = kept.read_text("utf-8")
    assert len(PRIORS) == len(lines.splitlines())
    assert first == judge_cell(cell, 1, SEED, kept=kept)
    assert lines == kept.read_text("utf-8")


def test_results_hold_every_cell() -> None:
    """One row for each world, number of trials, way of telling, and stage."""
    written = RESULTS.read_text("utf-8").split(LINE)[1]
    rows = re.findall(r"^\| (?:12|24) \| (?:positions|zone points) \| ", written, re.MULTILINE)
    assert len(World) * len(TRIALS) * len(TELLINGS) * len(Stage) == len(rows)


def test_words_above_the_tables_stay(tmp_path: Path) -> None:
    """The report replaces what stands below its line."""
    copy = tmp_path / "RESULTS.md"
    copy.write_text(RESULTS.read_text("utf-8"), encoding="utf-8")
    write_tables(copy, ["one line"])
    above = RESULTS.read_text("utf-8").split(LINE)[0]
    assert f"{above}{LINE}\n\none line\n" == copy.read_text("utf-8")
