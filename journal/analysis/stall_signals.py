"""Other signs that a group may be stuck: going back and forth, and silence while others test.

In: revisions in the order they were used, or minutes since the last trial. Out: yes or no, figures.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from journal.analysis.records import TrialRecord, in_order

#: A group goes back and forth when this many of its changes led to a revision left before.
MOST_RETURNS = 2
#: Silence is a sign from this many minutes on, and only where it is this many times as long as the
#: middle one of the other groups that test. Common practice, no source.
QUIET_MINUTES = 8.0
QUIET_TIMES = 3.0


def count_returns(records: Sequence[TrialRecord]) -> int:
    """Count the changes that led back to a revision used and left before; planned swaps count too.

    The caller leaves out the trials of a swap test, where changing back is the plan.
    """
    used: list[str] = []
    for record in in_order(records):
        if not used or used[-1] != record.revision:
            used.append(record.revision)
    return sum(revision in used[:at] for at, revision in enumerate(used))


def goes_back_and_forth(records: Sequence[TrialRecord]) -> bool:
    """Tell whether a group keeps returning to revisions that it had left."""
    return count_returns(records) >= MOST_RETURNS


def is_quiet(own_minutes: float | None, other_minutes: Sequence[float]) -> bool:
    """Tell whether a group has tested nothing for long while others test.

    Minutes since the last trial; None for a group without a trial, which has its own reasons.
    """
    testing = [minutes for minutes in other_minutes if minutes < QUIET_MINUTES]
    if own_minutes is None or not testing:
        return False
    return own_minutes >= QUIET_MINUTES and own_minutes >= QUIET_TIMES * median(testing)
