"""What the page of a class's ladder shows: the rungs, the journal's questions, the teacher's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.content.asking import AskingFact, get_asking_facts
from journal.content.bands import which_measures
from journal.content.ladders import get_question
from journal.content.messages import word_message
from journal.content.rungs import get_rung_name, get_rung_purpose
from journal.content.texts import slots_of
from journal.domain.classes import SchoolClass
from journal.domain.ladders import RUNGS, Rung
from journal.domain.messages import Message
from journal.records.work import Work
from journal.screens.desk.classes import GRADES, Errors
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class
from journal.services.ladder_texts import BACK, journal_question, texts_in_force


@dataclass(frozen=True, slots=True, kw_only=True)
class RungBlock:
    """One rung on the page."""

    #: The name of its field.
    rung: str
    name: str
    purpose: str
    #: What the journal asks there first.
    journal: str
    #: The journal names what the group changed, which a teacher's words do not.
    names_change: bool
    #: What stands in the field.
    text: str
    #: The teacher's text that holds, where another one stands in the field; else "".
    kept: str
    #: The teacher's words hold there now, so that one can go back.
    is_own: bool
    goes_back: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderTextsPage:
    """The six questions of a class's ladder."""

    frame: DeskFrame
    class_id: UUID
    rungs: tuple[RungBlock, ...]
    most_words: int
    #: Why it asks as it does.
    facts: tuple[AskingFact, ...]
    errors: Errors


def prepare_ladder_texts(
    work: Work,
    class_id: UUID,
    entered: Mapping[str, str] | None = None,
    errors: Errors | None = None,
) -> LadderTextsPage:
    """Gather the page; what was entered stands in its fields again after a problem."""
    school_class = get_own_class(work, class_id)
    held = texts_in_force(work, school_class)
    return LadderTextsPage(
        frame=frame_class(
            school_class,
            word_message(Message("ladder_texts.questions_of_the_ladder"), school_class.language),
            _describe_grades(school_class),
        ),
        class_id=class_id,
        rungs=tuple(_block(school_class, rung, held[rung], entered or {}) for rung in RUNGS),
        most_words=which_measures(school_class.band).most_words_a_sentence,
        facts=get_asking_facts(school_class.language),
        errors=errors or {},
    )


def _describe_grades(school_class: SchoolClass) -> str:
    return f"{school_class.name}, {GRADES[school_class.band]}"


def _block(
    school_class: SchoolClass, rung: Rung, held: str, entered: Mapping[str, str]
) -> RungBlock:
    language = school_class.language
    text = entered.get(rung.value, held)
    return RungBlock(
        rung=rung.value,
        name=get_rung_name(rung, language),
        purpose=get_rung_purpose(rung, language),
        journal=journal_question(school_class, rung),
        names_change=bool(slots_of(get_question(rung, school_class.band, language).text)),
        text=text,
        kept=held if text != held else "",
        is_own=bool(held),
        goes_back=f"{rung.value}{BACK}" in entered,
    )
