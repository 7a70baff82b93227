"""A teacher's own questions of the ladder, for one class: a rung each, or the journal's words."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Mapping
from functools import cache
from itertools import product
from uuid import UUID

from journal.content.ladder_wordings import find_fault
from journal.content.ladders import all_questions, get_question
from journal.content.rungs import get_rung_name
from journal.domain.classes import GradeBand, SchoolClass
from journal.domain.errors import Invalid, Problem
from journal.domain.ladder_texts import find_named, find_text
from journal.domain.ladders import RUNGS, Rung
from journal.domain.messages import Message, Words
from journal.domain.sentences import clean_words
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import classes, ladder_texts, people

#: Behind a rung's value: the field that asks for the journal's words again.
BACK = "_back"
_LETTERS = re.compile(r"[^\W\d_]+")


def set_ladder_texts(work: Work, class_id: UUID, entered: Mapping[str, str]) -> tuple[Rung, ...]:
    """Keep the questions that the teacher wrote for a class; return the rungs that changed.

    `entered` holds a text by the rung's value, and `<rung>_back` where the journal's words are
    wanted again; a rung that is not named stays as it is. Raises Invalid with a Problem beside
    each text that cannot be taken; then none is kept, and what was kept before holds.
    """
    school_class = get_own_class(work, class_id)
    held = texts_in_force(work, school_class)
    wanted = {rung: _read_text(rung, entered, held[rung]) for rung in RUNGS}
    nicknames = [student.nickname for student in people.students_of_class(work.session, class_id)]
    problems = [
        Problem(rung.value, fault)
        for rung in RUNGS
        if (fault := _find_fault(school_class, rung, wanted, nicknames)) is not None
    ]
    if problems:
        message = Message("ladder_texts.questions_are_not_kept_yet")
        raise Invalid(message, problems)
    changed = []
    for rung, text in wanted.items():
        # The journal's own words are not kept a second time: they may be mended one day.
        own = "" if text == journal_question(school_class, rung) else text or ""
        if own != held[rung]:
            ladder_texts.set_text(work.session, school_class, rung, own, work.now())
            changed.append(rung)
    if changed:
        classes.bump_version(work.session, class_id)
    return tuple(changed)


def texts_in_force(work: Work, school_class: SchoolClass) -> dict[Rung, str]:
    """Return the teacher's wording of each rung as it holds now; "" for the journal's words."""
    kept = ladder_texts.texts_of_class(work.session, school_class)
    return {rung: find_text(kept, rung) for rung in RUNGS}


def journal_question(school_class: SchoolClass, rung: Rung) -> str:
    """Return the journal's first question of a rung in the class's words, without slots."""
    return get_question(rung, school_class.band, school_class.language).plain


def _read_text(rung: Rung, entered: Mapping[str, str], held: str) -> str | None:
    """Return the text that a rung is to have, "" for the journal's words; None for no text at all.

    Only a rung that had a text can be without one: any other asks what the journal asks.
    """
    if f"{rung.value}{BACK}" in entered:
        return ""
    text = unicodedata.normalize("NFC", clean_words(entered.get(rung.value, held)))
    return None if held and not text else text


def _find_fault(
    school_class: SchoolClass,
    rung: Rung,
    wanted: Mapping[Rung, str | None],
    nicknames: Collection[str],
) -> Words | None:
    """Return what is to be mended in the text of a rung, or None."""
    text, language = wanted[rung], school_class.language
    if text is None:
        name = get_rung_name(rung, language)
        return Message("ladder_texts.rung_has_no_question", name=name)
    if not text:
        return None
    fault = find_fault(text, language)
    if fault is not None:
        return fault
    named = find_named(text, nicknames, _usual_words(language))
    if named is not None:
        return Message("ladder_texts.student_of_this_class", named=named)
    for other in RUNGS:
        asked = wanted[other] or journal_question(school_class, other)
        if other is not rung and asked.casefold() == text.casefold():
            name = get_rung_name(other, language)
            return Message("ladder_texts.rung_asks_this_already", name=name)
    return None


@cache
def _usual_words(language: str) -> frozenset[str]:
    """Return the words of the journal's own questions, which are usual ones, in small letters."""
    return frozenset(
        word
        for rung, band in product(Rung, GradeBand)
        for question in all_questions(rung, band, language)
        for word in _LETTERS.findall(f"{question.text} {question.plain}".lower())
    )
