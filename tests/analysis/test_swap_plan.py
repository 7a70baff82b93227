"""Who launches what, when."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.records import TrialRecord
from journal.analysis.swap_plan import plan_exchange, plan_swap
from journal.analysis.turns import turn_pairs
from journal.domain.errors import Invalid

STUDENTS = st.lists(st.integers(1, 30).map(str), min_size=1, max_size=5, unique=True)


@given(STUDENTS, st.sampled_from([4, 8, 12]))
def test_turns_are_equal_and_kept(students: list[str], trials: int) -> None:
    """Everybody uses old and new equally often, in turn, as the analysis wants to find it."""
    plan = plan_swap(students, "old", "new", trials)
    counts = Counter((turn.student, turn.uses) for turn in plan)
    assert {(student, use) for student in students for use in ("old", "new")} == set(counts)
    assert {trials // 2} == set(counts.values())
    sides = [
        [
            TrialRecord(order=turn.number, revision=use, student=turn.student, value=1.0)
            for turn in plan
            if turn.uses == use
        ]
        for use in ("old", "new")
    ]
    pairs = turn_pairs(sides[0], sides[1])
    assert pairs is not None
    assert len(students) * trials // 2 == len(pairs)


def test_half_start_with_the_new_one_and_the_first_place_goes_round() -> None:
    """1 has A B B A, 2 has B A A B; in the second round 2 begins."""
    plan = plan_swap(["1", "2"], "A", "B", 4)
    assert "ABBA" == "".join(turn.uses for turn in plan if turn.student == "1")
    assert "BAAB" == "".join(turn.uses for turn in plan if turn.student == "2")
    assert ["1", "1", "2", "2", "2", "2", "1", "1"] == [turn.student for turn in plan]


def test_own_parts_go_round() -> None:
    """Each part is used by its owner and one other student, each student uses two parts."""
    plan = plan_exchange({"1": "d1", "2": "d2", "3": "d3"}, 4)
    used = {(turn.student, turn.uses) for turn in plan}
    assert {("1", "d1"), ("1", "d2"), ("2", "d2"), ("2", "d3"), ("3", "d3"), ("3", "d1")} == used
    assert {"d1": 4, "d2": 4, "d3": 4} == Counter(turn.uses for turn in plan)


@pytest.mark.parametrize(("students", "trials"), [([], 8), (["1", "1"], 8), (["1"], 6), (["1"], 0)])
def test_unequal_turns_are_refused(students: list[str], trials: int) -> None:
    """Nobody there, a name twice, turns that are no multiple of four."""
    with pytest.raises(Invalid):
        plan_swap(students, "A", "B", trials)


def test_one_student_has_nobody_to_exchange_with() -> None:
    """An exchange takes two."""
    with pytest.raises(Invalid):
        plan_exchange({"1": "d1"})
