"""What a group's trials can say, worded: the one place where analysis meets content.

Comes in: a GroupRecord. Goes out: GroupFindings, the same for page, API, terminal and paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from uuid import UUID

from journal.analysis.compare import Comparison
from journal.analysis.comparisons import compare_revisions
from journal.analysis.records import TrialRecord, by_revision
from journal.analysis.stall import Stall
from journal.analysis.summary import Summary, summarise_trials
from journal.analysis.verdicts import LIVE_STEPS, PracticeWord, Verdict
from journal.domain.classes import GradeBand
from journal.domain.outcomes import Direction
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.services.amount_findings import AmountWords, find_amounts
from journal.services.comparison_words import tell_comparison, tell_figures, tell_several
from journal.services.criteria import CriterionState, judge_criteria
from journal.services.factor_amounts import find_factor_amounts
from journal.services.fair_tests import FairWords, find_fairness
from journal.services.handling_findings import HandlingWords, find_handling
from journal.services.hit_findings import GroupHits, find_hits
from journal.services.practice_findings import PracticeFinding, find_practice
from journal.services.records import GroupRecord
from journal.services.revision_numbers import tell_numbers
from journal.services.stalls import find_stall_of, word_stall
from journal.services.swap_findings import SwapJudgement, judge_pair
from journal.services.trial_records import label_revision, records_of
from journal.services.use_findings import UseFinding, find_use
from journal.services.voices import Voice, teacher_voice, told, voice_of


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionFinding:
    """What the trials of one revision say."""

    revision_id: UUID
    part_id: UUID
    number: int
    label: str
    summary: Summary
    #: Its numbers in the band's words.
    sentences: tuple[str, ...]
    #: What it says beside its parent, in the band's words; empty for a first build.
    beside: tuple[str, ...]
    comparison: Comparison | None = None
    #: The same beside the best one before it, where that is not its parent.
    beside_best: tuple[str, ...] = ()
    best_comparison: Comparison | None = None
    #: What changed and what else differed; None where either has no trials.
    fairness: FairWords | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupFindings:
    """What the trials of a group say."""

    revisions: tuple[RevisionFinding, ...]
    criteria: tuple[CriterionState, ...]
    #: The Finding: one or two sentences on the newest tested revision, in the band's words.
    sentences: tuple[str, ...]
    stall: Stall
    #: Why the group has stalled, in the band's words; "" where it has not.
    stall_sentence: str
    #: Of the main part: where it hits, what goes along with device and use, with an amount, and
    #: with practice.
    hits: GroupHits
    use: UseFinding
    handling: HandlingWords
    #: What is logged with each trial first, then factors of the main part that were changed.
    amounts: tuple[AmountWords, ...]
    practice: PracticeFinding

    def of_part(self, part_id: UUID) -> tuple[RevisionFinding, ...]:
        """Return the findings of one part's revisions."""
        return tuple(one for one in self.revisions if one.part_id == part_id)


def find_for_group(
    record: GroupRecord, band: GradeBand | None = None, *, at_length: bool = False
) -> GroupFindings:
    """Find what the trials say, in the class's own words and measures.

    `band` is for the teacher: all measures in the words of that band. `at_length` also works out
    what takes seconds: intervals of the shares, and spreads from zones alone.
    """
    school_class = record.bench.school_class
    voice = voice_of(school_class) if band is None else teacher_voice(school_class, band)
    # Read once: every trial of a group becomes a record for each part that was used.
    by_part = [(state, records_of(record, state)) for state in record.parts]
    found = tuple(one for part in by_part for one in _find_for_part(record, *part, voice))
    stall = find_stall_of(record)
    records = by_part[0][1] if by_part else ()
    names = {str(one): nickname for one, nickname in record.nicknames.items()}
    outcome = record.bench.challenge.outcome
    own_parts = record.bench.challenge.own_parts
    return GroupFindings(
        revisions=found,
        criteria=judge_criteria(record, voice.band),
        sentences=_headline(record, found, voice),
        stall=stall,
        stall_sentence=word_stall(record, stall, voice.band),
        hits=find_hits(records, record.bench.challenge.panel, names, voice, fitted=at_length),
        use=find_use(
            records,
            names,
            own_parts[0].name.lower() if own_parts else "",
            voice.language,
            intervals=at_length,
        ),
        handling=find_handling(records, record.bench.challenge, voice),
        amounts=(
            *find_amounts(records, outcome, voice),
            *find_factor_amounts(record, records, voice, at_length=at_length),
        ),
        practice=find_practice(records, outcome.unit, voice.language),
    )


