"""The exact test within students, against SciPy and against writing out every deal."""

import random
from fractions import Fraction
from time import process_time

import numpy as np
import pytest
from hypothesis import given, settings
from scipy.stats import permutation_test

from journal.analysis.permutation.permute import Method, permute
from journal.analysis.permutation.shift_shuffles import get_ready
from journal.analysis.permutation.strata import Stratum
from tests.analysis.deals import brute_share
from tests.analysis.trial_records import strata


def test_p_value_is_that_of_scipy() -> None:
    """`scipy.stats.permutation_test` of |difference of means|, exact, on 150 random cases."""
    draw = random.Random(4)
    for _ in range(150):
        old = [float(draw.randint(0, 20)) for _ in range(draw.randint(2, 5))]
        new = [float(draw.randint(0, 20)) for _ in range(draw.randint(2, 5))]
        expected = permutation_test(
            (np.array(old), np.array(new)),
            lambda a, b, axis: np.abs(a.mean(axis=axis) - b.mean(axis=axis)),
            n_resamples=np.inf,
            alternative="greater",
            vectorized=True,
        ).pvalue
        test = permute([Stratum(tuple(old), tuple(new))])
        assert test is not None
        assert pytest.approx(expected, abs=1e-12) == test.p_value


@settings(max_examples=60, deadline=None)
@given(strata(most=3))
def test_figures_are_those_of_writing_out_every_deal(groups: list[Stratum]) -> None:
    """p-value, and an interval whose ends are where the same test begins to rule shifts out."""
    test = permute(groups)
    assert test is not None
    assert pytest.approx(float(brute_share(groups)), abs=1e-15) == test.p_value
    level, far = Fraction(1, 20), Fraction(10**6)
    if test.interval is None:
        assert max(brute_share(groups, far), brute_share(groups, -far)) > level
        return
    low, high = (Fraction(end).limit_denominator(10**5) for end in test.interval)
    hair = Fraction(1, 10**7)
    assert brute_share(groups, low - hair) <= level
    assert brute_share(groups, high + hair) <= level
    assert brute_share(groups, low) > level
    assert brute_share(groups, high) > level


@settings(max_examples=60, deadline=None)
@given(strata())
def test_swapping_old_and_new_flips_the_sign(groups: list[Stratum]) -> None:
    """Difference and interval change sides, the p-value stays."""
    there = permute(groups)
    back = permute([Stratum(group.new, group.old) for group in groups])
    assert there is not None
    assert back is not None
    assert there.p_value == back.p_value
    assert there.smallest_p == back.smallest_p
    assert pytest.approx(-there.difference, abs=1e-9) == back.difference
    assert (there.interval is None) == (back.interval is None)
    if there.interval is not None and back.interval is not None:
        assert pytest.approx((-there.interval[1], -there.interval[0]), abs=1e-7) == back.interval


@settings(max_examples=60, deadline=None)
@given(strata())
def test_order_within_a_side_says_nothing(groups: list[Stratum]) -> None:
    """The same values in another order give the very same figures."""
    turned = [Stratum(group.old[::-1], group.new[::-1]) for group in reversed(groups)]
    assert permute(groups) == permute(turned)


@settings(max_examples=40, deadline=None)
@given(strata(most=3, students=2))
def test_difference_is_weighted_as_the_statistic_weighs_it(groups: list[Stratum]) -> None:
    """Each student's difference counts n_old n_new / (n_old + n_new)."""
    test = permute(groups)
    sizes = [(len(group.old), len(group.new)) for group in groups]
    weights = [old * new / (old + new) for old, new in sizes]
    gaps = [sum(group.new) / len(group.new) - sum(group.old) / len(group.old) for group in groups]
    assert test is not None
    assert pytest.approx(np.average(gaps, weights=weights), abs=1e-9) == test.difference


def test_p_values_under_a_true_null_keep_their_level() -> None:
    """Over all ways of dealing six values out, p <= a level in at most that share of them."""
    values = (0.0, 1.0, 1.0, 4.0, 8.0, 8.5, 9.0, 30.0)
    p_values = []
    for deal in range(2 ** len(values)):
        new = tuple(v for place, v in enumerate(values) if deal >> place & 1)
        old = tuple(v for place, v in enumerate(values) if not deal >> place & 1)
        if len(new) == 4:
            test = permute([Stratum(old, new)])
            assert test is not None
            p_values.append(test.p_value)
    assert 70 == len(p_values)
    for level in sorted(set(p_values)):
        assert sum(p <= level for p in p_values) / 70 <= level + 1e-12


