"""The switch of the lane and its checklist, as the teacher's pages show them."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.content.gates import get_gate_lines, get_lane_words
from journal.content.shown_times import show_time
from journal.domain.challenges import Challenge
from journal.domain.sessions import CloseReason, LaneState, Session
from journal.screens.frames import LaneLine


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
    #: The drawing of how it stands, and of what a tap does.
    icon: str
    do_icon: str


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
    icon: str


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
        since=_describe_since(session),
        do=words["do_close" if is_open else "do_open"],
        first="" if is_open else words["first"],
        icon=name_icon(challenge, is_open=is_open),
        do_icon=name_icon(challenge, is_open=not is_open),
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
        icon=name_icon(challenge, is_open=True),
    )


def view_lane_line(running: Session | None, challenge: Challenge, language: str) -> LaneLine:
    """Return the lane as it stands now, with all that its line may say later."""
    words = get_lane_words(language, launches=challenge.launches)
    state = LaneState.NONE if running is None else running.lane
    return LaneLine(
        state=state.value,
        open=words["open"],
        closed=words["closed"],
        ask=words["ask"],
        none=words["none"],
        open_icon=name_icon(challenge, is_open=True),
        closed_icon=name_icon(challenge, is_open=False),
    )


def name_icon(challenge: Challenge, *, is_open: bool) -> str:
    """Return the drawing: a lane where something is launched, else a load."""
    state = "open" if is_open else "closed"
    return state if challenge.launches else f"load_{state}"


def _describe_since(session: Session) -> str:
    gate = session.gate
    if gate is None:
        return "not opened yet"
    if gate.closed_at is None:
        return f"since {show_time(gate.opened_at)}"
    after = ", near-miss" if gate.closed_by is CloseReason.NEAR_MISS else ""
    return f"since {show_time(gate.closed_at)}{after}"
