"""The lane: closed by one tap or a near-miss, opened by the checklist, asked for by every tablet.

Closed stops launching (or loading), not logging: an entry is taken, and one made while the lane
was closed is marked for the teacher.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.content.gates import get_gate_lines, get_lane_words
from journal.domain.actors import Role
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.permits import require_own_tablet
from journal.domain.sessions import CloseReason, LaneState, Session
from journal.services.benches import get_bench
from journal.services.sessions import get_own_session
from journal.services.shown_times import show_time
from journal.services.work import Work
from journal.store import challenges, classes, sessions


@dataclass(frozen=True, slots=True, kw_only=True)
class LaneSwitch:
    """The teacher's switch: how the lane stands, since when, and what a tap does."""

    session_id: UUID
    is_open: bool
    #: Such as "Lane open" and "since 10:42", or "closed at 10:50 after a near-miss".
    state: str
    since: str
    #: What the other half says, and the quiet words under it.
    do: str
    first: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Checklist:
    """The lines that a teacher ticks before the lane opens."""

    heading: str
    lines: tuple[tuple[str, str], ...]
    ticked: tuple[str, ...]
    do: str
    #: When the lane was closed last, as the form sends it back; "" before its first opening.
    seen: str
    safety: tuple[str, ...]


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
        class_id = get_bench(work, group_id).school_class.id
    found = sessions.find_lane(work.session, class_id)
    if found is None:
        return "none", LaneState.CLOSED
    session_id, state = found
    return f"{session_id}-{state.value}", state


def tell_near_miss(work: Work, group_id: UUID) -> str:
    """Return what a near-miss did, in one or two sentences."""
    bench = get_bench(work, group_id)
    if bench.running is None or not bench.challenge.has_gate:
        return "The near-miss is kept."
    words = get_lane_words(bench.school_class.language, launches=bench.challenge.launches)
    return f"The near-miss is kept. {words['closed']}"


def view_switch(session: Session, challenge: Challenge, language: str) -> LaneSwitch | None:
    """Return the switch of a running session; None where nothing is launched or loaded."""
    if not challenge.has_gate or not session.is_running:
        return None
    words = get_lane_words(language, launches=challenge.launches)
    is_open = session.lane is LaneState.OPEN
    return LaneSwitch(
        session_id=session.id,
        is_open=is_open,
        state=words["open" if is_open else "closed"].rstrip("."),
        since=_tell_since(session),
        do=words["do_close" if is_open else "do_open"],
        first="" if is_open else words["first"],
    )


def view_checklist(
    session: Session, challenge: Challenge, language: str, ticked: tuple[str, ...]
) -> Checklist | None:
    """Return the checklist of a session whose lane is closed."""
    if not challenge.has_gate or not session.is_running or session.lane is LaneState.OPEN:
        return None
    launches = challenge.launches
    words = get_lane_words(language, launches=launches)
    return Checklist(
        heading=words["before"] if session.gate is None else words["do_open"],
        lines=tuple(
            (check.value, line)
            for check, line in get_gate_lines(language, launches=launches).items()
        ),
        ticked=ticked,
        do=words["do_open"],
        seen=session.lane_mark,
        safety=tuple(line.text for line in challenge.safety),
    )


def tell_opened(work: Work, session_id: UUID) -> str:
    """Return the sentence that says so."""
    session, school_class = get_own_session(work, session_id)
    challenge = challenges.get_challenge(work.session, session.challenge_id)
    return get_lane_words(school_class.language, launches=challenge.launches)["opened"]


def _tell_since(session: Session) -> str:
    gate = session.gate
    if gate is None:
        return "not opened yet"
    if gate.closed_at is None:
        return f"since {show_time(gate.opened_at)}"
    after = ", near-miss" if gate.closed_by is CloseReason.NEAR_MISS else ""
    return f"since {show_time(gate.closed_at)}{after}"
