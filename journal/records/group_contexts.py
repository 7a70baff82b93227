"""Where a group works now: its class, its challenge, the running session.

Nearly every use case of a group starts here, so the permit is asked here too.
"""

from __future__ import annotations

from uuid import UUID

from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound, Refused
from journal.domain.group_contexts import GroupContext
from journal.domain.permits import require_may_see_group
from journal.domain.sessions import Session
from journal.records.work import Work
from journal.store import challenges, classes, groups, sessions


def get_group_context(work: Work, group_id: UUID, challenge_id: UUID | None = None) -> GroupContext:
    """Return the group's context; raise NotFound for another's group, Refused before a challenge.

    With `challenge_id` it is the context in another challenge of the class, such as the one before.
    """
    group = groups.get_group(work.session, group_id)
    school_class = classes.get_class(work.session, group.class_id)
    require_may_see_group(work.actor, group, school_class)
    if challenge_id is None:
        challenge, of_challenge = get_present_challenge(work, school_class)
    else:
        challenge, of_challenge = _get_challenge(work, school_class, challenge_id)
    return GroupContext(
        group=group, school_class=school_class, challenge=challenge, sessions=of_challenge
    )


def other_challenges(work: Work, context: GroupContext) -> tuple[Challenge, ...]:
    """Return the class's other challenges that have had a session, the newest first."""
    held = {
        session.challenge_id
        for session in sessions.sessions_of_class(work.session, context.school_class.id)
    }
    opened = challenges.challenges_of_class(work.session, context.school_class.id)
    return tuple(
        challenge
        for challenge in opened
        if challenge.id in held and challenge.id != context.challenge.id
    )


def _get_challenge(
    work: Work, school_class: SchoolClass, challenge_id: UUID
) -> tuple[Challenge, tuple[Session, ...]]:
    opened = challenges.challenges_of_class(work.session, school_class.id)
    challenge = next((one for one in opened if one.id == challenge_id), None)
    if challenge is None:
        message = "There is no such challenge in this class."
        raise NotFound(message)
    held = sessions.sessions_of_class(work.session, school_class.id)
    return challenge, tuple(session for session in held if session.challenge_id == challenge_id)


def get_present_challenge(
    work: Work, school_class: SchoolClass
) -> tuple[Challenge, tuple[Session, ...]]:
    """Return the challenge the class works on, with its sessions.

    It is that of the running session, else of the last one, else the one opened last.
    """
    all_sessions = sessions.sessions_of_class(work.session, school_class.id)
    opened = challenges.challenges_of_class(work.session, school_class.id)
    if not opened:
        message = "No challenge is open in this class yet. The teacher opens one first."
        raise Refused(message)
    running = [session for session in all_sessions if session.is_running]
    challenge = opened[0]
    for last in (running or all_sessions)[-1:]:
        challenge = next(one for one in opened if one.id == last.challenge_id)
    return challenge, tuple(
        session for session in all_sessions if session.challenge_id == challenge.id
    )
