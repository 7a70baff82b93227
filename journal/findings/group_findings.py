"""All results of a group in words: the one place where analysis meets content.

Comes in: a GroupRecord. Goes out: GroupFindings, the same for page, API, terminal and paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from uuid import UUID

from journal.analysis.compare import Comparison
from journal.analysis.failures import Questions
from journal.analysis.looks import LIVE_STEPS
from journal.analysis.records import TrialRecord, by_revision
from journal.analysis.stall import Stall, StallReason
from journal.analysis.summary import Summary, count_only, summarise_trials
from journal.analysis.verdicts import PracticeWord
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.part_states import PartState
from journal.findings.amounts import AmountWords, find_amounts
from journal.findings.budgets import BudgetState, find_budget
from journal.findings.comparisons import describe_several_changes
from journal.findings.criteria import CriterionState, judge_criteria
from journal.findings.factor_amounts import find_factor_amounts
from journal.findings.fair_tests import FairWords, find_fairness
from journal.findings.handling import HandlingWords, find_handling
from journal.findings.hits import GroupHits, find_hits
from journal.findings.practice import PracticeFinding, find_practice
from journal.findings.revision_numbers import describe_numbers, scale_of
from journal.findings.revision_pairs import RevisionPair, compare_shown, set_pair_beside
from journal.findings.stalls import find_stall_of, word_stall
from journal.findings.starts import say_nothing_tested
from journal.findings.trial_records import label_revision, records_of
from journal.findings.unanswered import (
    describe_unanswered,
    no_handling,
    no_practice,
    no_use,
    open_criteria,
)
from journal.findings.use import UseFinding, find_use
from journal.findings.voices import Voice, non_empty, teacher_voice, voice_of


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
    #: Those of `beside` that a short text says.
    opening: tuple[str, ...] = ()
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
    #: None without a budget, or before the first material.
    budget: BudgetState | None
    #: The Finding: a few sentences on the newest tested revision, in the band's words.
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
    #: Questions whose analysis failed, so that their results are missing above; empty as a rule.
    cannot_say: tuple[str, ...] = ()

    def of_part(self, part_id: UUID) -> tuple[RevisionFinding, ...]:
        """Return the findings of one part's revisions."""
        return tuple(revision for revision in self.revisions if revision.part_id == part_id)


def find_for_group(
    record: GroupRecord,
    band: GradeBand | None = None,
    *,
    with_intervals: bool = False,
    finished: bool = False,
) -> GroupFindings:
    """Find what the trials say, in the class's own words and measures.

    `band` is for the teacher: all measures in the words of that band. `with_intervals` also works
    out what takes seconds: intervals of the shares, and spreads from zones alone. `finished` rests
    every verdict on all trials, as paper does; else they are looked at now and then (`looks`).
    """
    steps = None if finished else LIVE_STEPS
    school_class = record.context.school_class
    voice = voice_of(school_class) if band is None else teacher_voice(school_class, band)
    # Read once: every trial of a group becomes a record for each part that was used.
    by_part = [(state, records_of(record, state)) for state in record.parts]
    questions = Questions()
    ask, language = questions.ask, voice.language
    found = tuple(
        finding
        for part in by_part
        for finding in _find_for_part(record, *part, voice, questions, steps)
    )
    stall = find_stall_of(record)
    if stall.reason is StallReason.NOT_WORKED_OUT:
        questions.failed.append("stall")
    records = by_part[0][1] if by_part else ()
    names = {str(student_id): nickname for student_id, nickname in record.nicknames.items()}
    outcome = record.context.challenge.outcome
    own_parts = record.context.challenge.own_parts
    own_part = own_parts[0].name.lower() if own_parts else ""
    panel = record.context.challenge.panel
    no_amounts: tuple[AmountWords, ...] = ()
    answered = GroupFindings(
        revisions=found,
        criteria=ask("criteria", lambda: judge_criteria(record, voice.band), open_criteria(record)),
        budget=find_budget(record, voice.band),
        sentences=_headline(record, found, voice),
        stall=stall,
        stall_sentence=word_stall(record, stall, voice.band),
        hits=ask(
            "hits",
            lambda: find_hits(records, panel, names, voice, fitted=with_intervals),
            GroupHits(),
        ),
        use=ask(
            "use",
            lambda: find_use(records, names, own_part, language, intervals=with_intervals),
            no_use(language),
        ),
        handling=ask(
            "handling",
            lambda: find_handling(records, record.context.challenge, voice, steps),
            no_handling(language),
        ),
        amounts=(
            *ask("amounts", lambda: find_amounts(records, outcome, voice), no_amounts),
            *ask(
                "amounts",
                lambda: find_factor_amounts(record, records, voice, with_intervals=with_intervals),
                no_amounts,
            ),
        ),
        practice=ask(
            "practice",
            lambda: find_practice(records, outcome, language),
            no_practice(language),
        ),
    )
    unanswered = describe_unanswered(questions.failed, voice, to_teacher=band is not None)
    return replace(answered, cannot_say=unanswered)


