"""The trend within students."""

import random
from collections.abc import Sequence
from itertools import permutations, product

import pytest
from scipy.stats import kendalltau, theilslopes

from journal.analysis.permutation.permute import Method
from journal.analysis.practice import Practice, practice_of, practice_over
from tests.analysis.trial_records import trials


def practice_of_values(values: Sequence[float]) -> Practice:
    """Return the trend over values in order, of one student."""
    return practice_of([list(enumerate(values, start=1))])


def test_one_student_without_ties_is_scipy() -> None:
    """`scipy.stats.kendalltau(method="exact")` and `theilslopes` on 1,000 random cases."""
    draw = random.Random(1)
    for _ in range(1_000):
        values = [draw.random() for _ in range(draw.randint(2, 25))]
        places = list(range(1, len(values) + 1))
        expected = kendalltau(places, values, method="exact")
        practice = practice_of_values(values)
        assert pytest.approx(expected.statistic) == practice.tau
        assert pytest.approx(expected.pvalue) == practice.p_value
        assert pytest.approx(theilslopes(values, places).slope) == practice.slope


def test_students_are_strata() -> None:
    """S is summed over students; its null distribution is that of writing out both orders."""
    first, second = [3.0, 1.0, 4.0, 4.0], [2.0, 2.0, 5.0]

    def score(values: tuple[float, ...]) -> int:
        return sum((b > a) - (b < a) for place, a in enumerate(values) for b in values[place + 1 :])

    seen = score(tuple(first)) + score(tuple(second))
    sums = [score(a) + score(b) for a, b in product(permutations(first), permutations(second))]
    expected = sum(abs(total) >= abs(seen) for total in sums) / len(sums)
    practice = practice_of([list(enumerate(first)), list(enumerate(second))])
    assert seen == practice.score
    assert pytest.approx(expected) == practice.p_value
    assert pytest.approx(seen / (9 * (9 - 2)) ** 0.5) == practice.tau


def test_revision_with_most_values_is_looked_at() -> None:
    """The longest line of trials speaks; a misfire is a trial without a value."""
    records = [
        *trials("A", [9.0, 8.0]),
        *trials("B", [1.0, None, 2.0, 3.0], start=3),
    ]
    practice = practice_over(records)
    assert "B" == practice.revision
    assert 3 == practice.n
    assert 1.0 == practice.tau
    # From trial 1 to 3 and 4: slopes 1/2, 2/3 and 1.
    assert pytest.approx(2 / 3) == practice.slope


def test_nothing_to_order_says_nothing() -> None:
    """No trials, one trial, and trials all alike have no trend."""
    for values in ([], [3.0], [2.0, 2.0, 2.0]):
        practice = practice_of_values(values)
        assert practice.tau is None
        assert practice.p_value is None
    assert practice_over([]).n == 0


def test_very_many_trials_are_taken_as_normal() -> None:
    """10,000 trials are answered, and the method is said; close to SciPy's asymptotic value."""
    draw = random.Random(4)
    values = [draw.random() for _ in range(10_000)]
    practice = practice_of_values(values)
    expected = kendalltau(range(10_000), values, method="asymptotic").pvalue
    assert Method.NORMAL == practice.method
    assert pytest.approx(expected, abs=1e-3) == practice.p_value
