"""A group is asked in the language that its teacher chose for it."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.content.ladders import get_question
from journal.domain.actors import NOBODY
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, NotAllowed, NotFound, SignedOut
from journal.domain.ladders import RUNGS, AnswerEntry, Rung
from journal.portfolio.notes import list_asked
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.groups import set_question_language
from journal.services.ladder_questions import present_question, put_question
from journal.services.ladders import answer_rung, start_climb
from journal.store import classes, groups, ladders
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import sentences_of
from tests.services.test_classes import another_teacher

BAND = GradeBand.THREE_TO_FIVE
SPANISH = {rung: get_question(rung, BAND, "es").plain for rung in RUNGS}
ENGLISH = {rung: get_question(rung, BAND, "en").plain for rung in RUNGS}


def choose(store: Store, clock: StandingClock, room: Classroom, language: str) -> None:
    """Let the teacher choose a language for the first group."""
    with open_work(store, room.teacher, clock=clock) as work:
        set_question_language(work, room.class_id, room.group_ids[0], language)


def asked(store: Store, clock: StandingClock, room: Classroom, group: int = 0) -> str:
    """Return the question that a group reads, on the ladder from now on."""
    with open_work(store, room.tablets[group], clock=clock) as work:
        climb = start_climb(work, room.group_ids[group])
        record = gather_group(work, get_group_context(work, climb.group_id))
        return present_question(work, record, climb).text


def test_one_group_is_asked_in_spanish_and_the_other_in_english(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Without a choice it is the language of the class; a choice can be taken back."""
    choose(store, clock, classroom, "es")
    assert SPANISH[Rung.NOTICE] == asked(store, clock, classroom)
    assert ENGLISH[Rung.NOTICE] == asked(store, clock, classroom, group=1)
    choose(store, clock, classroom, "en")
    assert ENGLISH[Rung.NOTICE] == asked(store, clock, classroom)


def test_starters_are_in_the_language_of_the_question(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """And it is said which one that is."""
    choose(store, clock, classroom, "es")
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        context = get_group_context(work, classroom.group_ids[0])
        for rung in RUNGS:
            question = put_question(context, rung, ())
            assert SPANISH[rung] == question.text == question.aloud
            assert get_question(rung, BAND, "es").starters == question.starters
            assert "es" == question.language


def test_the_choice_is_kept_with_the_group_and_told_to_the_overview(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Every way to the group knows it; the class counts one change."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        before = classes.get_class(work.session, classroom.class_id).version
    choose(store, clock, classroom, "es")
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        first, second = groups.groups_of_class(work.session, classroom.class_id)
        assert ("es", None) == (first.question_language, second.question_language)
        assert "es" == groups.get_group(work.session, first.id).question_language
        assert classes.get_class(work.session, classroom.class_id).version == before + 1


@pytest.mark.parametrize("language", ["", "xx", "Español", "../es", "ES"])
def test_a_language_without_a_ladder_is_refused_in_words(
    store: Store, clock: StandingClock, classroom: Classroom, language: str
) -> None:
    """What was chosen before holds."""
    choose(store, clock, classroom, "es")
    with pytest.raises(Invalid) as caught:
        choose(store, clock, classroom, language)
    expected = "There are no questions in this language. Choose English or Español."
    assert {"language": [expected]} == sentences_of(caught.value)
    assert SPANISH[Rung.NOTICE] == asked(store, clock, classroom)


def test_only_the_teacher_of_the_class_chooses(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Neither a tablet nor a teacher of another class, nor for a group of another class."""
    first, group_id = classroom.class_id, classroom.group_ids[0]
    cases = [
        (NOBODY, group_id, SignedOut),
        (classroom.tablets[0], group_id, NotAllowed),
        (another_teacher(store, classroom), group_id, NotFound),
        (classroom.teacher, uuid4(), NotFound),
    ]
    for actor, group, refused in cases:
        with open_work(store, actor, clock=clock) as work, pytest.raises(refused):
            set_question_language(work, first, group, "es")


def test_an_open_question_changes_at_once_and_an_answered_one_stays(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Children who cannot read it are before the teacher; what was read is kept."""
    assert ENGLISH[Rung.NOTICE] == asked(store, clock, classroom)
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        answer_rung(work, classroom.group_ids[0], _answer(Rung.NOTICE))
    assert ENGLISH[Rung.COMPARE] == asked(store, clock, classroom)
    choose(store, clock, classroom, "es")
    assert SPANISH[Rung.COMPARE] == asked(store, clock, classroom)
    assert [ENGLISH[Rung.NOTICE]] == _kept(store, classroom)


def test_the_portfolio_knows_in_which_language_was_asked(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Each printed question by itself, whatever is chosen now."""
    for rung, language in ((Rung.NOTICE, "en"), (Rung.COMPARE, "es"), (Rung.EXPLAIN, "en")):
        choose(store, clock, classroom, language)
        asked(store, clock, classroom)
        clock.move(seconds=5)
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            answer_rung(work, classroom.group_ids[0], _answer(rung))
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        record = gather_group(work, get_group_context(work, classroom.group_ids[0]))
    assert ["en", "es", "en"] == [one.language for one in list_asked(record, record.parts)]


def _answer(rung: Rung) -> AnswerEntry:
    return AnswerEntry(rung=rung, question="", words="They lie low.")


def _kept(store: Store, room: Classroom) -> list[str]:
    with open_work(store, room.teacher, writing=False) as work:
        climbs = ladders.climbs_of_groups(work.session, [room.group_ids[0]], room.challenge_id)
    return [answer.question for climb in climbs for answer in climb.answers]
