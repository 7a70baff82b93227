"""What the students' door shows: lesson word, shelf of groups, names, and the wait."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from journal.content.messages import word_message
from journal.domain.classes import Door, SchoolClass
from journal.domain.groups import Group
from journal.domain.messages import Message
from journal.records.work import Work
from journal.screens.frames import PlainFrame
from journal.services.lesson_words import open_door
from journal.services.tablets import Wait, find_way, get_group_at_door
from journal.store import classes, groups

_STEPS = ("Lesson word", "Your group", "Your name")
_WAIT = "Your teacher"
_WAITS = {
    Wait.LET_IN: Message("lesson_words.your_teacher_lets_you_in"),
    Wait.CHALLENGE: Message("lesson_words.your_teacher_opens_a_challenge"),
    Wait.NOTHING: Message("lesson_words.you_are_in"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the way in: `been`, `now` or `not-yet`."""

    words: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """A group on the shelf."""

    id: UUID
    number: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorPage:
    """One screen of the way in; `group` is None until one was tapped."""

    frame: PlainFrame
    steps: tuple[Step, ...]
    what: str = ""
    band: str = ""
    group: Book | None = None
    books: tuple[Book, ...] = ()
    #: Id and nickname of each member, and the strokes of their mark.
    names: tuple[tuple[str, str, int], ...] = ()
    word: str = ""
    #: What the tablet waits for, in words and as the key it asks with.
    wait: str = ""
    waits_for: str = ""
    errors: Mapping[str, list[str]] | None = None


def prepare_word(word: str = "", errors: Mapping[str, list[str]] | None = None) -> DoorPage:
    """Gather the first screen; what was typed stands in it again after a wrong word."""
    return DoorPage(frame=_frame("en"), steps=_steps(0, knocks=False), word=word, errors=errors)


def prepare_shelf(work: Work, word: str) -> DoorPage:
    """Gather the groups of the class that the word opens; raise Invalid once it has expired."""
    _, school_class = open_door(work, word)
    shelf = groups.groups_of_class(work.session, school_class.id)
    return _page(school_class, 1, books=tuple(_book(group) for group in shelf))


def prepare_names(work: Work, word: str, group_id: UUID) -> DoorPage:
    """Gather the names of one group; nobody sees those of the others."""
    _, school_class = open_door(work, word)
    group = get_group_at_door(work, school_class.id, group_id)
    strokes = group.strokes
    names = tuple(
        (str(member.student_id), member.nickname, strokes[member.student_id])
        for member in group.present_members
    )
    return _page(school_class, 2, group=_book(group), names=names)


def prepare_wait(work: Work) -> DoorPage:
    """Gather the screen of a tablet that waits to be let in."""
    group_id, wait = find_way(work)
    group = groups.get_group(work.session, group_id)
    school_class = classes.get_class(work.session, group.class_id)
    return replace(
        _page(school_class, 3, group=_book(group)),
        wait=word_message(_WAITS[wait], school_class.language),
        waits_for=wait.value,
    )


def _page(
    school_class: SchoolClass,
    step: int,
    *,
    group: Book | None = None,
    books: tuple[Book, ...] = (),
    names: tuple[tuple[str, str, int], ...] = (),
) -> DoorPage:
    knocks = school_class.door is Door.KNOCK or step == len(_STEPS)
    return DoorPage(
        frame=_frame(school_class.language),
        steps=_steps(step, knocks=knocks),
        what=school_class.name,
        band=school_class.band,
        group=group,
        books=books,
        names=names,
    )


def _frame(language: str) -> PlainFrame:
    return PlainFrame(title="Come in", heading="Come in", language=language)


def _steps(now: int, *, knocks: bool) -> tuple[Step, ...]:
    words = (*_STEPS, _WAIT) if knocks else _STEPS
    states = [*["been"] * now, "now", *["not-yet"] * len(words)]
    return tuple(Step(words=text, state=state) for text, state in zip(words, states, strict=False))


def _book(group: Group) -> Book:
    return Book(id=group.id, number=group.number, name=group.name)