def test_no_stratum_with_both_says_nothing() -> None:
    """Where nobody has old and new values there is no test."""
    assert permute([Stratum((1.0,), ()), Stratum((), (2.0,))]) is None
    assert permute([]) is None


def test_three_against_three_has_no_95_percent_interval() -> None:
    """The smallest p-value is .10, so no shift is ever ruled out at .05."""
    test = permute([Stratum((1.0, 2.0, 3.0), (7.0, 8.0, 9.0))])
    assert test is not None
    assert test.interval is None
    assert pytest.approx(0.1) == test.smallest_p == test.p_value


def test_interval_and_p_value_never_contradict_each_other() -> None:
    """Zero lies in the interval exactly where p is above .05, in all kinds of data."""
    draw = random.Random(9)
    for _ in range(60):
        gap = draw.choice([0.0, 5.0, 12.0])
        test = permute(
            [
                Stratum(
                    tuple(round(draw.gauss(50, 8), 1) for _ in range(6)),
                    tuple(round(draw.gauss(50 + gap, 8), 1) for _ in range(6)),
                )
            ]
        )
        assert test is not None
        assert test.interval is not None
        low, high = test.interval
        assert (low <= 0 <= high) == (test.p_value > 0.05)


def test_method_is_said() -> None:
    """Counted where that is possible, shuffles for fine values, normal for very many trials."""
    draw = random.Random(6)

    def method(count: int, digits: int) -> Method:
        sides = [tuple(round(draw.gauss(100, 30), digits) for _ in range(count)) for _ in range(2)]
        test = permute([Stratum(sides[0], sides[1])])
        assert test is not None
        return test.method

    assert Method.EXACT == method(20, 0)
    assert Method.SHUFFLES == method(25, 12)
    assert Method.NORMAL == method(400, 12)


def test_thirty_against_thirty_of_four_students_is_counted_out() -> None:
    """Zone points of a whole group: p-value and interval are both exact."""
    draw = random.Random(3)
    zones = [0.0, 1.0, 2.0, 4.0, 8.0]
    groups = [
        Stratum(*(tuple(draw.choice(zones) for _ in range(count)) for count in sizes))
        for sizes in ((8, 7), (7, 8), (8, 8), (7, 7))
    ]
    test = permute(groups)
    assert test is not None
    assert Method.EXACT == test.method == test.interval_method


def test_sampled_interval_follows_the_exact_p_value() -> None:
    """Fine measures near the level: the p-value is exact, the interval sampled, both agree."""
    draw = random.Random(21)
    old = [tuple(round(draw.gauss(1_000, 200), 1) for _ in range(3)) for _ in range(4)]
    noise = [[round(draw.gauss(0, 200), 1) for _ in range(3)] for _ in range(4)]
    for gap in (100, 150, 170, 180, 190, 240):
        test = permute(
            [
                Stratum(before, tuple(round(1_000 + gap + one, 1) for one in after))
                for before, after in zip(old, noise, strict=True)
            ]
        )
        assert test is not None
        assert (Method.EXACT, Method.SHUFFLES) == (test.method, test.interval_method)
        assert test.interval is not None
        low, high = test.interval
        assert (low <= 0 <= high) if test.p_value > 0.05 else not low < 0 < high


def test_a_long_fine_block_beside_a_short_one_is_quick() -> None:
    """45 trials beside 12 in tenths by four children: p and interval of the same shuffles.

    Counted out, one took the interpreter a second; 30 of them may take a second here.
    """
    draw = random.Random(5)
    get_ready()
    began = process_time()
    for number in range(30):
        test = permute(
            [
                Stratum(
                    tuple(round(draw.gauss(300, 60), 1) for _ in range(count)),
                    tuple(round(draw.gauss(300 + 4 * number, 60), 1) for _ in range(3)),
                )
                for count in (12, 11, 11, 11)
            ]
        )
        assert test is not None
        assert Method.SHUFFLES == test.method == test.interval_method
        assert test.interval is not None
        low, high = test.interval
        assert (low <= 0 <= high) == (test.p_value > 0.05)
    assert process_time() - began < 1.0
