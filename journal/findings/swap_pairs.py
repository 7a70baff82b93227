"""The pairs of a swap test: a GroupRecord comes in, each student's two trials go out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from journal.analysis.records import TrialRecord
from journal.analysis.swap_looks import SwapCourse
from journal.domain.group_records import GroupRecord
from journal.domain.part_states import PartState
from journal.domain.swap_tests import SwapKind, SwapTest, SwapTurn
from journal.domain.trials import Trial
from journal.findings.trial_records import records_of


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapPair:
    """Two neighbouring trials of one student: with the old one and the new one, or own and lent."""

    student_id: UUID
    old_id: UUID
    new_id: UUID
    old: Trial
    new: Trial

    @property
    def difference(self) -> float | None:
        """Return new minus old; None where one of them is a misfire."""
        old, new = self.old.value, self.new.value
        return None if old is None or new is None else new - old

    @property
    def old_first(self) -> bool:
        """Tell whether the old one came first."""
        return self.old.received_at <= self.new.received_at

    @property
    def whole_at(self) -> datetime:
        """Return when the second of the two trials came in."""
        return max(self.old.received_at, self.new.received_at)


def pairs_of(record: GroupRecord, swap_test: SwapTest) -> tuple[SwapPair, ...]:
    """Return the whole pairs in the order of the plan.

    A trial that was since put under another name leaves its pair out.
    """
    by_pair: dict[tuple[UUID, int], list[tuple[SwapTurn, Trial]]] = {}
    trials = {trial.id: trial for trial in record.usable_trials}
    for turn in swap_test.turns:
        taken_by = swap_test.taken.get(turn.position)
        trial = trials.get(taken_by) if taken_by else None
        if trial is not None and trial.student_id == turn.student_id:
            by_pair.setdefault((turn.student_id, turn.pair), []).append((turn, trial))
    both = [taken for taken in by_pair.values() if len(taken) > 1]
    return tuple(
        _pair(record, swap_test, first_taken, second_taken) for first_taken, second_taken in both
    )


def pooled_pairs(
    record: GroupRecord, old_id: UUID, new_id: UUID, until: SwapTest | None = None
) -> tuple[tuple[SwapPair, ...], SwapCourse | None]:
    """Return the whole pairs of all swap tests of these two, as they became whole, and the course.

    Without `until` only tests that are over count; with it those up to this one, which may still
    be running. The course is None where there is no pair and none is awaited.
    """
    tests = [
        test
        for test in sorted(record.swap_tests, key=lambda test: test.started_at)
        if test.kind is SwapKind.REVISIONS
        and {test.old_revision_id, test.new_revision_id} == {old_id, new_id}
        and (test.is_over or (until is not None and test.id == until.id))
        and (until is None or test.started_at <= until.started_at)
    ]
    by_test = [
        (test, pairs) for test in tests if (pairs := pairs_of(record, test)) or not test.is_over
    ]
    if not by_test:
        return (), None
    pooled = tuple(
        _turned(pair, old_id)
        for _, pairs in by_test
        for pair in sorted(pairs, key=lambda pair: pair.whole_at)
    )
    last, last_pairs = by_test[-1]
    return pooled, SwapCourse(
        earlier_pairs=len(pooled) - len(last_pairs),
        pairs=len(last_pairs),
        planned_pairs=len(last_pairs) if last.is_through else len(last.turns) // 2,
        number=len(by_test),
        is_over=last.is_over,
    )


def records_of_pairs(
    record: GroupRecord, state: PartState, pairs: Iterable[SwapPair]
) -> tuple[Sequence[TrialRecord], Sequence[TrialRecord]]:
    """Return the trials of pairs as the analysis takes them: the old ones and the new ones."""
    orders = {trial.id: order for order, trial in enumerate(record.usable_trials)}
    by_order = {trial_record.order: trial_record for trial_record in records_of(record, state)}
    listed = list(pairs)
    return (
        [by_order[orders[pair.old.id]] for pair in listed],
        [by_order[orders[pair.new.id]] for pair in listed],
    )


def _pair(
    record: GroupRecord,
    swap_test: SwapTest,
    first_taken: tuple[SwapTurn, Trial],
    second_taken: tuple[SwapTurn, Trial],
) -> SwapPair:
    old, new = (
        (first_taken, second_taken)
        if _is_old(record, swap_test, first_taken[0])
        else (second_taken, first_taken)
    )
    return SwapPair(
        student_id=old[0].student_id,
        old_id=old[0].revision_id,
        new_id=new[0].revision_id,
        old=old[1],
        new=new[1],
    )


def _is_old(record: GroupRecord, swap_test: SwapTest, turn: SwapTurn) -> bool:
    if swap_test.kind is SwapKind.REVISIONS:
        return turn.revision_id == swap_test.old_revision_id
    found = record.find_revision(turn.revision_id)
    return found is not None and found[0].part.owner_id == turn.student_id


def _turned(pair: SwapPair, old_id: UUID) -> SwapPair:
    """Return the pair seen from this old one."""
    if pair.old_id == old_id:
        return pair
    return SwapPair(
        student_id=pair.student_id,
        old_id=pair.new_id,
        new_id=pair.old_id,
        old=pair.new,
        new=pair.old,
    )
