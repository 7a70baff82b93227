"""The line that says what a class needs next, on the pages on which its first lesson is made."""

from __future__ import annotations

from journal.content.next_steps import get_later_words, get_step_words
from journal.domain.actors import TabletState
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.next_steps import Standing, steps_left
from journal.domain.sessions import LaneState, Session
from journal.records.work import Work
from journal.screens.frames import NextStep
from journal.services.tablets import list_tablets
from journal.store import challenges, classes, groups, people, sessions
from journal.store.trial_counts import has_trials


def find_next_step(work: Work, school_class: SchoolClass) -> NextStep | None:
    """Return the next step of the class; None where its lesson goes on by itself."""
    running = sessions.find_running(work.session, school_class.id)
    left = steps_left(_standing(work, school_class, running))
    if not left:
        return None
    language = school_class.language
    do, why = get_step_words(left[0], language)
    return NextStep(
        step=left[0].value,
        do=do,
        why=why,
        later=tuple(get_later_words(step, language) for step in left[1:]),
        class_id=school_class.id,
        session_id=None if running is None else running.id,
    )


def _standing(work: Work, school_class: SchoolClass, running: Session | None) -> Standing:
    class_id = school_class.id
    opened = challenges.challenges_of_class(work.session, class_id)
    challenge = _present(opened, running)
    tablets = list_tablets(work, class_id)
    everybody = people.students_of_class(work.session, class_id)
    return Standing(
        has_students=any(not student.left for student in everybody),
        has_groups=bool(groups.groups_of_class(work.session, class_id)),
        has_challenge=bool(opened),
        has_session=running is not None,
        is_paused=running is not None and running.is_paused,
        has_word=classes.find_word(work.session, class_id, work.now()) is not None,
        has_tablets=any(tablet.state is TabletState.IN for tablet in tablets),
        launches=challenge is not None and challenge.has_gate and challenge.launches,
        loads=challenge is not None and challenge.has_gate and not challenge.launches,
        lane_is_open=running is not None and running.lane is LaneState.OPEN,
        has_trials=has_trials(work.session, class_id),
    )


def _present(opened: tuple[Challenge, ...], running: Session | None) -> Challenge | None:
    if running is None:
        return opened[0] if opened else None
    return next(challenge for challenge in opened if challenge.id == running.challenge_id)
