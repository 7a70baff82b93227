"""Where a group works now: its class, its challenge, the running session.

Nearly every use case of a group starts here, so the permit is asked here too.
"""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from journal.domain.actors import Role
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import NoChallenge, NotFound
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.permits import require_may_see_group
from journal.domain.sessions import Session
from journal.records.work import Work
from journal.store import challenges, classes, groups, sessions


def get_group_context(work: Work, group_id: UUID, challenge_id: UUID | None = None) -> GroupContext:
    """Return the group's context; raise NotFound for another's group.

    Raises NoChallenge where the class has none. With `challenge_id` it is the context in another
    challenge of the class, such as the one before.
    """
    group = groups.get_group(work.session, group_id)
    school_class = classes.get_class(work.session, group.class_id)
    require_may_see_group(work.actor, group, school_class)
    all_sessions = sessions.sessions_of_class(work.session, school_class.id)
    opened = challenges.challenges_of_class(work.session, school_class.id)
    if challenge_id is None:
        challenge = _choose_present(school_class, opened, all_sessions)
    else:
        challenge = _find_challenge(opened, challenge_id)
    held = {session.challenge_id for session in all_sessions}
    return GroupContext(
        group=group,
        school_class=school_class,
        challenge=challenge,
        sessions=_sessions_of(challenge, all_sessions),
        for_teacher=work.actor.role is Role.TEACHER,
        others=tuple(other for other in opened if other.id in held and other.id != challenge.id),
    )


def get_present_challenge(
    work: Work, school_class: SchoolClass
) -> tuple[Challenge, tuple[Session, ...]]:
    """Return the challenge the class works on, with its sessions.

    It is that of the running session, else of the last one, else the one opened last.
    """
    all_sessions = sessions.sessions_of_class(work.session, school_class.id)
    opened = challenges.challenges_of_class(work.session, school_class.id)
    challenge = _choose_present(school_class, opened, all_sessions)
    return challenge, _sessions_of(challenge, all_sessions)


def _choose_present(
    school_class: SchoolClass, opened: Sequence[Challenge], all_sessions: Sequence[Session]
) -> Challenge:
    if not opened:
        raise NoChallenge(school_class.id)
    running = [session for session in all_sessions if session.is_running]
    for last in (running or all_sessions)[-1:]:
        return _find_challenge(opened, last.challenge_id)
    return opened[0]


def _find_challenge(opened: Sequence[Challenge], challenge_id: UUID) -> Challenge:
    challenge = next((challenge for challenge in opened if challenge.id == challenge_id), None)
    if challenge is None:
        message = Message("challenges.no_such_challenge_in_this_class")
        raise NotFound(message)
    return challenge


def _sessions_of(challenge: Challenge, all_sessions: Sequence[Session]) -> tuple[Session, ...]:
    return tuple(session for session in all_sessions if session.challenge_id == challenge.id)
