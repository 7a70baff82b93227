"""Published checks of summaries, comparisons and trends: small wraps around our functions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from statistics import NormalDist
from typing import Any

from journal.analysis.alpha_spending import Spending, levels_of
from journal.analysis.descriptive import lag_one_of, mad_of, mean_of, sd_of
from journal.analysis.dominance import hodges_lehmann
from journal.analysis.misfires import fisher_p
from journal.analysis.permutation.permute import PermutationTest, permute
from journal.analysis.permutation.shift_rows import list_deals
from journal.analysis.permutation.strata import Stratum, lay_out
from journal.analysis.practice import Practice, practice_of
from journal.analysis.stall import chance_of_no_best
from journal.analysis.summary import summarise, wilson_interval


def _numacc(first: float, low: float, high: float, pairs: int) -> dict[str, float | None]:
    """Return the three certified figures of one value followed by pairs of two."""
    values = [first, *[low, high] * pairs]
    return {"mean": mean_of(values), "sd": sd_of(values), "lag_one": lag_one_of(values)}


def _tested(old: Sequence[float], new: Sequence[float]) -> PermutationTest:
    test = permute([Stratum(tuple(old), tuple(new))])
    assert test is not None
    return test


def _raw_p_values(old: Sequence[float], new: Sequence[float]) -> dict[str, float]:
    """Return the two-sided p-value and both one-sided ones, by writing out every deal."""
    layout = lay_out([Stratum(tuple(old), tuple(new))])
    assert layout is not None
    sums = [total for _, row in list_deals(layout).rows for total in row]
    test = _tested(old, new)
    return {
        "difference": test.difference,
        "two_sided": test.p_value,
        "lower": sum(total <= layout.observed for total in sums) / len(sums),
        "upper": sum(total >= layout.observed for total in sums) / len(sums),
    }


def _rank_p_values(old: Sequence[float], new: Sequence[float]) -> dict[str, float]:
    """Return the same with mid-ranks in place of the values."""
    pool = sorted([*old, *new])

    def rank(value: float) -> float:
        return pool.index(value) + (pool.count(value) + 1) / 2

    return _raw_p_values([rank(value) for value in old], [rank(value) for value in new])


def _flipped_pairs(old: Sequence[float], new: Sequence[float]) -> dict[str, float]:
    """Count the sign flips with a sum of differences above, and equal to, the one seen."""
    pairs = [Stratum((a,), (b,)) for a, b in zip(old, new, strict=True)]
    layout = lay_out(pairs)
    test = permute(pairs)
    assert layout is not None
    assert test is not None
    sums = [total for _, row in list_deals(layout).rows for total in row]
    return {
        "greater": sum(total > layout.observed for total in sums),
        "equal": sum(total == layout.observed for total in sums),
        "of": len(sums),
        "difference": test.difference,
    }


def _smallest_p(sizes: Sequence[Sequence[int]]) -> float:
    """Return the smallest p-value of strata of these sizes, all values different."""
    strata = []
    for place, (old, new) in enumerate(sizes):
        values = [2.0 ** (place * 12 + step) for step in range(old + new)]
        strata.append(Stratum(tuple(values[:old]), tuple(values[old:])))
    test = permute(strata)
    assert test is not None
    return test.smallest_p


def _gap_in_mads(a: Sequence[float], b: Sequence[float]) -> float:
    """Return the distance of two means in mean absolute deviations of the first set."""
    mean_a, mean_b, mad = mean_of(a), mean_of(b), mad_of(a)
    assert mean_a is not None
    assert mean_b is not None
    assert mad is not None
    return (mean_b - mean_a) / mad


def _trend(values: Sequence[float]) -> Practice:
    """Return the trend over values in order, of one student."""
    return practice_of([list(enumerate(values, start=1))])


def _kendall(x: Sequence[float], y: Sequence[float]) -> Any:
    """Return the trend of y in the order of x, x without ties."""
    return _trend([b for _, b in sorted(zip(x, y, strict=True))])


def _spending_bounds(looks: int, spending: str) -> list[float]:
    """Return the bounds of equally spaced looks, two-sided .05, as z."""
    fractions = tuple((look + 1) / looks for look in range(looks))
    levels = levels_of(fractions, 0.05, Spending(spending))
    return [NormalDist().inv_cdf(1 - level / 2) for level in levels]


def _expected_records(n: int) -> float:
    """Return how many of n are new bests on average, from the chance that the last is none."""
    return float(sum(1 - Fraction(chance_of_no_best(i, 1)) for i in range(1, n + 1)))


STATISTICS: dict[str, Callable[..., Any]] = {
    "mean": mean_of,
    "sd": sd_of,
    "lag_one": lag_one_of,
    "numacc": _numacc,
    "summary": summarise,
    "gap_in_mads": _gap_in_mads,
    "wilson_interval": wilson_interval,
    "raw_p_values": _raw_p_values,
    "rank_p_values": _rank_p_values,
    "flipped_pairs": _flipped_pairs,
    "smallest_p": _smallest_p,
    "hodges_lehmann": hodges_lehmann,
    "kendall": _kendall,
    "rising_p": lambda values: _trend(values).rising_p,
    "expected_records": _expected_records,
    "chance_of_no_best": chance_of_no_best,
    "spending_bounds": _spending_bounds,
    "fisher_p": fisher_p,
}
