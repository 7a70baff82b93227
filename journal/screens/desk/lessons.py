"""How far a lesson is and what stands around it: minutes left, pause, plan, the teacher's notes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from journal.charts.lesson_lines import draw_lesson_line
from journal.content.session_words import get_session_text
from journal.content.shown_times import show_time
from journal.domain.lesson_times import LessonTimes, find_times
from journal.domain.sessions import Session
from journal.services.sessions import MOST_PLAN_LINES, may_take_up


@dataclass(frozen=True, slots=True, kw_only=True)
class MinutesLeft:
    """The minutes of a running lesson, and its times of day."""

    minutes: int
    clean_up: str
    minutes_to_clean_up: int
    line_svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LessonView:
    """What a session's page says of the lesson itself."""

    #: None where its length is not known or the session has ended.
    left: MinutesLeft | None
    #: That it is paused, over its time, or has ended; else "".
    state: str
    can_go_on: bool
    plan: str
    plan_hint: str
    notes: str
    notes_hint: str
    #: The teacher's notes of the session before.
    last_notes: str


def view_lesson(
    session: Session,
    held: Sequence[Session],
    language: str,
    now: datetime,
    entered: Mapping[str, str],
) -> LessonView:
    """Return how a lesson stands; `held` are all sessions of its class."""
    times = find_times(session, now)
    can_go_on = session.is_paused or may_take_up(session, held, now)
    before = [other for other in held if other.number < session.number]
    return LessonView(
        left=None if times is None else view_minutes(times, language),
        state=_describe_state(session, times, language, can_go_on=can_go_on),
        can_go_on=can_go_on,
        plan=entered.get("plan", session.plan),
        plan_hint=get_session_text(language, "texts", "plan", lines=MOST_PLAN_LINES),
        notes=entered.get("notes", session.notes),
        notes_hint=get_session_text(language, "texts", "notes"),
        last_notes=before[-1].notes if before else "",
    )


def view_minutes(times: LessonTimes, language: str) -> MinutesLeft:
    """Return the minutes left as a page shows them."""
    start, end = show_time(times.started_at), show_time(times.ends_at)
    clean_up = show_time(times.clean_up_at)
    return MinutesLeft(
        minutes=times.minutes_left,
        clean_up=clean_up,
        minutes_to_clean_up=times.minutes_to_clean_up,
        line_svg=draw_lesson_line(
            share=times.share,
            clean_up_share=times.clean_up_share,
            start=start,
            end=end,
            title=get_session_text(language, "lesson", "line", minutes=times.minutes_left),
            desc=get_session_text(
                language, "lesson", "times", start=start, end=end, clean_up=clean_up
            ),
        ),
    )


def _describe_state(
    session: Session, times: LessonTimes | None, language: str, *, can_go_on: bool
) -> str:
    if session.ended_at is not None:
        key = "ended_just_now" if can_go_on else "ended"
        return get_session_text(language, "state", key)
    if session.paused_at is not None:
        return get_session_text(language, "state", "paused", time=show_time(session.paused_at))
    if times is not None and times.is_over:
        return get_session_text(language, "state", "over")
    return ""
