"""How often a swap test that is judged at its looks is wrong, how often it finds a gain, how soon.

In: seed and number of groups. Out: shares and lengths. Four students in turn as the plan has it,
each at a level of its own, normal values; each look is judged as for a page. To save time the exact
test is asked only where a t test of the pairs comes near to calling.
`python -m tests.simulation.swaps --groups N` prints the table that stands in SWAPS.md.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.stats import ttest_1samp

from journal.analysis.records import TrialRecord
from journal.analysis.swap_looks import SwapCourse, find_last_look
from journal.analysis.swap_plan import plan_swap
from journal.analysis.verdicts import LEVEL
from journal.domain.outcomes import MORE_IS_BETTER
from journal.findings.swap_tests import judge_look
from tests.simulation.verdicts import FAR_FROM_CALLING

SEED = 7400
STUDENTS = ("1", "2", "3", "4")


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapCalls:
    """What became of swap tests of so many groups."""

    #: More or less said at any look; at a single look at the end, at plain .05.
    called: float
    called_once: float
    #: Mean trials a student until the first call or the end.
    length: float


def measure_swaps(gain: float, trials_each: int, seed: int, groups: int) -> SwapCalls:
    """Return how tests of `trials_each` a student end where the new one gains `gain` sd."""
    rng = np.random.default_rng(seed)
    turns = plan_swap(STUDENTS, "old", "new", trials_each)
    planned = len(turns) // 2
    called, once, lengths = 0, 0, []
    for _ in range(groups):
        levels = dict(zip(STUDENTS, rng.normal(0, 0.5, len(STUDENTS)), strict=True))
        trials = [
            TrialRecord(
                order=turn.number,
                revision=turn.uses,
                student=turn.student,
                value=float(levels[turn.student] + gain * (turn.uses == "new") + rng.normal()),
            )
            for turn in turns
        ]
        first_call = next(
            (count for count in range(1, planned + 1) if _calls(trials, count, planned)), None
        )
        called += first_call is not None
        lengths.append((first_call or planned) * 2 / len(STUDENTS))
        once += _clear(trials, LEVEL)
    return SwapCalls(
        called=called / groups, called_once=once / groups, length=float(np.mean(lengths))
    )


def _calls(trials: list[TrialRecord], count: int, planned: int) -> bool:
    """Tell whether there is a look at just `count` pairs that says more or less."""
    look = find_last_look(
        SwapCourse(
            earlier_pairs=0, pairs=count, planned_pairs=planned, number=1, is_over=count == planned
        )
    )
    if look is None or look.pairs != count:
        return False
    return _clear(trials[: 2 * count], look.level)


def _clear(trials: list[TrialRecord], level: float) -> bool:
    sides = [
        tuple(trial for trial in trials if trial.revision == revision)
        for revision in ("old", "new")
    ]
    apart = [new.value - old.value for old, new in zip(*sides, strict=True)]  # type: ignore[operator]
    if ttest_1samp(apart, 0).pvalue > FAR_FROM_CALLING:
        return False
    comparison, _, _ = judge_look.__wrapped__(sides[0], sides[1], MORE_IS_BETTER, level)
    return comparison.verdict.clear


def tell_swaps(groups: int, seed: int = SEED) -> Iterator[str]:
    """Return the table of the report, line by line."""
    yield "| gain, trials a student | called at any look | one look at .05 | mean length |"
    yield "|---" * 4 + "|"
    for place, (gain, each) in enumerate([(0.0, 12), (0.0, 4), (1.0, 12), (1.0, 8), (1.0, 4)]):
        found = measure_swaps(gain, each, seed + place, groups)
        yield (
            f"| {gain:g} sd, {each} | {found.called:.3f} | {found.called_once:.3f} "
            f"| {found.length:.1f} |"
        )


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--groups", type=int, default=1000)
    for line in tell_swaps(parser.parse_args().groups):
        print(line, flush=True)  # noqa: T201 - a report


if __name__ == "__main__":
    main()
