"""A teacher's own questions: they come first in the class, and what is kept holds until mended."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from journal.content.ladders import get_question
from journal.domain.actors import NOBODY, OPERATOR, Actor, Role
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, NotAllowed, NotFound, SignedOut
from journal.domain.ladder_texts import MOST_LETTERS
from journal.domain.ladders import RUNGS, AnswerEntry, Rung
from journal.services.benches import get_bench
from journal.services.diagnosis_pages import prepare_diagnosis
from journal.services.ladder_pages import prepare_ladder
from journal.services.ladder_text_pages import RungBlock, prepare_ladder_texts
from journal.services.ladder_texts import set_ladder_texts
from journal.services.ladders import answer_rung, leave_ladder, start_climb
from journal.services.records import gather_group
from journal.services.rosters import add_students
from journal.services.sessions import end_session, start_session
from journal.services.work import open_work
from journal.store import classes, ladders
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom

OWN = "What surprised you in your trials?"
LATER = "What puzzles you in your trials?"
JOURNAL = get_question(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "en").plain


@dataclass(frozen=True)
class Lesson:
    """A teacher at the desk and a group at its tablet."""

    store: Store
    room: Classroom
    clock: StandingClock

    def word(self, **entered: str) -> tuple[Rung, ...]:
        """Let the teacher save the form."""
        self.clock.move(seconds=10)
        with open_work(self.store, self.room.teacher, clock=self.clock) as work:
            return set_ladder_texts(work, self.room.class_id, entered)

    def refuse(self, **entered: str) -> dict[str, list[str]]:
        """Let the teacher save what cannot be taken; return the sentences by field."""
        with pytest.raises(Invalid) as caught:
            self.word(**entered)
        return caught.value.by_field()

    def block(self, rung: Rung, **entered: str) -> RungBlock:
        """Return what the page shows of a rung."""
        with open_work(self.store, self.room.teacher, writing=False, clock=self.clock) as work:
            page = prepare_ladder_texts(work, self.room.class_id, entered or None)
        return page.rungs[RUNGS.index(rung)]

    def start(self, group: int = 0) -> None:
        """Let a group tap "We are stuck"."""
        self.clock.move(seconds=10)
        with open_work(self.store, self.room.tablets[group], clock=self.clock) as work:
            start_climb(work, self.room.group_ids[group])

    def asked(self, group: int = 0) -> str:
        """Return the question that a group reads."""
        tablet = self.room.tablets[group]
        with open_work(self.store, tablet, writing=False, clock=self.clock) as work:
            return prepare_ladder(work, self.room.group_ids[group]).question

    def answer(self, rung: Rung) -> None:
        """Let the group answer."""
        self.clock.move(seconds=10)
        entry = AnswerEntry(rung=rung, question="", words="They lie low.")
        with open_work(self.store, self.room.tablets[0], clock=self.clock) as work:
            answer_rung(work, self.room.group_ids[0], entry)

    def leave(self) -> None:
        """Let the group leave the ladder."""
        with open_work(self.store, self.room.tablets[0], clock=self.clock) as work:
            leave_ladder(work, self.room.group_ids[0])

    def version(self) -> int:
        """Return the version of the class."""
        with open_work(self.store, OPERATOR, writing=False) as work:
            return classes.find_version(work.session, self.room.class_id) or 0


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
    assert [JOURNAL, OWN] == [answer.question for one in climbs for answer in one.answers]
    lesson.leave()
    lesson.start()
    assert lesson.asked() not in {OWN, JOURNAL}


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


def test_it_costs_one_query_a_record(lesson: Lesson, count_queries: CountQueries) -> None:
    """However many texts there are and however often they were changed."""
    counts = []
    for text in ("", OWN, LATER):
        if text:
            lesson.word(notice=text)
        with open_work(lesson.store, lesson.room.teacher, writing=False) as work:
            bench = get_bench(work, lesson.room.group_ids[0])
            with count_queries() as statements:
                gather_group(work, bench)
        assert 1 == sum("FROM ladder_texts" in one for one in statements)
        counts.append(len(statements))
    assert 1 == len(set(counts))
