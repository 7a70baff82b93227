"""The teacher's page of trials that came late: what waits to be placed, and what was decided."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from journal.content.clock_words import describe_clock
from journal.content.messages import word_error, word_message
from journal.content.shown_times import show_day, show_time
from journal.content.trial_words import describe_entry_state
from journal.domain.challenges import Challenge
from journal.domain.errors import JournalError
from journal.domain.group_contexts import challenge_id_of
from journal.domain.groups import Group
from journal.domain.lengths import show_length
from journal.domain.messages import Message, Words
from journal.domain.parked_trials import ParkedTrial, ParkReason, ParkState
from journal.domain.sessions import Session
from journal.domain.trials import TrialKind
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class
from journal.services.parked_trials import preview_trial
from journal.store import challenges, groups, parked_trials, sessions

Pair = tuple[str, str]
_WHY = {
    ParkReason.NO_SESSION: Message("parked_trials.no_session_was_running"),
    ParkReason.BEFORE_GATE: Message("parked_trials.made_before_the_lane_was_open"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ParkedLine:
    """One entry: what it says, where it could go, what was decided."""

    id: UUID
    number: int
    group: str
    #: Who, and what came of it.
    who: str
    words: str
    when: str
    why: str
    #: Sessions of its challenge, and the one that lies nearest.
    sessions: tuple[Pair, ...]
    chosen: str
    kind: str
    reason: str
    decided: str
    errors: Mapping[str, Sequence[str]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ParkedPage:
    """Everything the page shows."""

    frame: DeskFrame
    class_id: UUID
    waiting: tuple[ParkedLine, ...]
    decided: tuple[ParkedLine, ...]


def describe_waiting_entries(work: Work, group_ids: Sequence[UUID], language: str) -> str:
    """Return how many entries wait for the teacher; "" where none does."""
    count = parked_trials.count_waiting(work.session, group_ids)
    if not count:
        return ""
    return word_message(Message("parked_trials.wait_for_you", count=count), language)


def prepare_parked(
    work: Work,
    class_id: UUID,
    refused: UUID | None = None,
    sent: Mapping[str, str] | None = None,
    errors: Mapping[str, Sequence[str]] | None = None,
) -> ParkedPage:
    """Gather the page; what was refused of one entry stands beside it, as it was sent."""
    school_class = get_own_class(work, class_id)
    of_class = {group.id: group for group in groups.groups_of_class(work.session, class_id)}
    held = sessions.sessions_of_class(work.session, class_id)
    opened = challenges.challenges_of_class(work.session, class_id)
    by_id = {challenge_id_of(challenge): challenge for challenge in opened}
    lines = []
    for parked in parked_trials.parked_of_groups(work.session, of_class):
        given = (sent or {}, errors) if parked.id == refused else ({}, None)
        lines.append(
            (
                parked,
                _line(
                    work,
                    parked,
                    of_class[parked.group_id],
                    held,
                    by_id,
                    *given,
                    school_class.language,
                ),
            )
        )
    return ParkedPage(
        frame=frame_class(school_class, "Late trials", tested=opened),
        class_id=class_id,
        waiting=tuple(line for entry, line in lines if entry.state is ParkState.WAITING),
        decided=tuple(line for entry, line in lines if entry.state is not ParkState.WAITING),
    )


def _line(
    work: Work,
    parked: ParkedTrial,
    group: Group,
    held: Sequence[Session],
    by_id: Mapping[UUID, Challenge],
    sent: Mapping[str, str],
    errors: Mapping[str, Sequence[str]] | None,
    language: str,
) -> ParkedLine:
    fitting, words = _preview(work, parked, held, by_id, language)
    nearest = min(fitting, key=lambda session: _distance(session, parked.made_at), default=None)
    who = parked.entry.student_id
    return ParkedLine(
        id=parked.id,
        number=group.number,
        group=group.name,
        who="" if who is None else group.name_of(who),
        words=words,
        when=_describe_time(parked, language),
        why=word_message(_WHY[parked.why], language),
        sessions=tuple(
            (str(session.id), _describe_session(session, language)) for session in fitting
        ),
        chosen=sent.get("session_id", str(nearest.id) if nearest else ""),
        kind=sent.get("kind", parked.entry.kind.value),
        reason=sent.get("reason", parked.reason),
        decided=word_message(_find_decision(parked, held), language),
        errors=errors,
    )


def _preview(
    work: Work,
    parked: ParkedTrial,
    held: Sequence[Session],
    by_id: Mapping[UUID, Challenge],
    language: str,
) -> tuple[tuple[Session, ...], str]:
    """Return the sessions that an entry fits, and what it says in the challenge's words."""
    used = parked_trials.challenges_of_entry(work.session, parked.entry)
    fitting = tuple(session for session in held if session.challenge_id in used)
    for session in fitting[-1:]:
        try:
            trial = preview_trial(work, parked, session.id)
        except JournalError as error:
            return fitting, word_error(error, language)
        return fitting, describe_entry_state(by_id[session.challenge_id], trial)
    counted = "counted" if parked.entry.kind is TrialKind.COUNTED else "practice"
    return fitting, counted


def _distance(session: Session, made_at: datetime) -> float:
    ends_at = session.ended_at or max(made_at, session.started_at)
    before = (session.started_at - made_at).total_seconds()
    after = (made_at - ends_at).total_seconds()
    return max(before, after, 0.0)


def _describe_session(session: Session, language: str) -> str:
    day, time = show_day(session.started_at), show_time(session.started_at)
    span = (
        Message("parked_trials.still_running", day=day, time=time)
        if session.ended_at is None
        else Message(
            "parked_trials.from_to", day=day, time=time, ended_at=show_time(session.ended_at)
        )
    )
    parts: list[Message] = [Message("parked_trials.session", number=session.number), span]
    if session.distance_mm is not None:
        parts.append(Message("parked_trials.away", distance=show_length(session.distance_mm)))
    return ", ".join(word_message(part, language) for part in parts)


def _describe_time(parked: ParkedTrial, language: str) -> str:
    made, came = parked.made_at, parked.received_at
    message = Message(
        "parked_trials.made_and_came",
        made_on=show_day(made),
        made_at=show_time(made),
        came_on=show_day(came),
        came_at=show_time(came),
    )
    times = (word_message(message, language), describe_clock(parked.clock_slow_s, language))
    return f"{'; '.join(part for part in times if part)}."


def _find_decision(parked: ParkedTrial, held: Sequence[Session]) -> Words:
    if parked.decided_at is None:
        return ""
    on = show_day(parked.decided_at)
    if parked.session_id is None:
        return Message("parked_trials.discarded_on", day=on, reason=parked.reason)
    number = next((session.number for session in held if session.id == parked.session_id), 0)
    return Message("parked_trials.placed_in_session", number=number, day=on)
