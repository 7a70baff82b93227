"""What a comparison can tell."""

import pytest

from journal.analysis.fairness import CanTell, look_for_fairness
from journal.analysis.records import TrialRecord
from tests.analysis.trial_records import trials

OLD = trials("A", [1.0, 2.0], student="1", distance_mm=2000, handling="full")
SAME = trials("B", [1.0, 2.0], student="1", distance_mm=2000, handling="full")
OTHER_HANDLING = trials("B", [1.0, 2.0], student="1", distance_mm=2000, handling="half")
FURTHER = trials("B", [1.0, 2.0], student="1", distance_mm=3000, handling="full")


@pytest.mark.parametrize(
    ("changed", "new", "can_tell"),
    [
        (["rail length"], SAME, CanTell.WHY),
        (["rail length", "fin area"], SAME, CanTell.IF_NOT_WHY),
        (["rail length"], OTHER_HANDLING, CanTell.IF_NOT_WHY),
        ([], SAME, CanTell.NO_CHANGE),
        (["rail length"], FURTHER, CanTell.NOTHING),
    ],
)
def test_reach_of_a_comparison(
    changed: list[str], new: list[TrialRecord], can_tell: CanTell
) -> None:
    """One change alone tells why; several, or another handling, tell if and not why."""
    assert can_tell == look_for_fairness(changed, OLD, new).can_tell


def test_a_factor_named_twice_is_one_change() -> None:
    """Changed there and back in one revision is still one factor."""
    assert ("fin area",) == look_for_fairness(["fin area", "fin area"], OLD, SAME).changed
