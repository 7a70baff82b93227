"""What the board shows: addresses, lesson word, groups that are in, today's lines, lane, minutes.

It hangs before everybody, so it names groups and no child.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from journal.charts.codes import draw_code
from journal.content.board_words import get_board_text
from journal.content.shown_times import show_time
from journal.domain.actors import Role
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.lesson_times import find_times
from journal.domain.sessions import Session
from journal.records.work import Work
from journal.screens.desk.next_steps import find_next_step
from journal.screens.frames import LaneLine, NextStep, PlainFrame
from journal.screens.lanes import view_lane_line
from journal.services.boards import find_groups_in, get_class_of_board
from journal.store import challenges, classes, groups, sessions

#: More codes than these find no place on a board.
MOST_ADDRESSES = 2
#: A longer word is written smaller.
LONG_WORD = 19
_GROUPED = re.compile(r"[0-9]+|[^0-9.:]+|[.:]")


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardAddress:
    """An address to be typed, in pieces that stand apart, and its code."""

    pieces: tuple[str, ...]
    code_svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardGroup:
    """A group's place on the board."""

    number: int
    name: str
    is_in: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardMinutes:
    """The minutes left, large, and what stands beside them."""

    figure: str
    words: str
    clean_up: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPage:
    """The whole board; what moves is asked for again and again."""

    frame: PlainFrame
    class_id: UUID
    what: str
    addresses: tuple[BoardAddress, ...]
    word: str
    word_is_long: bool
    minutes: BoardMinutes | None
    groups: tuple[BoardGroup, ...]
    plan: tuple[str, ...]
    #: None where nothing is launched or loaded.
    lane: BoardLane | None
    words: BoardWords
    #: A mark that changes when anything that moves does.
    seen: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardLane:
    """The lane's line and the caution that always stands beside it."""

    line: LaneLine
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardWords:
    """The fixed words of the board; `put_up` is "" on a board that is up."""

    open: str
    word: str
    groups: str
    today: str
    put_up: str
    put_up_why: str
    #: The way back to the class, for the teacher.
    back: str
    #: For the teacher where no session runs.
    next_step: NextStep | None


def prepare_board(work: Work, class_id: UUID, links: Sequence[str]) -> BoardPage:
    """Gather the board; `links` are the addresses under which tablets reach the journal."""
    school_class = get_class_of_board(work, class_id)
    language = school_class.language
    running = sessions.find_running(work.session, class_id)
    challenge = _find_challenge(work, running)
    found = classes.find_word(work.session, class_id, work.now())
    word = "" if found is None else found[0]
    inside = find_groups_in(work, class_id)
    shelf = groups.groups_of_class(work.session, class_id)
    is_up = work.actor.role is Role.BOARD
    title = get_board_text(language, "title", name=school_class.name)
    page = BoardPage(
        frame=PlainFrame(title=title, heading=title, language=language),
        class_id=class_id,
        what=_describe(school_class, running, challenge),
        addresses=tuple(_address(link, language) for link in links[:MOST_ADDRESSES]),
        word=word,
        word_is_long=len(word) > LONG_WORD,
        minutes=None if running is None else _minutes(running, language, work.now()),
        groups=tuple(
            BoardGroup(number=group.number, name=group.name, is_in=group.id in inside)
            for group in shelf
        ),
        plan=() if running is None else running.plan_lines,
        lane=_lane(running, challenge, language),
        words=BoardWords(
            open=get_board_text(language, "open"),
            word=get_board_text(language, "word" if word else "no_word"),
            groups=get_board_text(language, "groups", here=len(inside), all=len(shelf)),
            today=get_board_text(language, "today"),
            put_up="" if is_up or running is None else get_board_text(language, "put_up"),
            put_up_why=get_board_text(language, "put_up_why"),
            back=school_class.name,
            next_step=None if is_up or running else find_next_step(work, school_class),
        ),
    )
    return replace(page, seen=_mark(page))


def _find_challenge(work: Work, running: Session | None) -> Challenge | None:
    if running is None:
        return None
    return challenges.get_challenge(work.session, running.challenge_id)


def _describe(
    school_class: SchoolClass, running: Session | None, challenge: Challenge | None
) -> str:
    language = school_class.language
    if running is None or challenge is None:
        return f"{school_class.name}, {get_board_text(language, 'none').lower()}"
    session = get_board_text(language, "session", number=running.number)
    return f"{challenge.title}, {school_class.name}, {session}"


def _address(link: str, language: str) -> BoardAddress:
    typed = link.rpartition("://")[2].removesuffix("/")
    # A code holds capitals, figures and signs in fewer and so larger squares.
    is_numeric = not re.search("[a-z]", typed)
    return BoardAddress(
        pieces=tuple(_GROUPED.findall(typed)),
        code_svg=draw_code(
            link.upper() if is_numeric else link,
            title=get_board_text(language, "code", link=typed),
        ),
    )


def _minutes(running: Session, language: str, now: datetime) -> BoardMinutes | None:
    times = find_times(running, now)
    if running.is_paused:
        return BoardMinutes(figure=get_board_text(language, "paused"), words="", clean_up="")
    if times is None:
        return None
    if times.is_over:
        return BoardMinutes(figure=get_board_text(language, "over"), words="", clean_up="")
    return BoardMinutes(
        figure=str(times.minutes_left),
        words=get_board_text(language, "minutes"),
        clean_up=get_board_text(language, "clean_up", time=show_time(times.clean_up_at)),
    )


def _lane(running: Session | None, challenge: Challenge | None, language: str) -> BoardLane | None:
    if running is None or challenge is None or not challenge.has_gate:
        return None
    line = view_lane_line(running, challenge, language)
    return BoardLane(line=line, caution=challenge.caution)


def _mark(page: BoardPage) -> str:
    shown = repr((page.what, page.word, page.minutes, page.groups, page.plan, page.lane is None))
    return hashlib.sha256(shown.encode("utf-8", "surrogatepass")).hexdigest()[:16]
