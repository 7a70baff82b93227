"""Another sign that a group may be stuck: going back and forth.

In: trials in order. Out: how often the group returned to a revision it had left. Silence while
testing is found by `domain.needs`, which knows the clock.
"""

from __future__ import annotations

from collections.abc import Sequence

from journal.analysis.records import TrialRecord, in_order

#: A group goes back and forth when this many of its changes led to a revision left before.
MOST_RETURNS = 2


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
