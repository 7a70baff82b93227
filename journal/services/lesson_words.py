"""Lesson words: the teacher makes one, and it opens the class's door until it expires."""

from __future__ import annotations

import secrets
from datetime import timedelta
from uuid import UUID

from journal.content.lesson_words import get_lesson_words
from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid
from journal.domain.lesson_words import build_word, count_words, read_hours, read_word
from journal.domain.messages import Message
from journal.records.work import Work
from journal.services.browsers import known_for
from journal.services.classes import get_own_class
from journal.services.guesses import (
    STRANGERS_AT_DOOR,
    Guesser,
    are_strangers_free,
    count_guess,
    take_back,
)
from journal.store import classes

#: One answer, whatever was typed: nobody learns which words there are.
UNKNOWN = Message("lesson_words.that_word_opens_no_door_now")
USUAL_HOURS = 2


def make_lesson_word(work: Work, class_id: UUID, hours: str = str(USUAL_HOURS)) -> str:
    """Give the class a new lesson word in place of the present one; raise Invalid for the hours.

    It is drawn by the machine's own generator for secrets. A word that some class has is drawn
    again; with millions of words and a school's classes that is rare.
    """
    school_class = get_own_class(work, class_id)
    expires_at = work.now() + timedelta(hours=read_hours(hours))
    words = get_lesson_words(school_class.language)
    while True:
        word = build_word(words, secrets.randbelow(count_words(words)))
        if classes.add_lesson_word(work.session, school_class, word, expires_at):
            break
    classes.bump_version(work.session, class_id)
    return word


def end_lesson_word(work: Work, class_id: UUID) -> None:
    """Let the class's lesson word expire now; tablets that are in stay in."""
    get_own_class(work, class_id)
    classes.drop_lesson_words(work.session, class_id)
    classes.bump_version(work.session, class_id)


def try_word(work: Work, typed: str, browser: str) -> tuple[str, Invalid | None]:
    """Return the lesson word as it is kept, or what is told a browser that brought a wrong one.

    A wrong one is counted, so the refusal is returned: raised, it would undo the counting.
    """
    guessers = guessers_at_door(work, browser)
    refused = count_guess(work, guessers, "word")
    if refused is not None:
        return "", refused
    try:
        word, _ = open_door(work, typed)
    except Invalid as wrong:
        return "", wrong
    # One who has a right word may try for another one, so that a right one clears nothing else.
    take_back(work, guessers, anew=False)
    return word, None


def guessers_at_door(work: Work, browser: str) -> tuple[Guesser, ...]:
    """Return with whom the wrong words of a browser are counted; nobody's are in a free while."""
    known = known_for(work, browser)
    if known:
        return (Guesser(kind="browser, lesson word", who=str(min(known.values()))),)
    own = Guesser(kind="browser, lesson word", who=browser)
    return () if are_strangers_free(work) else (own, STRANGERS_AT_DOOR)


def open_door(work: Work, typed: str) -> tuple[str, SchoolClass]:
    """Return the lesson word as it is kept and the class it opens; raise Invalid otherwise.

    The word is the permit: whoever brings it may see the names on that class's door.
    """
    word = read_word(typed)
    found = classes.find_class_by_word(work.session, word, work.now()) if word else None
    if found is None:
        raise Invalid.at("word", UNKNOWN)
    return found
