"""Old against new within students."""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.analysis.comparisons import compare
from journal.analysis.looks import LIVE_STEPS
from journal.analysis.verdicts import PracticeWord, Verdict
from journal.domain.outcomes import LESS_IS_BETTER, near_is_better
from tests.analysis.trial_records import MEASURES, trials, turns

SIDE = st.lists(MEASURES, min_size=1, max_size=5)


def test_clear_difference_in_blocks_leaves_practice_open() -> None:
    """More, and always with the warning: blocks cannot rule practice out."""
    found = compare(trials("A", [1, 2, 3, 2]), trials("B", [7, 8, 9, 8], start=5))
    assert Verdict.MORE == found.verdict
    assert found.better is True
    assert PracticeWord.NOT_RULED_OUT == found.practice
    assert 6.0 == found.difference
    assert 1.0 == found.cliff_delta


def test_turns_are_balanced() -> None:
    """A B B A by the same student: practice cannot pass for a better device."""
    records = turns("ABBAABBA", [1, 5, 6, 2, 1, 6, 7, 2])
    found = compare(
        [record for record in records if record.revision == "A"],
        [record for record in records if record.revision == "B"],
    )
    assert PracticeWord.BALANCED == found.practice
    assert Verdict.MORE == found.verdict


def test_words_come_in_their_order() -> None:
    """Not comparable, too early, the same so far, a hint, no clear difference."""
    far = trials("B", [9.0] * 8, distance_mm=3000)
    found = compare(trials("A", [1.0] * 8, distance_mm=2000), far)
    assert Verdict.NOT_COMPARABLE == found.verdict
    assert not found.comparable
    assert found.p_value is None
    assert found.difference is None
    assert Verdict.TOO_EARLY == compare(trials("A", [1, 2]), trials("B", [8, 9, 9])).verdict
    assert Verdict.SAME == compare(trials("A", [4.0] * 3), trials("B", [4.0] * 3)).verdict
    assert Verdict.HINT == compare(trials("A", [1, 2, 3]), trials("B", [7, 8, 9])).verdict
    level = compare(trials("A", [1, 2, 3, 4]), trials("B", [1, 3, 2, 4]))
    assert Verdict.NO_CLEAR_DIFFERENCE == level.verdict
    assert level.better is None


def test_nobody_tried_both_is_not_comparable() -> None:
    """Different testers tell device and use not apart."""
    old = trials("A", [1.0] * 5, student="1")
    assert Verdict.NOT_COMPARABLE == compare(old, trials("B", [9.0] * 5, student="2")).verdict


def test_only_misfires_so_far_is_too_early() -> None:
    """A new revision without any value waits for one."""
    found = compare(trials("A", [1.0] * 5, student="1"), trials("B", [None], student="1"))
    assert Verdict.TOO_EARLY == found.verdict
    assert found.comparable


def test_all_values_equal_are_the_same_so_far() -> None:
    """Where nothing differs nothing could be found, and that is said as it is."""
    found = compare(trials("A", [2.0] * 6), trials("B", [2.0] * 6))
    assert 1.0 == found.p_value
    assert Verdict.SAME == found.verdict
    assert (found.pairs.leads, found.pairs.ties) == (0, 36) if found.pairs else False
    assert found.better is None


def test_less_can_be_better() -> None:
    """The verdict speaks of the measure, `better` of the direction."""
    found = compare(trials("A", [7, 8, 9, 8]), trials("B", [1, 2, 3, 2]), LESS_IS_BETTER)
    assert Verdict.LESS == found.verdict
    assert found.better is True


def test_nearness_is_tested_on_distances() -> None:
    """Old scatters widely about 50, new closely: no shift of the mean, and yet better."""
    old, new = [10.0, 95.0, 20.0, 80.0, 5.0, 90.0], [48.0, 52.0, 49.0, 51.0, 50.5, 49.5]
    found = compare(trials("A", old), trials("B", new), near_is_better(50.0))
    assert Verdict.NO_CLEAR_DIFFERENCE == found.verdict
    assert found.better is True


def test_verdict_rests_on_the_last_look() -> None:
    """With live data the verdict is formed at 6 v 6 and stays until 8 v 8."""
    old = trials("A", [1, 2, 3, 2, 3, 1, 2, 2])
    at_six = compare(old, trials("B", [7, 8, 9, 8, 7, 9], start=9), steps=LIVE_STEPS)
    at_seven = compare(old, trials("B", [7, 8, 9, 8, 7, 9, 0], start=9), steps=LIVE_STEPS)
    assert at_six == at_seven
    assert (6, 6, Verdict.MORE) == (at_seven.step, at_seven.new_n, at_seven.verdict)


