"""Comparison of two revisions: by blocks of trials, or by a swap test where there is one.

Comes in: records, or a pair of revisions. Goes out: the comparison that speaks, and its sentences.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from journal.analysis.compare import Comparison
from journal.analysis.comparisons import compare_revisions
from journal.analysis.records import TrialRecord, measured_values
from journal.analysis.verdicts import Verdict
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import Direction
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.findings.comparisons import (
    ShownTrials,
    describe_comparison,
    describe_figures,
    open_comparison,
)
from journal.findings.swap_tests import SwapJudgement, judge_pair
from journal.findings.voices import Voice

#: Sentences that a short text of a comparison has, where there are so many.
_SHORTEST = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionPair:
    """A revision of a part and the one that it is set beside."""

    state: PartState
    old: Revision | None
    new: Revision
    #: All trials that a page shows of each revision of the part, by label.
    trials: Mapping[str, Sequence[TrialRecord]]

    def count_shown(self, comparison: Comparison) -> ShownTrials:
        """Count the trials with a value that a page shows of both."""
        sides = (comparison.old, comparison.new)
        by_side = [self.trials.get(side, ()) for side in sides]
        old, new = (len(measured_values(trials)) for trials in by_side)
        return ShownTrials(old=old, new=new, differ=_differ(*by_side))


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """The comparison that speaks, its sentences, and its figures in words."""

    comparison: Comparison | None
    sentences: tuple[str, ...]
    figures: tuple[str, ...]
    #: How many of the sentences a short text needs: no number without what explains it.
    opening: int = 0


@lru_cache(maxsize=256)
def compare_shown(
    records: tuple[TrialRecord, ...],
    direction: Direction,
    parents: tuple[tuple[str, tuple[str, ...]], ...],
    steps: tuple[int, ...] | None,
) -> tuple[Comparison, ...]:
    """Compare once for the same trials, however often a screen asks."""
    return compare_revisions(records, direction, dict(parents), steps)


def set_pair_beside(
    pair: RevisionPair, comparison: Comparison | None, record: GroupRecord, voice: Voice
) -> Beside:
    """Let blocks of trials speak, or a swap test where there is one."""
    swapped = _find_swapped(record, pair, voice)
    opening = _SHORTEST
    if swapped is None:
        shown = None if comparison is None else pair.count_shown(comparison)
        outcome = record.context.challenge.outcome
        sentences = describe_comparison(comparison, outcome, voice, shown)
        if comparison is not None:
            opening = max(opening, len(open_comparison(comparison, outcome, voice, shown)))
    else:
        # Pairs of a swap test rule practice out, so they speak instead of the blocks.
        comparison, sentences = swapped.comparison, swapped.sentences
    return Beside(
        comparison=comparison,
        sentences=sentences,
        figures=describe_figures(comparison, voice),
        opening=opening,
    )


def _differ(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> bool:
    """Tell whether the values of a student who used both are not all the same."""
    values: dict[str | None, set[float]] = {}
    for trial in (*old, *new):
        values.setdefault(trial.student, set()).update(measured_values([trial]))
    both = {trial.student for trial in old} & {trial.student for trial in new}
    return any(len(values[student]) > 1 for student in both)


def _find_swapped(record: GroupRecord, pair: RevisionPair, voice: Voice) -> SwapJudgement | None:
    """Return what swap tests say of two revisions; below three pairs nothing."""
    if pair.old is None:
        return None
    judged = judge_pair(record, pair.state, pair.old, pair.new, voice)
    comparison = None if judged is None else judged.comparison
    if comparison is None or comparison.verdict is Verdict.TOO_EARLY:
        return None
    return judged
