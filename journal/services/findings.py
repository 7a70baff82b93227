"""What a group's trials can say, worded: the one place where analysis meets content.

Comes in: a GroupRecord. Goes out: GroupFindings, the same for page, API, terminal and paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from uuid import UUID

from journal.analysis.comparability import Difference, Unlike
from journal.analysis.compare import Comparison
from journal.analysis.comparisons import compare_revisions
from journal.analysis.records import TrialRecord
from journal.analysis.stall import Stall
from journal.analysis.summary import Summary, summarise_trials
from journal.analysis.verdicts import LIVE_STEPS, PracticeWord, Verdict
from journal.content.finding_words import find_sentence
from journal.domain.classes import GradeBand
from journal.domain.lengths import show_length
from journal.domain.outcomes import Direction
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.services.criteria import CriterionState, judge_criteria
from journal.services.records import GroupRecord
from journal.services.stalls import find_stall_of, word_stall
from journal.services.swap_findings import SwapJudgement, judge_pair, key_of
from journal.services.trial_records import label_revision, records_of

#: Words for the teacher are those of the highest band: counts, figures, units.
TEACHER_BAND = GradeBand.SIX_TO_EIGHT

_UNLIKE_SENTENCES = {
    Difference.DISTANCE: "distance_changed",
    Difference.PANEL: "panel_changed",
    Difference.NOBODY_TRIED_BOTH: "no_common_tester",
    Difference.TESTERS: "testers_differ",
    Difference.SESSION: "session_changed",
    Difference.HANDLING: "handling_differs",
}


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

    def of_part(self, part_id: UUID) -> tuple[RevisionFinding, ...]:
        """Return the findings of one part's revisions."""
        return tuple(one for one in self.revisions if one.part_id == part_id)


def find_for_group(record: GroupRecord, band: GradeBand | None = None) -> GroupFindings:
    """Find what the trials say; `band` chooses other words than the class's own."""
    band = band or record.bench.school_class.band
    found = tuple(one for state in record.parts for one in _find_for_part(record, state, band))
    stall = find_stall_of(record)
    return GroupFindings(
        revisions=found,
        criteria=judge_criteria(record, band),
        sentences=_headline(record, found, band),
        stall=stall,
        stall_sentence=word_stall(record, stall, band),
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
    record: GroupRecord, state: PartState, band: GradeBand
) -> tuple[RevisionFinding, ...]:
    records = records_of(record, state)
    by_id = {one.id: one for one in state.revisions}
    parents = tuple(
        (
            label_revision(state, one),
            (label_revision(state, by_id[one.parent_id]),) if one.parent_id in by_id else (),
        )
        for one in state.revisions
    )
    direction = record.bench.challenge.outcome.direction
    compared = _compare(records, direction, parents)
    found = []
    for revision in state.revisions:
        label = label_revision(state, revision)
        own = [one for one in records if one.revision == label]
        parent = dict(parents)[label]
        comparison = next(
            (one for one in compared if one.new == label and parent and one.old == parent[0]), None
        )
        beside = _beside(record, revision, comparison, band)
        swapped = _find_swapped(record, state, revision, band)
        if swapped is not None and swapped.comparison is not None:
            # Pairs of a swap test rule practice out, so they speak instead of the blocks.
            comparison = swapped.comparison
            beside = (*swapped.sentences, *_several(record, revision, band))
        found.append(
            RevisionFinding(
                revision_id=revision.id,
                part_id=state.part.id,
                number=revision.number,
                label=label,
                summary=summarise_trials(own),
                sentences=_numbers(record, own, label, band),
                beside=beside,
                comparison=comparison,
            )
        )
    return tuple(found)


def _find_swapped(
    record: GroupRecord, state: PartState, revision: Revision, band: GradeBand
) -> SwapJudgement | None:
    """Return what swap tests say of a revision and its parent; below three pairs nothing."""
    parent = state.find_revision(revision.parent_id) if revision.parent_id else None
    if parent is None:
        return None
    judged = judge_pair(record, state, parent, revision, band)
    comparison = None if judged is None else judged.comparison
    if comparison is None or comparison.verdict is Verdict.TOO_EARLY:
        return None
    return judged


