"""Was it a fair test? What was changed on purpose, and what else was not the same.

Comes in: the names of the factors changed between a revision and its parent, and the records of
both. Goes out: what the comparison can tell: why, only if, or not even that. Several changes at a
time are welcome; they only leave open which of them did it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from journal.analysis.comparability import Unlike, differences_between
from journal.analysis.records import TrialRecord


class CanTell(StrEnum):
    """How far the comparison reaches."""

    #: One factor was changed and nothing else was different: what is seen is its doing.
    WHY = "why"
    #: It can show whether the change helped, not why.
    IF_NOT_WHY = "if_not_why"
    #: Nothing was changed on purpose: what is seen is chance, practice or use.
    NO_CHANGE = "no_change"
    #: Tested under conditions that cannot be compared.
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class FairTest:
    """What was changed, what else differed, and what the comparison can show."""

    changed: tuple[str, ...]
    unlike: tuple[Unlike, ...]
    can_tell: CanTell


def look_for_fairness(
    changed: Sequence[str], old: Sequence[TrialRecord], new: Sequence[TrialRecord]
) -> FairTest:
    """Return what a comparison of parent (old) and revision (new) can show.

    `changed` holds the keys of the factors that were changed on purpose.
    """
    factors = tuple(dict.fromkeys(changed))
    unlike = differences_between(old, new)
    return FairTest(changed=factors, unlike=unlike, can_tell=_reach(factors, unlike))


def _reach(factors: Sequence[str], unlike: Sequence[Unlike]) -> CanTell:
    if any(difference.what.forbids for difference in unlike):
        return CanTell.NOTHING
    if not factors:
        return CanTell.NO_CHANGE
    return CanTell.WHY if len(factors) == 1 and not unlike else CanTell.IF_NOT_WHY
