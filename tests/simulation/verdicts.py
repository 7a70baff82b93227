"""How often verdicts on running data are wrong, and intervals miss, where nothing differs.

In: seed and number of groups. Out: shares. Four children in turn, each at a level of its own;
values are normal, or zone points. Old trials come first; each look is asked through the same door
as a page asks. To save time the exact test is asked only where a t test comes near to calling.
`python -m tests.simulation.verdicts --groups N --write` writes VERDICTS.md beside this file.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.stats import ttest_ind

from journal.analysis.comparisons import compare
from journal.analysis.looks import LIVE_STEPS, find_looks
from journal.analysis.records import TrialRecord
from journal.analysis.verdicts import Verdict

SEED = 7300
RESULTS = Path(__file__).with_name("VERDICTS.md")
LINE = "<!-- Everything below this line is written by the report. -->"
CHILDREN = 4
#: A t test above this never goes along with a permutation test at any level of a look.
FAR_FROM_CALLING = 0.15
#: Zones: distance from the aim point, in standard deviations, up to which points are given.
_ZONES = ((0.7, 8.0), (1.4, 4.0), (2.3, 2.0), (3.5, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningCell:
    """A way in which running data come in."""

    #: Old trials before the first new one; None: old and new in turn up to 48 each.
    old_n: int | None
    points: bool = False
    gain: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadCell:
    """Finished data of sides that scatter unequally."""

    old_n: int
    new_n: int
    old_sd: float
    new_sd: float
    children: int = 2


RUNNING = {
    "old stays at 12": RunningCell(old_n=12),
    "old stays at 30": RunningCell(old_n=30),
    "old stays at 48": RunningCell(old_n=48),
    "both grow": RunningCell(old_n=None),
    "old stays at 12, zone points": RunningCell(old_n=12, points=True),
    "old stays at 30, zone points": RunningCell(old_n=30, points=True),
    "both grow, gain of 1 sd": RunningCell(old_n=None, gain=1.0),
    "old stays at 30, gain of 1 sd": RunningCell(old_n=30, gain=1.0),
}
SPREAD = {
    "12 with sd 10, 4 with sd 30": SpreadCell(old_n=12, new_n=4, old_sd=10, new_sd=30),
    "12 with sd 10, 6 with sd 25": SpreadCell(old_n=12, new_n=6, old_sd=10, new_sd=25),
    "30 with sd 10, 12 with sd 25": SpreadCell(old_n=30, new_n=12, old_sd=10, new_sd=25),
    "12 with sd 10, 12 with sd 25": SpreadCell(old_n=12, new_n=12, old_sd=10, new_sd=25),
    "12 and 12 with sd 10": SpreadCell(old_n=12, new_n=12, old_sd=10, new_sd=10),
}


def find_calls(cell: RunningCell, seed: int, groups: int) -> np.ndarray:
    """Return by group the step at which a difference was first called; 0 where never."""
    rng = np.random.default_rng(seed)
    called = np.zeros(groups, dtype=int)
    for group in range(groups):
        old, new = _draw_running(cell, rng)
        for look in find_looks(old, new, LIVE_STEPS):
            had = [[trial for trial in side if trial.order <= look.order] for side in (old, new)]
            if not _comes_near(*had):
                continue
            if compare(*had, steps=LIVE_STEPS).verdict.clear:
                called[group] = look.step
                break
    return called


def _comes_near(old: list[TrialRecord], new: list[TrialRecord]) -> bool:
    """Tell whether a t test within children comes anywhere near to calling."""
    sides = [_within_children(old, new, side) for side in (0, 1)]
    if np.ptp([*sides[0], *sides[1]]) == 0:
        return False
    return bool(ttest_ind(*sides).pvalue < FAR_FROM_CALLING)


def _within_children(old: list[TrialRecord], new: list[TrialRecord], side: int) -> list[float]:
    means = {
        child: np.mean([trial.value for trial in (*old, *new) if trial.student == child])
        for child in {trial.student for trial in (*old, *new)}
    }
    return [float((trial.value or 0.0) - means[trial.student]) for trial in (old, new)[side]]


def _draw_running(
    cell: RunningCell, rng: np.random.Generator
) -> tuple[list[TrialRecord], list[TrialRecord]]:
    last = LIVE_STEPS[-1]
    levels = rng.normal(0, 0.5, CHILDREN)
    old_n = cell.old_n or last
    in_turn = cell.old_n is None
    old = [
        _trial("old", 2 * k if in_turn else k, k, levels, cell, rng, lift=0.0) for k in range(old_n)
    ]
    new = [
        _trial("new", 2 * k + 1 if in_turn else old_n + k, k, levels, cell, rng, lift=cell.gain)
        for k in range(last)
    ]
    return old, new


def _trial(
    revision: str,
    order: int,
    turn: int,
    levels: np.ndarray,
    cell: RunningCell,
    rng: np.random.Generator,
    *,
    lift: float,
) -> TrialRecord:
    child = turn % CHILDREN
    if cell.points:
        away = float(np.hypot(*rng.normal(0, 1 + abs(levels[child]) / 2, 2)))
        value = next((points for edge, points in _ZONES if away < edge), 0.0)
    else:
        value = float(levels[child] + lift + rng.normal())
    return TrialRecord(order=order, revision=revision, student=str(child), value=value)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadShares:
    """What becomes of sides that scatter unequally and do not differ."""

    verdicts: float
    plain_covers: float
    unequal_covers: float


def measure_spread(cell: SpreadCell, seed: int, groups: int) -> SpreadShares:
    """Return how often more or less is said, and how often each interval holds no difference."""
    rng = np.random.default_rng(seed)
    clear, plain, unequal = 0, 0, 0
    for _ in range(groups):
        levels = rng.normal(0, 10, cell.children)
        sides = []
        for name, count, sd in (("old", cell.old_n, cell.old_sd), ("new", cell.new_n, cell.new_sd)):
            values = levels[np.arange(count) % cell.children] + rng.normal(0, sd, count)
            sides.append(
                [
                    TrialRecord(
                        order=k + (cell.old_n if name == "new" else 0),
                        revision=name,
                        student=str(k % cell.children),
                        value=round(float(value)),
                    )
                    for k, value in enumerate(values)
                ]
            )
        found = compare(*sides)
        clear += found.verdict in {Verdict.MORE, Verdict.LESS}
        plain += _holds(found.interval)
        unequal += _holds(found.interval_unequal)
    return SpreadShares(
        verdicts=clear / groups, plain_covers=plain / groups, unequal_covers=unequal / groups
    )


def _holds(interval: tuple[float, float] | None) -> bool:
    return interval is None or interval[0] <= 0 <= interval[1]


def tell_verdicts(groups: int, seed: int = SEED) -> Iterator[str]:
    """Return the tables of the report, line by line."""
    yield f"**Running looks** ({groups} groups a cell; more or less called by each step)"
    yield ""
    yield "| trials come in | " + " | ".join(str(step) for step in LIVE_STEPS) + " |"
    yield "|---" * (1 + len(LIVE_STEPS)) + "|"
    for place, (name, cell) in enumerate(RUNNING.items()):
        called = find_calls(cell, seed + place, groups)
        shares = [float(np.mean((called > 0) & (called <= step))) for step in LIVE_STEPS]
        yield f"| {name} | " + " | ".join(f"{share:.3f}" for share in shares) + " |"
    yield ""
    yield f"**Unequal scatter** ({groups} groups a cell, no difference, two children)"
    yield ""
    yield "| old, new | more or less said | `interval` covers | `interval_unequal` covers |"
    yield "|---" * 4 + "|"
    for place, (name, spread_cell) in enumerate(SPREAD.items()):
        found = measure_spread(spread_cell, seed + 100 + place, groups)
        yield (
            f"| {name} | {found.verdicts:.3f} | {found.plain_covers:.3f} "
            f"| {found.unequal_covers:.3f} |"
        )


def main() -> None:
    """Print the tables, or write them below the line in VERDICTS.md."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--groups", type=int, default=2000)
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args()
    lines = list(tell_verdicts(asked.groups))
    if not asked.write:
        print("\n".join(lines))  # noqa: T201 - a report
        return
    above = RESULTS.read_text("utf-8").partition(LINE)[0]
    RESULTS.write_text("\n".join([above + LINE, "", *lines, ""]), encoding="utf-8")


if __name__ == "__main__":
    main()
