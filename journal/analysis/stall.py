"""Has the group stalled? A plain rule that opens the question ladder, with its reason.

Comes in: the group's records in order and what else is known. Goes out: `Stall`, a key and figures.

Notes: measured on invented groups (tests/simulation/STALLS.md). What a call saw is in the figures:
the trials of the last look, the slope, and since when there was no new best.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from journal.analysis.records import TrialRecord, by_revision, in_order, measured_values
from journal.analysis.stall_course import course_of
from journal.analysis.stall_trend import find_trend
from journal.domain.classes import GradeBand
from journal.domain.outcomes import Direction

#: Trials in which reliability and the top are looked at, by band; two calls are half as many apart.
#: In grade 2 revisions are counted, as with destructive tests.
WINDOWS = {GradeBand.THREE_TO_FIVE: 6, GradeBand.SIX_TO_EIGHT: 8}
REVISIONS_WITHOUT_BEST = 3
#: This share of the window at the best there is, is the top.
TOP_SHARE = 2 / 3
LEAST_RELIABILITY = 0.5


class StallReason(StrEnum):
    """Why a group is, or is not, called stalled."""

    NO_NEW_BEST = "no_new_best"
    NO_NEW_BEST_IN_REVISIONS = "no_new_best_in_revisions"
    UNRELIABLE = "unreliable"
    SAME_ANSWER = "same_answer"
    #: Not stalled.
    MOVING = "moving"
    TOO_EARLY = "too_early"
    CRITERION_MET = "criterion_met"
    AT_THE_TOP = "at_the_top"
    CALLED_LATELY = "called_lately"
    #: Working it out failed.
    NOT_WORKED_OUT = "not_worked_out"

    @property
    def stalled(self) -> bool:
        """Tell whether the reason is one to offer the next question."""
        return self in {
            StallReason.NO_NEW_BEST,
            StallReason.NO_NEW_BEST_IN_REVISIONS,
            StallReason.UNRELIABLE,
            StallReason.SAME_ANSWER,
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Stall:
    """Whether to offer the next question, and the figures that say so."""

    reason: StallReason
    #: Trials, or revisions in grade 2 and with destructive tests, that were looked at.
    window: int
    #: How long ago the best so far was had, in the same count; None before there is one.
    since_best: int | None = None
    #: The trials that the level was looked at over; None before the first look.
    looked_at: int | None = None
    #: Rise of the level a trial within children, in units of the scatter, and the slope below which
    #: it is flat.
    slope: float | None = None
    bound: float | None = None
    misfires: int = 0
    #: How probable it is to see no new best for that long by chance, with nothing changing.
    by_chance: float | None = None

    @property
    def stalled(self) -> bool:
        """Tell whether the group has stalled."""
        return self.reason.stalled


@dataclass(frozen=True, slots=True, kw_only=True)
class StallContext:
    """What else is known about the group when it is looked at."""

    band: GradeBand
    direction: Direction
    destructive: bool = False
    criterion_met: bool = False
    #: The best outcome there can be, where there is one.
    top_value: float | None = None
    same_answer_twice: bool = False
    #: Trials the group had logged when it was last called stalled.
    called_at: int | None = None


def find_stall(records: Sequence[TrialRecord], context: StallContext) -> Stall:
    """Return whether a group has stalled, from all its trials so far.

    `context` holds what else counts: band, goal, what was answered before.
    """
    ordered = in_order(records)
    by_revisions = context.destructive or context.band is GradeBand.TWO
    window = REVISIONS_WITHOUT_BEST if by_revisions else WINDOWS[context.band]
    quiet = _reason_for_quiet(ordered, context, window)
    if quiet is not None:
        return Stall(reason=quiet, window=window)
    if context.same_answer_twice:
        return Stall(reason=StallReason.SAME_ANSWER, window=window)
    if by_revisions:
        return _by_revisions(ordered, context.direction, window)
    return _by_trials(ordered, context.direction, window)


def _reason_for_quiet(
    ordered: Sequence[TrialRecord], context: StallContext, window: int
) -> StallReason | None:
    if context.criterion_met:
        return StallReason.CRITERION_MET
    last = measured_values(ordered)[-window:]
    at_top = sum(value == context.top_value for value in last)
    if len(last) == window and at_top >= TOP_SHARE * window:
        return StallReason.AT_THE_TOP
    if context.called_at is not None and 2 * (len(ordered) - context.called_at) < window:
        return StallReason.CALLED_LATELY
    return None


def _by_trials(ordered: Sequence[TrialRecord], direction: Direction, window: int) -> Stall:
    recent = ordered[-window:]
    misfires = sum(1 for record in recent if record.misfire is not None)
    if len(recent) == window and misfires > window * (1 - LEAST_RELIABILITY):
        return Stall(reason=StallReason.UNRELIABLE, window=window, misfires=misfires)
    merits = [direction.merit(value) for value in measured_values(ordered)]
    since_best = _since_best(merits)
    trend = find_trend(course_of(ordered, direction))
    if trend is None:
        return Stall(
            reason=StallReason.TOO_EARLY, window=window, since_best=since_best, misfires=misfires
        )
    # A new best after the look takes the call back until the next one.
    better_since = max(merits) > max(merits[: trend.look])
    return Stall(
        reason=StallReason.NO_NEW_BEST
        if trend.is_flat and not better_since
        else StallReason.MOVING,
        window=window,
        looked_at=trend.trials,
        since_best=since_best,
        slope=trend.slope,
        bound=trend.bound,
        misfires=misfires,
        by_chance=chance_of_no_best(len(merits), min(since_best or 0, len(merits))),
    )


def _by_revisions(ordered: Sequence[TrialRecord], direction: Direction, window: int) -> Stall:
    bests = [
        max(direction.merit(value) for value in values)
        for own in by_revision(ordered).values()
        if (values := measured_values(own))
    ]
    since_best = _since_best(bests)
    if len(bests) <= window:
        return Stall(reason=StallReason.TOO_EARLY, window=window, since_best=since_best)
    still = since_best is not None and since_best >= window
    return Stall(
        reason=StallReason.NO_NEW_BEST_IN_REVISIONS if still else StallReason.MOVING,
        window=window,
        since_best=since_best,
        by_chance=chance_of_no_best(len(bests), window),
    )


def chance_of_no_best(n: int, last: int) -> float:
    """Return the probability that none of the `last` of `n` trials is a new best by chance.

    Without a trend the best is equally likely to be any of them (no two alike).
    """
    return (n - last) / n


def _since_best(merits: Sequence[float]) -> int | None:
    """Return how many came after the first one that was as good as the best."""
    if not merits:
        return None
    return len(merits) - 1 - merits.index(max(merits))
