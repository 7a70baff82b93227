"""The question of a rung that a teacher worded: first, once a lesson, the same while it is read."""

from __future__ import annotations

import pytest

from journal.content.ladders import get_question
from journal.domain.actors import OPERATOR
from journal.domain.classes import GradeBand
from journal.domain.ladders import Rung
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.desk.diagnoses import prepare_diagnosis
from journal.screens.tablet.ladders import prepare_ladder
from journal.services.sessions import end_session, start_session
from journal.store import groups, ladders
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom
from tests.services.worded_lessons import JOURNAL, LATER, OWN, Lesson


@pytest.fixture
def lesson(store: Store, classroom: Classroom, clock: StandingClock) -> Lesson:
    """Return the classroom with its people."""
    return Lesson(store, classroom, clock)


def test_the_teachers_words_come_first_in_the_class(lesson: Lesson) -> None:
    """For each group of it; starters stay those of the band, other rungs the journal's."""
    assert (Rung.NOTICE,) == lesson.word(notice=f"  {OWN}\n", compare="")
    for group in (0, 1):
        lesson.start(group)
        assert OWN == lesson.asked(group)
    with open_work(lesson.store, lesson.room.tablets[0], writing=False) as work:
        page = prepare_ladder(work, lesson.room.group_ids[0])
    assert page.field is not None
    usual = get_question(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "en")
    assert usual.starters == tuple(page.field.starters)
    lesson.answer(Rung.NOTICE)
    assert get_question(Rung.COMPARE, GradeBand.THREE_TO_FIVE, "en").plain == lesson.asked()


def test_a_group_asked_in_another_language_reads_the_journals_words(lesson: Lesson) -> None:
    """The teacher wrote in the language of the class, which that group may not read."""
    lesson.word(notice=OWN)
    with open_work(lesson.store, OPERATOR, clock=lesson.clock) as work:
        groups.set_question_language(work.session, lesson.room.group_ids[0], "es")
        groups.set_question_language(work.session, lesson.room.group_ids[1], "en")
    lesson.start(0)
    lesson.start(1)
    assert get_question(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "es").plain == lesson.asked(0)
    assert OWN == lesson.asked(1)


def test_the_teacher_sees_the_question_as_it_is_put(lesson: Lesson) -> None:
    """On the group's diagnosis as on the group's tablet."""
    lesson.word(notice=OWN)
    lesson.start()
    with open_work(lesson.store, lesson.room.teacher, writing=False, clock=lesson.clock) as work:
        page = prepare_diagnosis(work, lesson.room.group_ids[0])
    assert page.ladder is not None
    assert OWN == page.ladder.question


def test_no_sentence_comes_twice_in_a_lesson(lesson: Lesson) -> None:
    """Once the teacher's was read, the journal's follow; a new lesson begins with it again."""
    lesson.word(notice=OWN)
    read = []
    for _ in range(3):
        lesson.start()
        read.append(lesson.asked())
        lesson.answer(Rung.NOTICE)
        lesson.leave()
    assert [OWN, JOURNAL] == read[:2]
    assert 3 == len(set(read))
    with open_work(lesson.store, lesson.room.teacher, clock=lesson.clock) as work:
        end_session(work, lesson.room.session_id)
        start_session(
            work,
            lesson.room.class_id,
            challenge_id=lesson.room.challenge_id,
            distance="2 m",
            lanes="1",
        )
    lesson.start()
    assert OWN == lesson.asked()


@pytest.mark.parametrize("second", [{"notice": LATER}, {"notice": OWN, "notice_back": "yes"}])
def test_a_question_stays_while_it_is_read(lesson: Lesson, second: dict[str, str]) -> None:
    """What is set after the rung was opened, or taken back, holds from the next time on."""
    lesson.start()
    lesson.word(notice=OWN)
    assert JOURNAL == lesson.asked()
    lesson.answer(Rung.NOTICE)
    lesson.leave()
    lesson.start()
    assert OWN == lesson.asked()
    lesson.word(**second)
    assert OWN == lesson.asked()
    lesson.answer(Rung.NOTICE)
    with open_work(lesson.store, OPERATOR, writing=False) as work:
        climbs = ladders.climbs_of_groups(
            work.session, lesson.room.group_ids, lesson.room.challenge_id
        )
    assert [JOURNAL, OWN] == [answer.question for climb in climbs for answer in climb.answers]
    lesson.leave()
    lesson.start()
    assert lesson.asked() not in {OWN, JOURNAL}


def test_it_costs_one_query_a_question(lesson: Lesson, count_queries: CountQueries) -> None:
    """However many texts there are and however often changed; no other page reads them."""
    lesson.start()
    counts = []
    for text in ("", OWN, LATER):
        if text:
            lesson.word(notice=text)
        with open_work(lesson.store, lesson.room.teacher, writing=False) as work:
            context = get_group_context(work, lesson.room.group_ids[0])
            with count_queries() as gathered:
                gather_group(work, context)
            with count_queries() as statements:
                prepare_ladder(work, context.group.id)
        assert 0 == sum("FROM ladder_texts" in one for one in gathered)
        assert 1 == sum("FROM ladder_texts" in statement for statement in statements)
        counts.append(len(statements))
    assert 1 == len(set(counts))
