"""A teacher's own questions: what is kept of a form, what is refused, and what holds until then."""

from __future__ import annotations

import pytest

from journal.content.ladders import get_question
from journal.domain.actors import NOBODY, Actor, Role
from journal.domain.classes import GradeBand
from journal.domain.errors import NotAllowed, NotFound, SignedOut
from journal.domain.ladder_texts import MOST_LETTERS
from journal.domain.ladders import Rung
from journal.records.work import open_work
from journal.screens.desk.ladder_texts import prepare_ladder_texts
from journal.services.ladder_texts import set_ladder_texts
from journal.services.rosters import add_students
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.worded_lessons import JOURNAL, LATER, OWN, Lesson


@pytest.fixture
def lesson(store: Store, classroom: Classroom, clock: StandingClock) -> Lesson:
    """Return the classroom with its people."""
    return Lesson(store, classroom, clock)


def test_a_rung_without_a_question_keeps_the_old_text(lesson: Lesson) -> None:
    """Clear words, nothing is saved, and the old text is shown beside the empty field."""
    lesson.word(notice=OWN)
    before = lesson.version()
    entered = {"notice": " \u200b ", "aim": "Where is it to come to rest?"}
    assert {
        "notice": [
            "The rung “Notice” has no question. Write one, or tap “Use the journal’s words”."
        ]
    } == lesson.refuse(**entered)
    assert before == lesson.version()
    assert ("", False) == (lesson.block(Rung.AIM).text, lesson.block(Rung.AIM).is_own)
    assert OWN == lesson.block(Rung.NOTICE).text
    shown = lesson.block(Rung.NOTICE, **entered)
    assert (OWN, True) == (shown.kept, shown.is_own)
    assert entered["aim"] == lesson.block(Rung.AIM, **entered).text
    lesson.start()
    assert OWN == lesson.asked()


def test_a_rung_goes_back_to_the_journals_words(lesson: Lesson) -> None:
    """Whatever stands in its field; the other rungs stay as they are."""
    lesson.word(notice=OWN, aim=LATER)
    assert (Rung.NOTICE,) == lesson.word(notice="Add tape", notice_back="yes", aim=LATER)
    assert ("", False) == (lesson.block(Rung.NOTICE).text, lesson.block(Rung.NOTICE).is_own)
    assert LATER == lesson.block(Rung.AIM).text
    lesson.start()
    assert JOURNAL == lesson.asked()


def test_the_journals_own_words_are_not_kept_as_the_teachers(lesson: Lesson) -> None:
    """Entered as they are quoted, they stay the journal's; over another text they go back to it."""
    before = lesson.version()
    assert () == lesson.word(notice=JOURNAL)
    assert before == lesson.version()
    lesson.word(notice=OWN)
    assert (Rung.NOTICE,) == lesson.word(notice=JOURNAL)
    assert not lesson.block(Rung.NOTICE).is_own


def test_only_a_change_gives_the_overview_news(lesson: Lesson) -> None:
    """Saving the same again changes nothing."""
    before = lesson.version()
    lesson.word(notice=OWN)
    assert before + 1 == lesson.version()
    assert () == lesson.word(notice=OWN)
    assert before + 1 == lesson.version()


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("Look at your trials.", "a question mark"),
        ("Would it fly farther?", "The word “farther” tells what to do. A question only asks."),
        ("Which of the 3 marks?", "A number tells what to do."),
        ("What of the {factor}?", "Leave out the braces"),
        ("{What", "a question mark"),
        ("What did ada do?", "“Ada” is a student of this class. A question never names a person."),
        ("Was it Gia’s dart?", "“Gia” is a student of this class."),
        (f"What{'t' * MOST_LETTERS}?", f"Ask it in {MOST_LETTERS} at most."),
        (
            get_question(Rung.AIM, GradeBand.THREE_TO_FIVE, "en").plain.upper(),
            "The rung “Aim” asks this already.",
        ),
    ],
)
def test_a_text_that_is_no_question_of_the_ladder_is_refused(
    lesson: Lesson, text: str, what: str
) -> None:
    """With a sentence beside its field, and nothing is kept, of the others neither."""
    found = lesson.refuse(notice=text, compare="What stayed alike here?")
    assert ["notice"] == list(found)
    assert what in found["notice"][0]
    assert not lesson.block(Rung.COMPARE).is_own


def test_all_texts_are_looked_at_together(lesson: Lesson) -> None:
    """Each field has its sentence; two rungs that ask the same both have one."""
    found = lesson.refuse(notice="Tape it?", compare=OWN, explain=OWN, aim="", choose_test="No.")
    assert ["compare", "explain", "choose_test"] == list(found)


def test_a_class_with_a_will_may_be_asked_will(lesson: Lesson) -> None:
    """A nickname that is a usual word is a name only where it is written as one."""
    with open_work(lesson.store, lesson.room.teacher, clock=lesson.clock) as work:
        add_students(work, lesson.room.class_id, "Will")
    assert (Rung.AIM,) == lesson.word(aim="What will it look like? Will you see it?")
    assert "“Will” is a student" in lesson.refuse(aim="What did Will see?")["aim"][0]


def test_only_the_teacher_of_the_class_words_it(lesson: Lesson) -> None:
    """A tablet may not, another teacher finds no such class, nobody is led to the door."""
    stranger = Actor(
        role=Role.TEACHER, school_id=lesson.room.school_id, teacher_id=lesson.room.class_id
    )
    for actor, refusal in (
        (lesson.room.tablets[0], NotAllowed),
        (stranger, NotFound),
        (NOBODY, SignedOut),
    ):
        with open_work(lesson.store, actor) as work:
            with pytest.raises(refusal):
                set_ladder_texts(work, lesson.room.class_id, {"notice": OWN})
            with pytest.raises(refusal):
                prepare_ladder_texts(work, lesson.room.class_id)
    assert not lesson.block(Rung.NOTICE).is_own
