"""A small version of the report: fails if the figures slip.

The bounds lie below what the report found by about three standard errors of so few groups.
"""

import re
from pathlib import Path

import numpy as np
import pytest

from tests.simulation.best import find_best
from tests.simulation.causes import CAUSE_SETS, CHANCES, group_causes
from tests.simulation.classrooms import Telling, draw_classrooms, told_as
from tests.simulation.exchange import find_shares
from tests.simulation.measures import calibration_error, diagnose_sets, measure
from tests.simulation.plateaus import draw_courses, plain_rule, shipped_rule, watch
from tests.simulation.report import (
    ATTEMPTS,
    GENERATORS,
    LINE,
    RESULTS,
    main,
    tell_report,
    write_tables,
)

GROUPS = 150


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


@pytest.mark.parametrize(
    ("attempts", "telling", "accuracy", "grouped", "named"),
    [
        (6, Telling.POSITIONS, 0.50, 0.61, 0.42),
        (24, Telling.POSITIONS, 0.76, 0.82, 0.74),
        (24, Telling.POINTS, 0.59, 0.74, 0.58),
        (24, Telling.MEASURES, 0.60, 0.74, 0.60),
    ],
)
def test_the_diagnosis_finds_known_causes(
    attempts: int, telling: Telling, accuracy: float, grouped: float, named: float
) -> None:
    """Most probable set, grouped, device named where it is the device, and hardly elsewhere."""
    rooms = draw_classrooms(9500 + attempts, GROUPS, attempts)
    found = measure([(room.causes, diagnose_sets(room, telling)) for room in rooms], attempts)
    assert found.accuracy > accuracy
    assert found.grouped > grouped
    assert found.named > named
    assert found.right > 0.79
    assert max(found.blamed_use, found.blamed_none) < 0.14
    assert found.presence < 0.05


def test_the_best_possible_is_near() -> None:
    """On a dozen groups the probabilities lie close to those of the importance sampler."""
    rooms = draw_classrooms(9600, 12, 12)
    away, effective = [], []
    for number, room in enumerate(rooms):
        best = find_best(room, Telling.POSITIONS, number, 400)
        ours = diagnose_sets(room, Telling.POSITIONS)
        away.append(sum(abs(ours[causes] - best.chances[causes]) for causes in CAUSE_SETS) / 2)
        effective += best.effective.values()
    assert float(np.mean(away)) < 0.06
    assert float(np.median(effective)) > 150


def test_two_samples_of_the_best_possible_agree() -> None:
    """Other draws, twice as many of them, give the same probabilities."""
    room = next(one for one in draw_classrooms(9601, 9, 12) if "use" in one.causes)
    first, second = (
        find_best(room, Telling.POINTS, seed, draws).chances for seed, draws in ((1, 300), (2, 600))
    )
    assert sum(abs(first[causes] - second[causes]) for causes in CAUSE_SETS) / 2 < 0.05


def test_exchanged_parts_tell_a_poor_dart_from_poor_use() -> None:
    """With one exchange told apart in most; without, an own part is never spoken of."""
    found = find_shares(9700, 60, exchange=True)
    assert min(right for _, right in found.values()) > 0.65
    never = find_shares(9700, 20, exchange=False)
    assert 0.0 == never["own_part"][1]


def test_the_stall_watch_keeps_its_promise() -> None:
    """Rising groups are hardly ever called, standing ones soon; the plain rule is worse."""
    courses = draw_courses(9800, 300)
    found, plain = watch(shipped_rule(), courses), watch(plain_rule(6), courses)
    assert found.false_calls < 0.14
    assert found.flat_delay <= 13
    assert found.plateau_delay <= 13
    assert plain.false_calls > 0.3


def test_calibration_is_zero_for_honest_and_large_for_boasting_numbers() -> None:
    """Nine of ten said with .9 is right; all said with 1.0 is off by a tenth."""
    held = [True] * 9 + [False]
    assert pytest.approx(0.0) == calibration_error([(0.9, one) for one in held])
    assert pytest.approx(0.1) == calibration_error([(1.0, one) for one in held])


def test_groups_of_causes() -> None:
    """Two causes of the device are the device; use with any of them is both."""
    assert "device" == group_causes(frozenset({"load", "mechanism"}))
    assert "both" == group_causes(frozenset({"load", "use"}))
    assert "none" == group_causes(frozenset())


def _without_figures(text: str) -> list[str]:
    return [re.sub(r"later|nan|[+-]?\d+(\.\d+)?", "0", line) for line in text.strip().splitlines()]


def test_the_report_is_made_in_one_go(tmp_path: Path) -> None:
    """A tiny report finds kept samples again, and has the tables of RESULTS.md row by row."""
    kept = tmp_path / "kept.jsonl"
    lines = list(tell_report(3, 1, kept))
    cells = len(ATTEMPTS) * len(Telling)
    assert len(GENERATORS) * cells + cells == sum(
        line.startswith(("| 6 |", "| 12 |", "| 24 |")) for line in lines
    )
    sampled = kept.read_text("utf-8")
    assert lines == list(tell_report(3, 1, kept))
    assert sampled == kept.read_text("utf-8")
    copy = tmp_path / "RESULTS.md"
    copy.write_text(RESULTS.read_text("utf-8"), encoding="utf-8")
    write_tables(copy, lines)
    shipped, written = (path.read_text("utf-8").split(LINE) for path in (RESULTS, copy))
    assert shipped[0] == written[0]
    assert _without_figures(shipped[1]) == _without_figures(written[1])


def test_tables_are_not_written_without_the_best_possible() -> None:
    """A run that leaves a table out cannot replace the file."""
    with pytest.raises(SystemExit):
        main(["--groups", "1", "--write"])
