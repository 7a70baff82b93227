"""How long the exact p of 20 against 20 takes, beside 10^4 shuffles of a general library.

Run: python -m tests.bench.exact_test [--short]
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Callable

import numpy as np
from scipy import stats

from journal.analysis.comparisons import compare
from journal.analysis.records import TrialRecord
from tests.bench.lines import tell

GOAL = 1.0
ROUNDS, SHORT_ROUNDS = 30, 8
POINTS = (0.0, 1.0, 2.0, 4.0, 8.0)
SHUFFLES = 10_000


def main() -> None:
    """Measure and print one line: the whole comparison, exact interval included, beside one p."""
    rounds = SHORT_ROUNDS if "--short" in sys.argv else ROUNDS
    chance = random.Random(20)
    exact, shuffled = [], []
    for _ in range(rounds):
        old = chance.choices(POINTS, weights=(3, 3, 3, 2, 1), k=20)
        new = chance.choices(POINTS, weights=(1, 2, 3, 3, 3), k=20)
        records = (_records("old", old), _records("new", new))
        exact.append(time_of(lambda pair=records: compare(*pair)))
        shuffled.append(time_of(lambda a=old, b=new: shuffle(a, b)))
    tell(
        "exact_test",
        statistics.median(exact) * 1000,
        "ms",
        limit=statistics.median(shuffled) * 1000,
        goal=GOAL,
        more_is_better=False,
    )


def shuffle(old: list[float], new: list[float]) -> None:
    """Let the library find the same p by shuffling."""
    stats.permutation_test(
        (new, old),
        lambda a, b, axis: np.mean(a, axis=axis) - np.mean(b, axis=axis),
        n_resamples=SHUFFLES,
        vectorized=True,
        rng=np.random.default_rng(1),
    )


def time_of(work: Callable[[], object]) -> float:
    """Return the seconds that some work takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _records(revision: str, values: list[float]) -> list[TrialRecord]:
    return [
        TrialRecord(order=order, revision=revision, student="", value=value)
        for order, value in enumerate(values)
    ]


if __name__ == "__main__":
    main()