def _find_for_part(
    record: GroupRecord,
    state: PartState,
    records: tuple[TrialRecord, ...],
    voice: Voice,
    questions: Questions,
    steps: tuple[int, ...] | None,
) -> tuple[RevisionFinding, ...]:
    by_id = {revision.id: revision for revision in state.revisions}
    by_label = {label_revision(state, revision): revision for revision in state.revisions}
    parents = tuple(
        (
            label_revision(state, revision),
            (label_revision(state, by_id[revision.parent_id]),)
            if revision.parent_id in by_id
            else (),
        )
        for revision in state.revisions
    )
    direction = record.context.challenge.outcome.direction
    nothing: tuple[Comparison, ...] = ()
    compared = questions.ask(
        "comparisons", lambda: compare_shown(records, direction, parents, steps), nothing
    )
    sorted_out = by_revision(records)
    found = []
    for revision in state.revisions:
        label = label_revision(state, revision)
        own = sorted_out.get(label, [])
        summary, numbers = questions.ask(
            "numbers",
            partial(_summarise_numbers, record, own, label, voice),
            (count_only(own), non_empty(voice.say("cannot_say"))),
        )
        parent = by_id.get(revision.parent_id) if revision.parent_id else None
        parent_label = "" if parent is None else label_revision(state, parent)
        shown = [comparison for comparison in compared if comparison.new == label]
        best = next((comparison for comparison in shown if comparison.old != parent_label), None)
        beside = set_pair_beside(
            RevisionPair(state=state, old=parent, new=revision, trials=sorted_out),
            next((comparison for comparison in shown if comparison.old == parent_label), None),
            record,
            voice,
        )
        best_before = None if best is None else by_label[best.old]
        beside_best = set_pair_beside(
            RevisionPair(state=state, old=best_before, new=revision, trials=sorted_out),
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
                sentences=numbers,
                beside=beside.sentences
                and (
                    *beside.sentences,
                    *describe_several_changes(revision, voice),
                    *beside.figures,
                ),
                opening=beside.sentences[: beside.opening],
                comparison=beside.comparison,
                beside_best=(*beside_best.sentences, *beside_best.figures),
                best_comparison=beside_best.comparison,
                fairness=questions.ask(
                    "fairness",
                    partial(
                        find_fairness,
                        state,
                        revision,
                        sorted_out.get(parent_label, []),
                        own,
                        voice,
                        in_turns=beside.comparison is not None
                        and beside.comparison.practice is PracticeWord.BALANCED,
                    ),
                    None,
                ),
            )
        )
    return tuple(found)


def _summarise_numbers(
    record: GroupRecord, own: Sequence[TrialRecord], label: str, voice: Voice
) -> tuple[Summary, tuple[str, ...]]:
    summary = summarise_trials(own, scale_of(record.context.challenge))
    return summary, describe_numbers(record.context.challenge, own, summary, label, voice)


def _headline(
    record: GroupRecord, found: Sequence[RevisionFinding], voice: Voice
) -> tuple[str, ...]:
    """Return what to say first: of the revision of the main part that was tested last."""
    main = record.main_part
    tested = [
        finding
        for finding in found
        if main and finding.part_id == main.part.id and _tested(finding.summary)
    ]
    if not tested:
        return non_empty(say_nothing_tested(record, voice))
    newest = tested[-1]
    trials = voice.say("trials", n=count_logged(newest.summary), revision=newest.label)
    return newest.opening or newest.sentences[:2] or non_empty(trials)


def _tested(summary: Summary) -> bool:
    return count_logged(summary) > 0


def count_logged(summary: Summary) -> int:
    """Count the trials of a summary, those without a value among them."""
    return summary.n + summary.misfires + summary.without_value
