"""Scoring: goals, ties, unequal groups; an excused attempt is no zero."""

from __future__ import annotations

from journal.analysis.scoring import Attempt, rank_groups, score_group
from journal.domain.goals import MEASURE, Goal, GoalKind, TableRow


def attempts(*landed: str, excused: int = 0) -> list[Attempt]:
    """Return attempts at places worth 8 (a), 4 (b), 2 (c), and some that were excused."""
    points = {"a": 8.0, "b": 4.0, "c": 2.0}
    made = [
        Attempt(order=order, where=where, points=points.get(where, 0.0))
        for order, where in enumerate(landed)
    ]
    return made + [
        Attempt(order=100 + extra, where="nowhere", points=0.0, excused=True)
        for extra in range(excused)
    ]


MEAN = Goal(kind=GoalKind.MEAN_PER_ATTEMPT)
MOST = Goal(kind=GoalKind.MOST_POINTS)


def test_mean_per_attempt_is_fair_to_unequal_groups() -> None:
    """Groups of 3 and 5, three attempts a member, scoring 2 each time: sums 18, 30; means 2, 2.

    Common practice, no source.
    """
    small, large = attempts(*["c"] * 9), attempts(*["c"] * 15)
    sums = [score_group("3", small, MOST), score_group("5", large, MOST)]
    means = [score_group("3", small, MEAN), score_group("5", large, MEAN)]
    assert [score.score for score in sums] == [18.0, 30.0]
    assert [score.score for score in means] == [2.0, 2.0]
    assert rank_groups(sums, MOST).unequal_attempts
    ranking = rank_groups(means, MEAN)
    assert not ranking.unequal_attempts
    assert [(each.place, each.tied) for each in ranking.ranked] == [(1, True), (1, True)]


def test_an_excused_attempt_is_not_a_zero() -> None:
    """It leaves the mean alone and is counted apart; only excused ones leave no score."""
    found = score_group("1", attempts("a", "b", excused=2), MEAN)
    assert (found.score, found.attempts, found.excused) == (6.0, 2, 2)
    assert score_group("1", attempts(excused=3), MEAN).score is None


def test_groups_that_tie_share_a_place() -> None:
    """Scores 9, 7, 7, 3 and none take places 1, 2, 2, 4 and no place."""
    landed = {"p": ["a", "c"], "q": ["a"], "r": ["b", "b"], "s": ["c"], "t": []}
    scores = [score_group(name, attempts(*where), MOST) for name, where in landed.items()]
    ranking = rank_groups(scores, MOST)
    assert [(each.score.group, each.place) for each in ranking.ranked] == [
        ("p", 1),
        ("q", 2),
        ("r", 2),
        ("s", 4),
        ("t", None),
    ]


def test_a_set_of_zones_is_completed_in_any_order() -> None:
    """What is missing is named; a zone named twice must be hit twice."""
    goal = Goal(kind=GoalKind.COMPLETE_SET, zones=("a", "b", "b"))
    found = score_group("1", attempts("b", "c", "a"), goal)
    assert (found.score, found.missing) == (2.0, ("b",))


def test_attempts_needed_counts_up_to_the_last_zone() -> None:
    """The set a, b is complete with the fourth attempt; fewer is better; never is no score."""
    goal = Goal(kind=GoalKind.ATTEMPTS_TO_COMPLETE, zones=("a", "b"))
    slow = score_group("slow", attempts("b", "c", "b", "a", "a"), goal)
    quick = score_group("quick", attempts("a", "b"), goal)
    never = score_group("never", attempts("a", "a"), goal)
    assert (slow.score, quick.score, never.score) == (4.0, 2.0, None)
    ranking = rank_groups([slow, never, quick], goal)
    assert [each.score.group for each in ranking.ranked] == ["quick", "slow", "never"]
    assert not ranking.unequal_attempts


def test_a_table_of_the_class_gives_points_by_the_number_of_hits() -> None:
    """The first hit in a zone is worth 5, later ones 1; the wall takes one away."""
    goal = Goal(
        kind=GoalKind.CLASS_TABLE,
        table=(
            TableRow(where="a", points=5.0, last=1),
            TableRow(where="a", points=1.0, first=2),
            TableRow(where="wall", points=-1.0),
        ),
    )
    assert score_group("1", attempts("a", "a", "wall", "a", "b"), goal).score == 6.0


def test_a_table_of_a_quantity_goes_by_the_quantity() -> None:
    """Up to 200 g 1 point, up to 400 g 3 points, the first line that fits; nothing above."""
    table = (
        TableRow(where=MEASURE, first=0.0, last=200.0, points=1.0),
        TableRow(where=MEASURE, first=200.0, last=400.0, points=3.0),
    )
    held = [
        Attempt(order=order, where=MEASURE, points=grams)
        for order, grams in enumerate((150.0, 200.0, 200.5, 400.0, 401.0))
    ]
    found = score_group("1", held, Goal(kind=GoalKind.CLASS_TABLE, table=table))
    assert 1.0 + 1.0 + 3.0 + 3.0 == found.score


def test_a_small_measure_can_be_the_better_one() -> None:
    """Distances from a line: the smaller mean takes the earlier place."""
    goal = Goal(kind=GoalKind.MEAN_PER_ATTEMPT, low_is_better=True)
    near = score_group("near", [Attempt(order=0, where=MEASURE, points=20.0)], goal)
    far = score_group("far", [Attempt(order=0, where=MEASURE, points=90.0)], goal)
    ranked = rank_groups([far, near], goal).ranked
    assert [("near", 1), ("far", 2)] == [(each.score.group, each.place) for each in ranked]
