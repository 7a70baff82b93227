"""What swap tests say, in the band's words: analysis within pairs meets content.

Comes in: a GroupRecord. Goes out: sentences, and the comparison that a swap test settles. Nothing
is judged before the test is over, so that nobody stops at a lucky moment; a pair of devices tested
again is judged on all its pairs, with each look paid for (Bonferroni).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from uuid import UUID

from journal.analysis.comparability import differences_between
from journal.analysis.compare import Comparison
from journal.analysis.comparisons import compare
from journal.analysis.exchange_test import ExchangePair, find_exchange
from journal.analysis.failures import work_out
from journal.analysis.records import TrialRecord
from journal.analysis.swap_test import (
    MOST_MORE_PAIRS,
    MorePairs,
    SwapFinding,
    find_more_pairs,
    find_swap,
)
from journal.analysis.verdicts import LEAST_TRIALS, LEVEL, PracticeWord, Verdict, judge
from journal.content.finding_words import find_sentence
from journal.domain.classes import GradeBand
from journal.domain.outcomes import Direction
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.domain.swap_tests import SwapKind, SwapTest
from journal.services.records import GroupRecord
from journal.services.swap_pairs import SwapPair, pairs_of, pooled_pairs, records_of_pairs
from journal.services.trial_records import label_revision


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapJudgement:
    """What the swap tests of two revisions say together."""

    sentences: tuple[str, ...]
    #: None where no pair is whole, or the turns were not kept.
    comparison: Comparison | None = None


def judge_swap_test(
    record: GroupRecord, swap_test: SwapTest, band: GradeBand | None = None
) -> SwapJudgement:
    """Return what a swap test says; nothing before it is over."""
    band = band or record.bench.school_class.band
    if not swap_test.is_over:
        return SwapJudgement(sentences=())
    if swap_test.kind is SwapKind.OWN_PARTS:
        return SwapJudgement(sentences=_exchange(record, swap_test, band))
    old = record.find_revision(swap_test.old_revision_id or swap_test.id)
    new = record.find_revision(swap_test.new_revision_id or swap_test.id)
    if old is None or new is None:
        return SwapJudgement(sentences=())
    judged = judge_pair(record, new[0], old[1], new[1], band, until=swap_test)
    return judged or SwapJudgement(sentences=_told(record, band, ("swap_no_pairs", {})))


def judge_pair(
    record: GroupRecord,
    state: PartState,
    old: Revision,
    new: Revision,
    band: GradeBand,
    until: SwapTest | None = None,
) -> SwapJudgement | None:
    """Return what the swap tests of two revisions of a part say; None where there is no pair."""
    pairs, looks = pooled_pairs(record, old.id, new.id, until)
    if not pairs:
        return None
    before, after = records_of_pairs(record, state, pairs)
    direction = record.bench.challenge.outcome.direction
    judged = work_out(
        "a swap test", lambda: _judge(tuple(before), tuple(after), direction, looks), None
    )
    if judged is None:
        return SwapJudgement(sentences=_told(record, band, ("cannot_say", {})))
    comparison, finding, more = judged
    if not finding.in_turns:
        return SwapJudgement(sentences=_told(record, band, ("swap_turns_lost", {})))
    labels = {"old": label_revision(state, old), "new": label_revision(state, new)}
    return SwapJudgement(
        sentences=_told(record, band, *_tell(record, pairs, comparison, finding, more, labels)),
        comparison=comparison,
    )


@lru_cache(maxsize=256)
def _judge(
    old: tuple[TrialRecord, ...], new: tuple[TrialRecord, ...], direction: Direction, looks: int
) -> tuple[Comparison, SwapFinding, MorePairs | None]:
    """Judge once for the same trials, however often a screen asks."""
    finding, merits = find_swap(old, new), find_swap(old, new, direction)
    verdict = finding.verdict
    if finding.p_value is not None and finding.pairs >= LEAST_TRIALS:
        verdict = judge(
            finding.difference or 0.0, finding.p_value * looks, (finding.smallest_p or 0.0) * looks
        )
    unlike = differences_between(old, new)
    if any(one.what.forbids for one in unlike):
        verdict = Verdict.NOT_COMPARABLE
    clear = merits.p_value is not None and merits.p_value * looks <= LEVEL
    comparison = replace(
        compare(old, new, direction),
        old_n=finding.pairs,
        new_n=finding.pairs,
        difference=finding.difference,
        interval=finding.interval,
        p_value=finding.p_value,
        smallest_p=finding.smallest_p,
        adjusted_p=None if finding.p_value is None else min(1.0, finding.p_value * looks),
        method=finding.method,
        interval_method=finding.method,
        # Of all pairs of trials: beside the pairs of the swap test that would be a second count.
        better_of_ten=None,
        verdict=verdict,
        better=merits.better if verdict is not Verdict.NOT_COMPARABLE and clear else None,
        practice=PracticeWord.BALANCED if finding.in_turns else PracticeWord.NOT_RULED_OUT,
    )
    return comparison, finding, None if verdict.clear else find_more_pairs(old, new)


#: The key of a sentence and what fills it.
Line = tuple[str, Mapping[str, object]]


def _tell(
    record: GroupRecord,
    pairs: Sequence[SwapPair],
    comparison: Comparison,
    finding: SwapFinding,
    more: MorePairs | None,
    labels: dict[str, str],
) -> list[Line]:
    known = [value for pair in pairs if (value := pair.difference) is not None]
    less = sum(known) < 0
    won = sum(value < 0 if less else value > 0 for value in known)
    level = sum(value == 0 for value in known)
    difference = comparison.difference
    lines: list[Line] = []
    if known:
        key = "swap_pairs_less" if less else "swap_pairs_more"
        lines.append((key, {**labels, "won": won, "n": len(known)}))
    verdict = {
        **labels,
        "n_old": finding.pairs,
        "n_new": finding.pairs,
        "difference": None if difference is None else abs(difference),
        "unit": record.bench.challenge.outcome.unit,
    }
    # Where too few pairs differ to tell anything, "a hint" would say too much.
    hint = comparison.verdict is Verdict.HINT
    lines.append(("swap_hint" if hint else key_of(comparison.verdict), verdict))
    if comparison.verdict.tests and more is not None:
        lines.append(_tell_more(more))
    if level:
        lines.append(("swap_level", {"n": level}))
    if finding.lost_pairs:
        lines.append(("swap_lost", {"n": finding.lost_pairs}))
    return lines


def key_of(verdict: Verdict) -> str:
    """Return the key of a verdict's sentence."""
    return verdict.value.removeprefix("a ").replace(" ", "_")


