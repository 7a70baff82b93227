"""Agreement of scorers against scikit-learn, and where it is not defined."""

from __future__ import annotations

import random

import pytest
from sklearn.metrics import cohen_kappa_score

from journal.analysis.agreement import AgreementBand, AgreementReason, agree

LEVELS = (1, 2, 3, 4)


def test_kappas_agree_with_scikit_learn() -> None:
    """A thousand random pairs of scorers have scikit-learn's kappas."""
    draw = random.Random(13)
    for _ in range(1000):
        first = [draw.choice(LEVELS) for _ in range(draw.randint(5, 40))]
        second = [level if draw.random() < 0.5 else draw.choice(LEVELS) for level in first]
        if len(set(first) | set(second)) < 2:
            continue
        found = agree(first, second, LEVELS)
        for kappa, weights in (
            (found.plain, None),
            (found.linear, "linear"),
            (found.quadratic, "quadratic"),
        ):
            expected = cohen_kappa_score(first, second, labels=list(LEVELS), weights=weights)
            assert kappa == pytest.approx(expected, abs=1e-12)


def test_exact_and_adjacent_shares() -> None:
    """Of ten portfolios seven get the same level, two the next one, one is two levels apart."""
    first = [1, 2, 3, 4, 1, 2, 3, 4, 1, 2]
    second = [1, 2, 3, 4, 1, 2, 3, 3, 2, 4]
    found = agree(first, second, LEVELS)
    assert (found.count, found.exact, found.adjacent) == (10, 0.7, 0.9)
    assert found.band is AgreementBand.SUBSTANTIAL


def test_no_band_for_fewer_than_ten() -> None:
    """Nine portfolios scored twice have kappas and no words for them."""
    levels = [1, 2, 3] * 3
    found = agree(levels, levels, LEVELS)
    assert found.quadratic == 1.0
    assert found.band is None
    assert found.reasons == (AgreementReason.TOO_FEW_FOR_BAND,)


def test_without_variety_kappa_is_not_defined() -> None:
    """Both scorers gave everyone the same level: all agree, and chance would too."""
    found = agree([3] * 12, [3] * 12, LEVELS)
    assert (found.exact, found.quadratic, found.band) == (1.0, None, None)
    assert found.reasons == (AgreementReason.NOT_ENOUGH_VARIETY,)


def test_nothing_scored_twice_is_said() -> None:
    """No portfolio has two scorers."""
    assert agree([], [], LEVELS).reasons == (AgreementReason.NOTHING_SCORED_TWICE,)


def test_a_level_that_the_rubric_lacks_is_refused() -> None:
    """A fifth level is a slip of the caller."""
    with pytest.raises(ValueError, match="rubric"):
        agree([5], [1], LEVELS)
