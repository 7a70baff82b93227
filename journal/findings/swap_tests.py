"""Results of swap tests in the band's words.

Comes in: a GroupRecord. Goes out: sentences, and the comparison that a swap test settles. A running
test is judged at a few planned looks, and the last verdict stands until the next, so that nobody
stops at a lucky moment. A pair of devices tested again is judged on all its pairs. All looks of
all tests of a pair share the level of .05 (`analysis.swap_looks`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from uuid import UUID

from journal.analysis.comparability import differences_between
from journal.analysis.compare import Basis, Comparison
from journal.analysis.comparisons import compare
from journal.analysis.dominance import PairCounts
from journal.analysis.exchange_comparison import ExchangePair, find_exchange
from journal.analysis.failures import work_out
from journal.analysis.records import TrialRecord
from journal.analysis.swap_comparison import (
    MOST_MORE_PAIRS,
    MorePairs,
    SwapFinding,
    find_more_pairs,
    find_swap,
)
from journal.analysis.swap_looks import count_pairs_to_next_look, find_last_look
from journal.analysis.verdicts import LEAST_TRIALS, LEVEL, PracticeWord, Verdict, judge
from journal.content.bands import which_measures
from journal.content.texts import key_of
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import Direction, DirectionKind
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.domain.swap_tests import SwapKind, SwapTest
from journal.findings.comparisons import (
    choose_verdict,
    describe_difference,
    describe_misfires,
    goes_against_pairs,
)
from journal.findings.swap_pairs import SwapPair, pairs_of, pooled_pairs, records_of_pairs
from journal.findings.trial_records import label_revision
from journal.findings.voices import Voice, non_empty, voice_of


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapJudgement:
    """What the swap tests of two revisions say together."""

    sentences: tuple[str, ...]
    #: None where no pair is whole, before the first look, or where the turns were not kept.
    comparison: Comparison | None = None
    #: When a running test is judged next; "" where it is not.
    next_look: str = ""


def judge_swap_test(
    record: GroupRecord, swap_test: SwapTest, band: GradeBand | None = None
) -> SwapJudgement:
    """Return what a swap test says: at its last look while it runs, and when the next look is."""
    school_class = record.context.school_class
    voice = voice_of(school_class)
    if band is not None:
        voice = replace(voice, band=band, measures=which_measures(band))
    if swap_test.kind is SwapKind.OWN_PARTS:
        exchanged = _exchange(record, swap_test, voice) if swap_test.is_over else ()
        return SwapJudgement(sentences=exchanged)
    old = record.find_revision(swap_test.old_revision_id or swap_test.id)
    new = record.find_revision(swap_test.new_revision_id or swap_test.id)
    if old is None or new is None:
        return SwapJudgement(sentences=())
    judged = judge_pair(record, new[0], old[1], new[1], voice, until=swap_test)
    if swap_test.is_over:
        return judged or SwapJudgement(sentences=non_empty(voice.say("swap_no_pairs")))
    _, course = pooled_pairs(record, old[1].id, new[1].id, swap_test)
    ahead = None if course is None else count_pairs_to_next_look(course)
    if judged is not None and judged.comparison is not None and judged.comparison.verdict.clear:
        words = voice.say("swap_may_stop")
    else:
        words = "" if ahead is None else voice.say("swap_next_look", n=ahead)
    return replace(judged or SwapJudgement(sentences=()), next_look=words)


def judge_pair(
    record: GroupRecord,
    state: PartState,
    old: Revision,
    new: Revision,
    voice: Voice,
    until: SwapTest | None = None,
) -> SwapJudgement | None:
    """Return what the swap tests of two revisions of a part say; None before the first look."""
    pairs, course = pooled_pairs(record, old.id, new.id, until)
    look = None if course is None else find_last_look(course)
    if course is None or look is None:
        return None
    pairs = pairs[: look.pairs]
    before, after = records_of_pairs(record, state, pairs)
    direction = record.context.challenge.outcome.direction
    judged = work_out(
        "a swap test", lambda: judge_look(tuple(before), tuple(after), direction, look.level), None
    )
    if judged is None:
        return SwapJudgement(sentences=non_empty(voice.say("cannot_say")))
    comparison, finding, more = judged
    if not course.is_over:
        # When the next look is says more than how many pairs might tell.
        more = None
    if not finding.in_turns:
        return SwapJudgement(sentences=non_empty(voice.say("swap_turns_lost")))
    named = replace(comparison, old=label_revision(state, old), new=label_revision(state, new))
    return SwapJudgement(
        sentences=_describe(record, pairs, named, finding, more, voice),
        comparison=comparison,
    )


@lru_cache(maxsize=256)
def judge_look(
    old: tuple[TrialRecord, ...], new: tuple[TrialRecord, ...], direction: Direction, level: float
) -> tuple[Comparison, SwapFinding, MorePairs | None]:
    """Judge at the `level` of a look, once for the same trials, however often a screen asks."""
    finding, merits = find_swap(old, new), find_swap(old, new, direction)
    verdict = finding.verdict
    if finding.p_value is not None and finding.pairs >= LEAST_TRIALS:
        verdict = judge(
            finding.difference or 0.0,
            _adjust(finding.p_value, level),
            _adjust(finding.smallest_p or 0.0, level),
            same=finding.same,
        )
    unlike = differences_between(old, new)
    if any(difference.what.forbids for difference in unlike):
        verdict = Verdict.NOT_COMPARABLE
    clear = merits.p_value is not None and merits.p_value <= level
    near = direction.kind is DirectionKind.NEAR
    comparison = replace(
        compare(old, new, direction),
        old_n=finding.pairs,
        new_n=finding.pairs,
        difference=finding.difference,
        interval=finding.interval,
        p_value=finding.p_value,
        smallest_p=finding.smallest_p,
        adjusted_p=None if finding.p_value is None else _adjust(finding.p_value, level),
        method=finding.method,
        interval_method=finding.method,
        # Of all pairs of trials: beside the pairs of the swap test that would be a second count.
        pairs=None,
        basis=Basis.PAIRS,
        old_compared=finding.pairs,
        new_compared=finding.pairs,
        plain_difference=None,
        same=finding.same,
        nearness_p=merits.p_value if near else None,
        nearness_difference=-merits.difference if near and merits.difference else None,
        verdict=verdict,
        better=merits.better if verdict is not Verdict.NOT_COMPARABLE and clear else None,
        practice=PracticeWord.BALANCED if finding.in_turns else PracticeWord.NOT_RULED_OUT,
    )
    return comparison, finding, None if verdict.clear else find_more_pairs(old, new)


def _adjust(p_value: float, level: float) -> float:
    """Return the p-value as if its level were .05."""
    return min(1.0, p_value * (LEVEL / level)) if level > 0 else 1.0


#: The key of a sentence and what fills it.
Line = tuple[str, Mapping[str, object]]


def _describe(
    record: GroupRecord,
    pairs: Sequence[SwapPair],
    comparison: Comparison,
    finding: SwapFinding,
    more: MorePairs | None,
    voice: Voice,
) -> tuple[str, ...]:
    outcome = record.context.challenge.outcome
    counts = count_swapped(pairs, outcome.direction)
    lines: list[Line] = []
    if counts.leads + counts.trails:
        worse = counts.trails > counts.leads
        key = "swap_pairs_worse" if worse else "swap_pairs_better"
        won = counts.trails if worse else counts.leads
        lines.append((key, {"new": comparison.new, "won": won, "n": counts.count}))
    # Where too few pairs differ to tell anything, "a hint" would say too much.
    hint = comparison.verdict is Verdict.HINT
    verdict = {
        "old": comparison.old,
        "new": comparison.new,
        "n_old": finding.pairs,
        "n_new": finding.pairs,
        "near": outcome.direction.near,
    }
    lines.append(("swap_hint" if hint else choose_verdict(comparison, outcome.direction), verdict))
    after: list[Line] = []
    if goes_against_pairs(replace(comparison, pairs=counts)):
        after.append(("pairs_against", {}))
    if comparison.verdict.tests and more is not None:
        after.append(_describe_more_pairs(more))
    if counts.ties:
        after.append(("swap_level", {"n": counts.ties}))
    if finding.lost_pairs:
        after.append(("swap_lost", {"n": finding.lost_pairs}))
    if finding.by_order:
        after.append(("swap_by_order", {}))
    return non_empty(
        *(voice.say(key, **slots) for key, slots in lines),
        describe_misfires(comparison, voice),
        "" if hint else describe_difference(comparison, outcome, voice),
        *(voice.say(key, **slots) for key, slots in after),
    )


def count_swapped(pairs: Sequence[SwapPair], direction: Direction) -> PairCounts:
    """Count the pairs of a swap test in which the new one did better, as well, or worse."""
    apart = [
        direction.merit(pair.new.value) - direction.merit(pair.old.value)
        for pair in pairs
        if pair.new.value is not None and pair.old.value is not None
    ]
    return PairCounts(
        leads=sum(lead > 0 for lead in apart),
        ties=sum(lead == 0 for lead in apart),
        trails=sum(lead < 0 for lead in apart),
    )


def _describe_more_pairs(more: MorePairs) -> Line:
    if more.low is None:
        return "swap_no_end", {"most": MOST_MORE_PAIRS}
    low = max(1, more.low)
    if more.high is None:
        return "swap_open_end", {"low": low}
    return "swap_more_pairs", {"low": low, "high": max(low + 1, more.high)}


def _exchange(record: GroupRecord, swap_test: SwapTest, voice: Voice) -> tuple[str, ...]:
    pairs = pairs_of(record, swap_test)
    found = record.find_revision(swap_test.turns[0].revision_id)
    part = "part" if found is None else found[0].kind.name.lower()
    if not pairs:
        return non_empty(voice.say("swap_no_pairs"))
    used = tuple(
        ExchangePair(
            student=str(pair.student_id),
            own=_part_of(record, pair.old_id),
            lent=_part_of(record, pair.new_id),
            own_value=pair.old.value,
            lent_value=pair.new.value,
        )
        for pair in pairs
    )
    finding = work_out("an exchange", lambda: find_exchange(used), None)
    if finding is None:
        return non_empty(voice.say("cannot_say"))
    key = f"exchange_{key_of(finding.word)}"
    return non_empty(
        voice.say(key, part=part, n=finding.pairs),
        voice.say("swap_lost", n=finding.lost_pairs) if finding.lost_pairs else "",
    )


def _part_of(record: GroupRecord, revision_id: UUID) -> str:
    found = record.find_revision(revision_id)
    return str(revision_id if found is None else found[0].part.id)