def _tell_more(more: MorePairs) -> Line:
    if more.low is None:
        return "swap_no_end", {"most": MOST_MORE_PAIRS}
    low = max(1, more.low)
    if more.high is None:
        return "swap_open_end", {"low": low}
    return "swap_more_pairs", {"low": low, "high": max(low + 1, more.high)}


def _exchange(record: GroupRecord, swap_test: SwapTest, band: GradeBand) -> tuple[str, ...]:
    pairs = pairs_of(record, swap_test)
    found = record.find_revision(swap_test.turns[0].revision_id)
    part = "part" if found is None else found[0].kind.name.lower()
    if not pairs:
        return _told(record, band, ("swap_no_pairs", {}))
    told = tuple(
        ExchangePair(
            student=str(pair.student_id),
            own=_part_of(record, pair.old_id),
            lent=_part_of(record, pair.new_id),
            own_value=pair.old.value,
            lent_value=pair.new.value,
        )
        for pair in pairs
    )
    finding = work_out("an exchange", lambda: find_exchange(told), None)
    if finding is None:
        return _told(record, band, ("cannot_say", {}))
    key = f"exchange_{finding.word.value.removeprefix('a ').replace(' ', '_')}"
    lines: list[Line] = [(key, {"part": part, "n": finding.pairs})]
    if finding.lost_pairs:
        lines.append(("swap_lost", {"n": finding.lost_pairs}))
    return _told(record, band, *lines)


def _part_of(record: GroupRecord, revision_id: UUID) -> str:
    found = record.find_revision(revision_id)
    return str(revision_id if found is None else found[0].part.id)


def _told(record: GroupRecord, band: GradeBand, *lines: Line) -> tuple[str, ...]:
    language = record.bench.school_class.language
    sentences = (find_sentence(key, band, language, **slots) for key, slots in lines)
    return tuple(sentence for sentence in sentences if sentence)