def test_a_look_has_its_price() -> None:
    """What is clear in finished data may be open at a first look: p = .0108 is above its level."""
    old, new = trials("A", [1, 2, 3, 4, 5, 6]), trials("B", [4, 5, 6, 7, 8, 9], start=7)
    finished, running = compare(old, new), compare(old, new, steps=LIVE_STEPS)
    assert finished.p_value == running.p_value
    assert Verdict.MORE == finished.verdict
    assert Verdict.NO_CLEAR_DIFFERENCE == running.verdict
    assert finished.adjusted_p == finished.p_value
    assert (running.adjusted_p or 0) > 0.05


def test_looks_go_on_after_twelve() -> None:
    """A difference that shows late is called: at the look at 24, not before."""
    draw = Random(11)
    old = [draw.gauss(0, 1) for _ in range(24)]
    new = [draw.gauss(0, 1) for _ in range(12)] + [draw.gauss(3, 1) for _ in range(12)]
    records = trials("A", old), trials("B", new, start=25)
    assert (
        Verdict.NO_CLEAR_DIFFERENCE
        == compare(records[0], records[1][:15], steps=LIVE_STEPS).verdict
    )
    found = compare(*records, steps=LIVE_STEPS)
    assert (24, Verdict.MORE) == (found.step, found.verdict)


def test_before_the_first_look_there_is_a_hint_at_most() -> None:
    """Three new trials against many could reach .05, but are not looked at yet."""
    old = trials("A", [float(value % 4) for value in range(20)])
    found = compare(old, trials("B", [9, 9, 8], start=21), steps=LIVE_STEPS)
    assert found.p_value is not None
    assert found.p_value <= 0.05
    assert Verdict.HINT == found.verdict


def test_unequal_scatter_is_not_taken_for_a_difference() -> None:
    """Few new trials that scatter widely: the plain test finds more, the verdict does not."""
    old = trials("A", [50, 51, 49, 50, 52, 48, 50, 51, 49, 50, 51, 49])
    found = compare(old, trials("B", [95, 20, 80, 85], start=13))
    assert found.p_value is not None
    assert found.p_value <= 0.05
    assert found.p_unequal is not None
    assert found.p_unequal > 0.05
    assert found.spread_explains
    assert Verdict.NO_CLEAR_DIFFERENCE == found.verdict
    assert found.interval_unequal is not None
    assert found.interval_unequal[0] < 0 < found.interval_unequal[1]


@settings(max_examples=50, deadline=None)
@given(SIDE, SIDE, st.randoms(use_true_random=False))
def test_order_of_trials_changes_no_figure(old: list[float], new: list[float], mix: Random) -> None:
    """Difference, interval, p-value and delta are the same in any order."""
    turned_old, turned_new = list(old), list(new)
    mix.shuffle(turned_old)
    mix.shuffle(turned_new)
    one = compare(trials("A", old), trials("B", new))
    other = compare(trials("A", turned_old), trials("B", turned_new))
    for figure in ("difference", "interval", "p_value", "cliff_delta"):
        assert getattr(one, figure) == getattr(other, figure)


@settings(max_examples=50, deadline=None)
@given(SIDE, SIDE)
def test_swapping_revisions_flips_the_sign(old: list[float], new: list[float]) -> None:
    """Difference and delta change sign, the p-value stays."""
    there = compare(trials("A", old), trials("B", new))
    back = compare(trials("B", new), trials("A", old))
    assert there.difference is not None
    assert back.difference is not None
    assert there.cliff_delta is not None
    assert back.cliff_delta is not None
    assert pytest.approx(-there.difference, abs=1e-12) == back.difference
    assert -there.cliff_delta == back.cliff_delta
    assert there.p_value == back.p_value


@settings(max_examples=30, deadline=None)
@given(SIDE, SIDE)
def test_a_misfire_changes_no_comparison(old: list[float], new: list[float]) -> None:
    """Difference, interval, p-value and delta leave misfires out."""
    plain = compare(trials("A", old), trials("B", new))
    more = compare(trials("A", [*old, None]), trials("B", [None, *new]))
    for figure in ("difference", "interval", "p_value", "cliff_delta", "verdict"):
        assert getattr(plain, figure) == getattr(more, figure)