@lru_cache(maxsize=256)
def _compare(
    records: tuple[TrialRecord, ...],
    direction: Direction,
    parents: tuple[tuple[str, tuple[str, ...]], ...],
) -> tuple[Comparison, ...]:
    """Compare once for the same trials, however often a screen asks."""
    return compare_revisions(records, direction, dict(parents), LIVE_STEPS)


def _find_for_part(
    record: GroupRecord, state: PartState, records: tuple[TrialRecord, ...], voice: Voice
) -> tuple[RevisionFinding, ...]:
    by_id = {one.id: one for one in state.revisions}
    by_label = {label_revision(state, one): one for one in state.revisions}
    parents = tuple(
        (
            label_revision(state, one),
            (label_revision(state, by_id[one.parent_id]),) if one.parent_id in by_id else (),
        )
        for one in state.revisions
    )
    compared = _compare(records, record.bench.challenge.outcome.direction, parents)
    sorted_out = by_revision(records)
    found = []
    for revision in state.revisions:
        label = label_revision(state, revision)
        own = sorted_out.get(label, [])
        summary = summarise_trials(own)
        parent = by_id.get(revision.parent_id) if revision.parent_id else None
        parent_label = "" if parent is None else label_revision(state, parent)
        shown = [one for one in compared if one.new == label]
        best = next((one for one in shown if one.old != parent_label), None)
        beside = _set_beside(
            _Pair(state=state, old=parent, new=revision),
            next((one for one in shown if one.old == parent_label), None),
            record,
            voice,
        )
        beside_best = _set_beside(
            _Pair(state=state, old=None if best is None else by_label[best.old], new=revision),
            best,
            record,
            voice,
        )
        found.append(
            RevisionFinding(
                revision_id=revision.id,
                part_id=state.part.id,
                number=revision.number,
                label=label,
                summary=summary,
                sentences=tell_numbers(record.bench.challenge, own, summary, label, voice),
                beside=beside.sentences
                and (*beside.sentences, *tell_several(revision, voice), *beside.figures),
                comparison=beside.comparison,
                beside_best=(*beside_best.sentences, *beside_best.figures),
                best_comparison=beside_best.comparison,
                fairness=find_fairness(
                    state,
                    revision,
                    sorted_out.get(parent_label, []),
                    own,
                    voice,
                    in_turns=beside.comparison is not None
                    and beside.comparison.practice is PracticeWord.BALANCED,
                ),
            )
        )
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    """A revision of a part and the one that it is set beside."""

    state: PartState
    old: Revision | None
    new: Revision


@dataclass(frozen=True, slots=True, kw_only=True)
class _Beside:
    """The comparison that speaks, its sentences, and its figures in words."""

    comparison: Comparison | None
    sentences: tuple[str, ...]
    figures: tuple[str, ...]


def _set_beside(
    pair: _Pair, comparison: Comparison | None, record: GroupRecord, voice: Voice
) -> _Beside:
    """Let blocks of trials speak, or a swap test where there is one."""
    swapped = _find_swapped(record, pair, voice.band)
    if swapped is None:
        sentences = tell_comparison(comparison, record.bench.challenge.outcome.unit, voice)
    else:
        # Pairs of a swap test rule practice out, so they speak instead of the blocks.
        comparison, sentences = swapped.comparison, swapped.sentences
    return _Beside(
        comparison=comparison, sentences=sentences, figures=tell_figures(comparison, voice)
    )


def _find_swapped(record: GroupRecord, pair: _Pair, band: GradeBand) -> SwapJudgement | None:
    """Return what swap tests say of two revisions; below three pairs nothing."""
    if pair.old is None:
        return None
    judged = judge_pair(record, pair.state, pair.old, pair.new, band)
    comparison = None if judged is None else judged.comparison
    if comparison is None or comparison.verdict is Verdict.TOO_EARLY:
        return None
    return judged


def _headline(
    record: GroupRecord, found: Sequence[RevisionFinding], voice: Voice
) -> tuple[str, ...]:
    """Return what to say first: of the revision of the main part that was tested last."""
    main = record.main_part
    tested = [one for one in found if main and one.part_id == main.part.id and _tested(one.summary)]
    if not tested:
        return told(voice.say("nothing_yet"))
    newest = tested[-1]
    return (
        newest.beside[:2] or newest.sentences[:2] or told(voice.say("trials", n=newest.summary.n))
    )


def _tested(summary: Summary) -> bool:
    return summary.n + summary.misfires > 0
