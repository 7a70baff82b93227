"""Practice sets: a group, or its teacher, plans so many practice trials; the tablet counts them."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID, uuid4

from journal.domain.errors import Refused
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.practice_sets import PracticeSet
from journal.domain.trials import Trial
from journal.records.work import Work
from journal.store import classes, practice_sets, trial_counts


def plan_practice(
    work: Work, context: GroupContext, trials: int, *, by_teacher: bool = False
) -> PracticeSet:
    """Keep a practice set; the use case that plans it has asked the permit."""
    planned = PracticeSet(
        id=uuid4(),
        school_id=context.group.school_id,
        group_id=context.group.id,
        challenge_id=context.challenge_id,
        trials=trials,
        started_at=work.now(),
        by_teacher=by_teacher,
    )
    practice_sets.add_practice_set(work.session, planned)
    classes.bump_version(work.session, context.school_class.id)
    return planned


def find_practice(
    work: Work, context: GroupContext, logged: Sequence[Trial]
) -> tuple[PracticeSet, int] | None:
    """Return the practice set that a group is in with how many are done; None where none is open.

    One set by the teacher stands before the group's own: nothing counts before it is through.
    """
    planned = practice_sets.practice_sets_of_groups(
        work.session, [context.group.id], context.challenge_id
    )
    newest = {practice_set.by_teacher: practice_set for practice_set in planned}
    open_ones = [
        (practice_set, done)
        for practice_set in newest.values()
        if (done := practice_set.count_done(logged)) < practice_set.trials
    ]
    return max(
        open_ones,
        key=lambda candidate: (candidate[0].by_teacher, candidate[0].started_at),
        default=None,
    )


def describe_practice(found: tuple[PracticeSet, int] | None) -> str:
    """Return the counter in words, such as "Practice set: 3 of 12"; "" without a set."""
    if found is None:
        return ""
    planned, done = found
    name = "Practice first" if planned.by_teacher else "Practice set"
    return f"{name}: {done} of {planned.trials}."


def require_practised(work: Work, group_id: UUID, challenge_id: UUID) -> None:
    """Raise Refused while practice that the teacher set is not through."""
    planned = practice_sets.practice_sets_of_groups(work.session, [group_id], challenge_id)
    by_teacher = [practice_set for practice_set in planned if practice_set.by_teacher]
    if not by_teacher:
        return
    newest = by_teacher[-1]
    done = trial_counts.count_practice(work.session, group_id, challenge_id, newest.started_at)
    if done < newest.trials:
        message = Message(
            "practice_sets.your_teacher_asks_for_practice_trials_first",
            trials=newest.trials,
            done=done,
        )
        raise Refused(message)