def _numbers(
    record: GroupRecord, own: Sequence[TrialRecord], label: str, band: GradeBand
) -> tuple[str, ...]:
    outcome = record.bench.challenge.outcome
    summary = summarise_trials(own)
    n = summary.n + summary.misfires
    if n == 0:
        return _told(find_sentence("nothing_yet", band, _language(record)))
    values = [one.measured for one in own if one.measured is not None]
    best = max(values, key=outcome.direction.merit) if values else None
    slots = {
        "n": n,
        "best": best,
        "unit": outcome.unit,
        "revision": label,
        "range": summary.range,
        "lowest": summary.lowest,
        "highest": summary.highest,
        "mean": summary.mean,
        "median": summary.median,
        "misfires": summary.misfires,
        "lower_quartile": summary.lower_quartile,
        "upper_quartile": summary.upper_quartile,
    }
    keys = ["trials"]
    if values:
        keys += ["best", "range", "centre"]
    launching = record.bench.challenge.launches
    if summary.misfires:
        keys.append("misfires_launching" if launching else "misfires")
    sentences = []
    for key in keys:
        # The centre's n is of measured trials; the count of all stands in its own sentence.
        shown = {**slots, "n": summary.n} if key == "centre" else slots
        sentences.append(find_sentence(key, band, _language(record), **shown))
    return _told(*sentences)


def _beside(
    record: GroupRecord, revision: Revision, comparison: Comparison | None, band: GradeBand
) -> tuple[str, ...]:
    if comparison is None:
        return ()
    key = key_of(comparison.verdict)
    if comparison.verdict.clear and comparison.practice is PracticeWord.NOT_RULED_OUT:
        key = f"{key}_practice"
    difference = comparison.difference
    slots = {
        "old": comparison.old,
        "new": comparison.new,
        "n_old": comparison.old_n,
        "n_new": comparison.new_n,
        "difference": None if difference is None else abs(difference),
        "unit": record.bench.challenge.outcome.unit,
    }
    sentences = [find_sentence(key, band, _language(record), **slots)]
    sentences += [
        _unlike_sentence(one, band, _language(record))
        for one in comparison.unlike
        if one.what in _UNLIKE_SENTENCES
    ]
    return (*_told(*sentences), *_several(record, revision, band))


def _several(record: GroupRecord, revision: Revision, band: GradeBand) -> tuple[str, ...]:
    if len(revision.changes) <= 1:
        return ()
    return _told(find_sentence("several_changes", band, _language(record)))


def _unlike_sentence(unlike: Unlike, band: GradeBand, language: str) -> str | None:
    old, new = ", ".join(unlike.old), ", ".join(unlike.new)
    if unlike.what is Difference.DISTANCE:
        old, new = (", ".join(show_length(float(one)) for one in side) for side in (
            unlike.old, unlike.new))  # fmt: skip
    return find_sentence(_UNLIKE_SENTENCES[unlike.what], band, language, old=old, new=new)


def _headline(
    record: GroupRecord, found: Sequence[RevisionFinding], band: GradeBand
) -> tuple[str, ...]:
    """Return what to say first: of the revision of the main part that was tested last."""
    main = record.main_part
    tested = [one for one in found if main and one.part_id == main.part.id and _tested(one.summary)]
    if not tested:
        return _told(find_sentence("nothing_yet", band, _language(record)))
    newest = tested[-1]
    return newest.beside[:2] or newest.sentences[:2]


def _tested(summary: Summary) -> bool:
    return summary.n + summary.misfires > 0


def _language(record: GroupRecord) -> str:
    return record.bench.school_class.language


def _told(*sentences: str | None) -> tuple[str, ...]:
    return tuple(sentence for sentence in sentences if sentence)
