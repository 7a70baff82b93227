"""What changed between a revision and its parent, and what else differed, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.analysis.comparability import Difference, Unlike
from journal.analysis.fairness import CanTell, FairTest, look_for_fairness
from journal.analysis.records import TrialRecord
from journal.content.teacher_words import word_for_teacher
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.findings.comparisons import describe_unlike
from journal.findings.voices import Voice, non_empty

_FOR_TEACHERS = {Difference.OWN_PART: "own_part_differs", Difference.KIND: "kind_differs"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FairWords:
    """How fair a test was."""

    fair: FairTest
    #: What changed, what else differed, how far the test reaches; in the reader's words.
    sentences: tuple[str, ...]


def find_fairness(
    state: PartState,
    revision: Revision,
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    voice: Voice,
    *,
    in_turns: bool,
) -> FairWords | None:
    """Look at a revision beside its parent; None before both have trials.

    Unless they were used in turns, practice was not the same for both, and that is said too.
    """
    if not old or not new:
        return None
    fair = look_for_fairness([change.factor for change in revision.changes], old, new)
    factors = [state.kind.find_factor(key) for key in fair.changed]
    names = [
        key if factor is None else factor.name.lower()
        for key, factor in zip(fair.changed, factors, strict=True)
    ]
    changed = voice.say("fair_changed", factors=", ".join(names)) if names else ""
    differed = [_describe(unlike, voice) for unlike in fair.unlike]
    differed.append("" if in_turns else voice.say(_order_key(old, new)))
    # With practice open, one change alone cannot tell why.
    whole = fair.can_tell is not CanTell.WHY or in_turns
    reach = voice.say(f"fair_{fair.can_tell.value}" if whole else "fair_one_change")
    return FairWords(fair=fair, sentences=non_empty(changed, *dict.fromkeys(differed), reach))


def _order_key(old: Sequence[TrialRecord], new: Sequence[TrialRecord]) -> str:
    """Return the words for how old and new followed each other, where turns were not kept."""
    orders = [[record.order for record in side] for side in (old, new)]
    first, last = sorted(orders, key=min)
    return "fair_blocks" if max(first) < min(last) else "fair_mixed"


def _describe(unlike: Unlike, voice: Voice) -> str:
    key = _FOR_TEACHERS.get(unlike.what)
    return describe_unlike(unlike, voice) if key is None else word_for_teacher(key, voice.language)
