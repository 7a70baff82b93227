"""Sequences of merits with a known course: rising, standing still, scatter shrinking.

In: seed and number of sequences. Out: how often, and how late, a rule calls a stall.
Rising: by .15 of the scatter a trial. Flat: from the start. Plateau: twelve rising trials first,
delay counted from then. Shrinking: level flat, scatter down by 40 % over 24 trials.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from journal.analysis.dominance import cliff_delta
from journal.analysis.stall import FRESH_BEST
from journal.analysis.stall_trend import RISE, find_trend

SEED = 9300
LAST = 24
RISING_TRIALS = 12
NEVER = 999

Rule = Callable[[Sequence[float]], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Watch:
    """What a rule does."""

    #: Called within 24 trials although the mean rises.
    false_calls: float
    #: The trial at which half of the flat ones are called; and of those after a rise, how many
    #: trials after its end. Those called during the rise are left out of the latter.
    flat_delay: float
    plateau_delay: float
    flat_by_12: float
    #: Called within 12 and 24 trials where only the scatter shrinks.
    shrinking_by_12: float
    shrinking_by_24: float


def draw_courses(seed: int, count: int) -> dict[str, np.ndarray]:
    """Draw merits of each course, one row a group."""
    rng = np.random.default_rng(seed)
    steps = np.arange(LAST)
    later = np.arange(RISING_TRIALS + LAST)
    shrinking = 1 - 0.4 * steps / (LAST - 1)
    return {
        "rising": rng.normal(size=(count, LAST)) + RISE * steps,
        "flat": rng.normal(size=(count, LAST)),
        "plateau": rng.normal(size=(count, len(later))) + RISE * np.minimum(later, RISING_TRIALS),
        "shrinking": rng.normal(size=(count, LAST)) * shrinking,
    }


def shipped_rule(stricter: float = 0.0) -> Rule:
    """Return the rule of the stall watch, or a stricter or (below 0) looser one."""

    def is_stalled(merits: Sequence[float]) -> bool:
        trend = find_trend(merits, stricter=stricter)
        fresh = len(merits) - 1 - merits.index(max(merits)) < FRESH_BEST
        return trend is not None and trend.is_flat and not fresh

    return is_stalled


def plain_rule(window: int) -> Rule:
    """Return the plain rule: no new best in the window, which is no better than the one before."""

    def is_stalled(merits: Sequence[float]) -> bool:
        if len(merits) < 2 * window or len(merits) - 1 - merits.index(max(merits)) < window:
            return False
        delta = cliff_delta(merits[-2 * window : -window], merits[-window:])
        return delta is not None and delta <= 0.15

    return is_stalled


def watch(rule: Rule, courses: dict[str, np.ndarray]) -> Watch:
    """Return what a rule does on drawn courses, looked at after every trial."""
    first = {name: _first_calls(rule, rows) for name, rows in courses.items()}
    after = first["plateau"][first["plateau"] > RISING_TRIALS] - RISING_TRIALS
    return Watch(
        false_calls=float(np.mean(first["rising"] <= LAST)),
        flat_delay=float(np.median(first["flat"])),
        plateau_delay=float(np.median(after)),
        flat_by_12=float(np.mean(first["flat"] <= 12)),
        shrinking_by_12=float(np.mean(first["shrinking"] <= 12)),
        shrinking_by_24=float(np.mean(first["shrinking"] <= LAST)),
    )


def _first_calls(rule: Rule, rows: np.ndarray) -> np.ndarray:
    return np.array(
        [
            next((n for n in range(1, len(merits) + 1) if rule(merits[:n])), NEVER)
            for merits in rows.tolist()
        ]
    )


def tell_stalls(count: int) -> Iterator[str]:
    """Return the table of the report, line by line."""
    courses = draw_courses(SEED, count)
    yield f"**Stall watch** ({count} groups a course)"
    yield ""
    yield (
        "| rule | rising, called by 24 | flat: median call at | flat, called by 12 "
        "| plateau: median delay | scatter shrinks, called by 12 | by 24 |"
    )
    yield "|---" * 7 + "|"
    rules: dict[str, Rule] = {
        f"shipped, {stricter:+.2f} standard errors" if stricter else "shipped": (
            shipped_rule(stricter)
        )
        for stricter in (-0.4, -0.2, 0.0, 0.2, 0.4, 0.8)
    }
    rules |= {f"plain, windows of {window}": plain_rule(window) for window in (6, 8)}
    for name, rule in rules.items():
        one = watch(rule, courses)
        yield (
            f"| {name} | {one.false_calls:.3f} | {_told(one.flat_delay)} | {one.flat_by_12:.2f} "
            f"| {_told(one.plateau_delay)} | {one.shrinking_by_12:.2f} "
            f"| {one.shrinking_by_24:.2f} |"
        )

    yield ""
    yield (
        "The best test that knows both true models and calls a tenth of those whose scatter "
        f"shrinks by trial 12 calls {best_against_shrinking(courses):.2f} of the flat ones by then."
    )


def best_against_shrinking(courses: dict[str, np.ndarray]) -> float:
    """Return how many flat ones the best test by trial 12 calls, with a tenth of the others.

    Likelihood ratio of the two true models, level and scatter known (Neyman & Pearson 1933).
    """
    scatter = (1 - 0.4 * np.arange(LAST) / (LAST - 1))[:12]
    ratios = {
        name: (rows[:, :12] ** 2 * (1 / scatter**2 - 1) / 2 + np.log(scatter)).sum(1)
        for name, rows in courses.items()
        if name in {"flat", "shrinking"}
    }
    return float(np.mean(ratios["flat"] > np.quantile(ratios["shrinking"], 0.9)))


def _told(delay: float) -> str:
    return f"{delay:.0f}" if delay < NEVER - LAST else "later"
