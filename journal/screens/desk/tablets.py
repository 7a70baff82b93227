"""What the teacher sees of the tablets at the door."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from journal.content.messages import word_message
from journal.content.shown_times import show_time
from journal.domain.actors import Tablet, TabletState
from journal.domain.groups import Group
from journal.domain.guesses import STRANGERS_LIMIT, Tally, is_free, pause_left
from journal.domain.messages import Message
from journal.records.work import Work
from journal.services.guesses import find_strangers
from journal.services.tablets import list_tablets
from journal.store import classes, groups

#: How long after the last wrong word of a guesser the teacher still reads of it.
TOLD_FOR = timedelta(minutes=15)
_STATES = {
    TabletState.WAITING: Message("tablets.waits_at_the_door"),
    TabletState.IN: Message("tablets.is_in"),
    TabletState.OUT: Message("tablets.was_sent_out"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class TabletLine:
    """One tablet: which group, who tapped in, where it stands."""

    id: UUID
    number: int
    group: str
    student: str
    state: str
    state_words: str
    since: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TabletsPage:
    """The tablets of a class, and a mark that changes when they do."""

    class_id: UUID
    tablets: tuple[TabletLine, ...]
    seen: str
    #: Sentences about somebody who guesses lesson words; none while nobody does.
    guessing: tuple[str, ...] = ()
    #: Whether new tablets wait for it at this moment.
    holds_up: bool = False
    #: The session on whose page they stand; None on the class's own page.
    session_id: UUID | None = None


def prepare_tablets(work: Work, class_id: UUID, session_id: UUID | None = None) -> TabletsPage:
    """Gather the tablets whose sign-in lasts, waiting ones first.

    `session_id` is that of the session on whose page they stand. One whose child has left the group
    is out for good, so it is no longer listed.
    """
    tablets = list_tablets(work, class_id)
    school_class = classes.get_class(work.session, class_id)
    by_id = {group.id: group for group in groups.groups_of_class(work.session, class_id)}
    lines = tuple(
        _line(tablet, by_id[tablet.group_id], school_class.language)
        for tablet in tablets
        if tablet.student_id is None or by_id[tablet.group_id].has(tablet.student_id)
    )
    now = work.now()
    tally = find_strangers(work)
    guessing = tuple(
        word_message(message, school_class.language) for message in _describe_guessing(tally, now)
    )
    return TabletsPage(
        class_id=class_id,
        tablets=lines,
        seen=_mark(school_class.door.value, lines, guessing),
        guessing=guessing,
        holds_up=bool(pause_left(tally, now)),
        session_id=session_id,
    )


def _describe_guessing(tally: Tally | None, now: datetime) -> tuple[Message, ...]:
    """Say that somebody guesses, and who waits for it, up to a while after the last wrong word."""
    if tally is None or not tally.pauses or abs(now - tally.last_at) > TOLD_FOR:
        return ()
    first = Message(
        "tablets.somebody_is_guessing_lesson_words",
        free=STRANGERS_LIMIT.free,
        last_at=show_time(tally.last_at),
    )
    if tally.paused_until is not None and pause_left(tally, now):
        until = show_time(tally.paused_until + timedelta(minutes=1))
        wait = Message("tablets.new_tablets_wait", until=until)
        return (first, wait)
    if is_free(tally, now):
        return (first, Message("tablets.you_let_new_tablets_try_now"))
    return (first, Message("tablets.no_tablet_waits_for_it_now"))


def _line(tablet: Tablet, group: Group, language: str) -> TabletLine:
    names = {member.student_id: member.nickname for member in group.members}
    return TabletLine(
        id=tablet.sign_in_id,
        number=group.number,
        group=group.name,
        student=names.get(tablet.student_id, "") if tablet.student_id else "",
        state=tablet.state.value,
        state_words=word_message(_STATES[tablet.state], language),
        since=show_time(tablet.signed_in_at),
    )


def _mark(door: str, lines: tuple[TabletLine, ...], guessing: tuple[str, ...]) -> str:
    shown = f"{door} {lines!r} {guessing!r}"
    return hashlib.sha256(shown.encode("utf-8", "surrogatepass")).hexdigest()[:16]
