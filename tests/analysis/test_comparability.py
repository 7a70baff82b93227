"""Whether two revisions were tested alike."""

from journal.analysis.comparability import Difference, differences_between
from journal.analysis.records import TrialRecord
from journal.domain.trials import TrialKind
from tests.analysis.trial_records import trials


def _names(old: list[TrialRecord], new: list[TrialRecord]) -> list[Difference]:
    return [one.what for one in differences_between(old, new)]


def test_same_conditions_differ_in_nothing() -> None:
    """What is equal on both sides is not mentioned."""
    old = trials("A", [1.0], student="1", distance_mm=2000, panel="big", session="1")
    new = trials("B", [1.0], student="1", distance_mm=2000, panel="big", session="1")
    assert [] == _names(old, new)


def test_distance_and_panel_forbid_a_comparison() -> None:
    """Both are named with what was there before and after."""
    old = trials("A", [1.0], student="1", distance_mm=2000, panel="big")
    new = trials("B", [1.0], student="1", distance_mm=3000, panel="small")
    found = differences_between(old, new)
    assert [Difference.DISTANCE, Difference.PANEL] == [one.what for one in found]
    assert all(one.what.forbids for one in found)
    assert (("2000",), ("3000",)) == (found[0].old, found[0].new)


def test_nobody_who_tried_both_forbids_a_comparison() -> None:
    """Old by one student and new by another tells device and use not apart."""
    assert [Difference.NOBODY_TRIED_BOTH, Difference.TESTERS] == _names(
        trials("A", [1.0], student="1"), trials("B", [2.0], student="2")
    )


def test_what_is_not_known_on_a_side_says_nothing() -> None:
    """A missing distance is no difference."""
    assert [] == _names(trials("A", [1.0], distance_mm=2000), trials("B", [1.0], session="2"))


def test_use_and_kind_need_saying_only() -> None:
    """Another handling, own part, session or kind of trial leaves the comparison open."""
    old = trials("A", [1.0], handling="full", own_part="d1", session="1")
    new = trials("B", [1.0], handling="half", own_part="d2", session="2", kind=TrialKind.COUNTED)
    found = _names(old, new)
    assert {
        Difference.HANDLING,
        Difference.OWN_PART,
        Difference.SESSION,
        Difference.KIND,
    } == set(found)
    assert not any(one.forbids for one in found)


def test_conditions_of_misfires_do_not_count() -> None:
    """A misfire at another distance leaves the measured trials alike."""
    old = trials("A", [1.0], distance_mm=2000)
    new = [
        *trials("B", [1.0], distance_mm=2000),
        *trials("B", [None], distance_mm=3000),
    ]
    assert [] == _names(old, new)
