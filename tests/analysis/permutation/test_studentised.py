"""The studentised permutation test."""

import random
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import permutation_test, ttest_ind

from journal.analysis.permutation.strata import Stratum
from journal.analysis.permutation.studentised import studentised_share
from tests.analysis.trial_records import strata


def _welch(old: np.ndarray, new: np.ndarray, axis: int = -1) -> np.ndarray:
    """Return the difference of means over its standard error; huge where there is none."""
    apart = new.mean(axis=axis) - old.mean(axis=axis)
    variance = (
        new.var(axis=axis, ddof=1) / new.shape[axis]
        + old.var(axis=axis, ddof=1) / (old.shape[axis])
    )
    ratio = np.abs(apart) / np.sqrt(np.where(variance > 1e-9, variance, 1.0))
    return np.where(variance > 1e-9, ratio, np.where(np.abs(apart) > 1e-9, 1e9, 0.0))


def test_it_is_that_of_scipy() -> None:
    """`scipy.stats.permutation_test` with Welch's statistic, exact, on 300 random tables."""
    draw = random.Random(31)
    for _ in range(300):
        sizes = draw.randint(2, 5), draw.randint(2, 5)
        old, new = (
            [float(draw.randint(0, 9)) * draw.choice([1, 1, 3]) for _ in range(size)]
            for size in sizes
        )
        expected = permutation_test(
            (old, new), _welch, vectorized=True, n_resamples=np.inf, alternative="greater"
        ).pvalue
        found = studentised_share([Stratum(tuple(old), tuple(new))])
        assert pytest.approx(expected, abs=1e-12) == found


def _by_hand(groups: list[Stratum]) -> float:
    """Write out every deal within every student, with the scatter of each side pooled."""
    from itertools import combinations  # noqa: PLC0415

    deals = []
    for stratum in groups:
        pool = (*stratum.old, *stratum.new)
        own = []
        for chosen in combinations(range(len(pool)), len(stratum.new)):
            new = [pool[place] for place in chosen]
            own.append(([v for place, v in enumerate(pool) if place not in chosen], new))
        deals.append(own)

    def square(deal: tuple[tuple[list[float], list[float]], ...]) -> float:
        weights = [len(old) * len(new) / (len(old) + len(new)) for old, new in deal]
        apart = sum(
            w * (np.mean(new) - np.mean(old)) for w, (old, new) in zip(weights, deal, strict=True)
        )
        variance = 0.0
        for side in (0, 1):
            freedom = sum(len(both[side]) - 1 for both in deal)
            squares = sum(float(np.var(both[side])) * len(both[side]) for both in deal)
            variance += (
                squares
                / freedom
                * sum(w * w / len(both[side]) for w, both in zip(weights, deal, strict=True))
            )
        if variance < 1e-9:
            return 1e18 if abs(apart) > 1e-9 else 0.0
        return float(apart * apart / variance)

    seen = square(tuple((list(stratum.old), list(stratum.new)) for stratum in groups))
    out = [square(deal) for deal in product(*deals)]
    return sum(value >= seen * (1 - 1e-9) for value in out) / len(out)


def test_several_students_are_dealt_within_each() -> None:
    """Two students with unequal turns, every deal written out here."""
    groups = [Stratum((1.0, 4.0, 2.0), (3.0, 9.0)), Stratum((2.0, 2.0), (8.0, 1.0, 7.0))]
    assert pytest.approx(_by_hand(groups), abs=1e-12) == studentised_share(groups)


def test_shuffles_come_near_the_exact_share() -> None:
    """Too many deals to list: within four standard errors of many more deals drawn by numpy."""
    draw = np.random.default_rng(3)
    old, new = draw.normal(0, 1, 12), draw.normal(0.9, 3, 9)
    many = permutation_test(
        (old, new), _welch, vectorized=True, n_resamples=40_000, alternative="greater", rng=draw
    ).pvalue
    found = studentised_share([Stratum(tuple(old.tolist()), tuple(new.tolist()))])
    assert found is not None
    assert abs(many - found) < 4 * (many * (1 - many) * (1 / 40_000 + 1 / 9_999)) ** 0.5


def test_without_two_values_a_side_students_stand_for_the_scatter() -> None:
    """One trial of each child with each: flipping pairs; one child alone cannot tell."""
    pairs = [Stratum((float(k),), (float(k) + 2 + k % 2,)) for k in range(5)]
    assert pytest.approx(2 / 32) == studentised_share(pairs)
    assert studentised_share([Stratum((1.0, 2.0, 1.0), (9.0,))]) is None
    assert studentised_share([]) is None


def test_very_many_trials_are_as_good_as_normal() -> None:
    """Above 300 values: Welch's p-value of SciPy, and no time to speak of for ten thousand."""
    draw = np.random.default_rng(4)
    old, new = draw.normal(0, 1, 5_000), draw.normal(0.05, 2, 5_000)
    found = studentised_share([Stratum(tuple(old.tolist()), tuple(new.tolist()))])
    assert pytest.approx(ttest_ind(old, new, equal_var=False).pvalue, abs=1e-3) == found


@settings(max_examples=40, deadline=None)
@given(strata(most=4, students=3), st.randoms(use_true_random=False))
def test_order_and_side_change_nothing(groups: list[Stratum], mix: random.Random) -> None:
    """Students and trials in any order, old and new exchanged: the same share."""
    turned = [
        Stratum(
            tuple(mix.sample(stratum.new, len(stratum.new))),
            tuple(mix.sample(stratum.old, len(stratum.old))),
        )
        for stratum in groups
    ]
    mix.shuffle(turned)
    there, back = studentised_share(groups), studentised_share(turned)
    if there is None:
        assert back is None
    else:
        assert pytest.approx(there, abs=1e-9) == back
