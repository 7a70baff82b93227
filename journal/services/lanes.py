"""The lane: closed by one tap or a near-miss, opened by the checklist, asked for by every tablet.

Closed stops launching (or loading), not logging: an entry is taken, and one made while the lane
was closed is marked for the teacher.
"""

from __future__ import annotations

from uuid import UUID

from journal.content.gates import get_lane_words
from journal.content.messages import word_message
from journal.domain.actors import Role
from journal.domain.classes import SchoolClass
from journal.domain.messages import Message
from journal.domain.permits import require_own_tablet
from journal.domain.sessions import CloseReason, LaneState, Session
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.services.sessions import get_own_session
from journal.store import challenges, classes, sessions

#: Where nothing can be kept the lane stays as it was, on every tablet.
NOT_CLOSED = Message("lanes.nothing_was_kept")


def close_lane(work: Work, session_id: UUID) -> SchoolClass:
    """Close the lane of the teacher's session; closing it twice does nothing."""
    session, school_class = get_own_session(work, session_id)
    shut_lane(work, session, CloseReason.TEACHER)
    return school_class


def shut_lane(work: Work, session: Session, by: CloseReason) -> None:
    """Close the lane of a session, whatever closes it; who may is asked by the caller."""
    if session.is_running and sessions.close_lane(work.session, session.id, work.now(), by):
        classes.bump_version(work.session, session.class_id)


def find_lane(work: Work, group_id: UUID) -> tuple[str, LaneState]:
    """Return the lane of a group and a mark that changes with it.

    A tablet asks this every two seconds, so it is one query for its own group.
    """
    if work.actor.role is Role.TABLET and work.actor.class_id is not None:
        require_own_tablet(work.actor, group_id)
        class_id = work.actor.class_id
    else:
        class_id = get_group_context(work, group_id).school_class.id
    found = sessions.find_lane(work.session, class_id)
    if found is None:
        return LaneState.NONE.value, LaneState.NONE
    session_id, state = found
    return f"{session_id}-{state.value}", state


def describe_near_miss(work: Work, group_id: UUID) -> str:
    """Return what a near-miss did, in one or two sentences."""
    context = get_group_context(work, group_id)
    language = context.school_class.language
    if context.running is None or not context.challenge.has_gate:
        return word_message(Message("lanes.near_miss_is_kept"), language)
    words = get_lane_words(language, launches=context.challenge.launches)
    message = Message("lanes.near_miss_is_kept_and", lane=words["closed"])
    return word_message(message, language)


def describe_opening(work: Work, session_id: UUID) -> str:
    """Return the sentence that says so."""
    session, school_class = get_own_session(work, session_id)
    challenge = challenges.get_challenge(work.session, session.challenge_id)
    return get_lane_words(school_class.language, launches=challenge.launches)["opened"]
