"""Counted attempts of an imported table: rows come in, and each that nobody has left is noted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from uuid import UUID

from journal.domain.challenges import Challenge
from journal.domain.group_contexts import challenge_id_of
from journal.domain.messages import Message
from journal.domain.trials import TrialKind, TrialState
from journal.exchange.problems import TableProblems
from journal.exchange.trials import CsvTrial
from journal.records.work import Work
from journal.store.trial_counts import count_attempts


def check_attempts(
    work: Work,
    challenge: Challenge,
    rows: Iterable[tuple[CsvTrial, UUID | None, TrialState]],
    problems: TableProblems,
) -> None:
    """Note each counted row whose student has had all attempts, or that names nobody.

    As on a tablet, what was counted before is part of it and a misfire takes no attempt.
    """
    most = challenge.counting.attempts
    had: Counter[UUID] = Counter()
    for row, student_id, state in rows:
        if row.kind is not TrialKind.COUNTED or state is not TrialState.MEASURED:
            continue
        if student_id is None:
            if not row.student:
                what = Message("imports.counted_attempt_belongs_to_somebody")
                problems.note(row.row, "student", what)
            continue
        if student_id not in had:
            had[student_id] = count_attempts(work.session, challenge_id_of(challenge), student_id)
        had[student_id] += 1
        if had[student_id] > most:
            what = Message("imports.has_had_all_counted_attempts", student=row.student, most=most)
            problems.note(row.row, "kind", what)
