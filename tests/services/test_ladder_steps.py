"""From an answer to a test: not sure once, the next revision filled in, practice, a later check."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest

from journal.domain.errors import Invalid, NotAllowed, NotFound, Refused
from journal.domain.ladders import (
    AnswerEntry,
    BorneOut,
    Climb,
    ClimbEnd,
    LedTo,
    PassKind,
    Rung,
)
from journal.domain.revisions import Change
from journal.portfolio.gathering import gather_portfolio
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.screens.tablet.journals import prepare_journal
from journal.screens.tablet.ladders import LadderPage, prepare_ladder
from journal.screens.tablet.revisions import prepare_revision
from journal.screens.tablet.trials import prepare_log
from journal.services.ladder_steps import StepEntry, leave_for, take_step
from journal.services.ladders import (
    answer_rung,
    judge_answer,
    leave_ladder,
    open_next_rung,
    say_not_sure,
    skip_rung,
    start_climb,
)
from journal.services.practice_sets import describe_practice, find_practice
from journal.store import ladders, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story
from tests.sentences import raises


@pytest.fixture
def story(store: Store, clock: StandingClock, classroom: Classroom) -> Story:
    """Return a group on the first rung."""
    story = Story(store, clock, classroom)
    story.do(start_climb, story.group_id)
    return story


def _answer(story: Story, rung: Rung, words: str) -> None:
    entry = AnswerEntry(rung=rung, question="", words=words)
    story.do(answer_rung, story.group_id, entry)


def _climb_to_choice(story: Story, cause: str = "The rail length is short.") -> None:
    for rung in (Rung.NOTICE, Rung.COMPARE, Rung.EXPLAIN, Rung.AIM):
        _answer(story, rung, cause if rung is Rung.EXPLAIN else f"About {rung.value}.")


def _climbs(story: Story) -> tuple[Climb, ...]:
    with open_work(story.store, story.room.teacher, writing=False) as work:
        return ladders.climbs_of_groups(work.session, [story.group_id], story.room.challenge_id)


def _page(story: Story) -> LadderPage:
    return story.do(prepare_ladder, story.group_id)


def test_not_sure_waits_three_seconds_and_opens_the_next_rung_once(story: Story) -> None:
    """At once and the second time it is refused; the teacher reads at which question it was."""
    _answer(story, Rung.NOTICE, "They lie low.")
    with open_work(story.store, story.room.tablets[0], clock=story.clock) as work:
        with raises(Refused, match="a moment"):
            say_not_sure(work, story.group_id, Rung.COMPARE)
        story.clock.move(seconds=3)
        say_not_sure(work, story.group_id, Rung.COMPARE)
    question = _climbs(story)[0].passes[0].question
    assert [(Rung.COMPARE, PassKind.NOT_SURE)] == [
        (rung_pass.rung, rung_pass.kind) for rung_pass in _climbs(story)[0].passes
    ]
    assert "?" in question
    with raises(Refused, match="what you see so far"):
        story.do(say_not_sure, story.group_id, Rung.EXPLAIN)
    assert Rung.EXPLAIN is _climbs(story)[0].rung
    assert _page(story).ways.not_sure_wait_ms is None


def test_not_sure_at_a_question_that_is_gone_is_not_taken(story: Story) -> None:
    """Two tablets: the second one learns that another question is open."""
    with pytest.raises(Invalid):
        story.do(say_not_sure, story.group_id, Rung.AIM)


def test_the_page_says_how_long_not_sure_waits(story: Story) -> None:
    """The script holds the button for as long as the server would refuse."""
    with open_work(story.store, story.room.tablets[0], clock=story.clock) as work:
        leave_ladder(work, story.group_id)
        start_climb(work, story.group_id)
        wait_ms = prepare_ladder(work, story.group_id).ways.not_sure_wait_ms
    assert wait_ms is not None
    assert 2900 < wait_ms <= 3000
    assert 0 == _page(story).ways.not_sure_wait_ms


def test_the_teacher_skips_a_rung_but_not_the_last(story: Story) -> None:
    """A tablet cannot, and on the last rung the group waits for the teacher."""
    with pytest.raises(NotAllowed):
        story.do(skip_rung, story.group_id)
    for _ in range(5):
        story.do(skip_rung, story.group_id, actor=story.room.teacher)
    assert _climbs(story)[0].wants_teacher
    assert {PassKind.TEACHER} == {rung_pass.kind for rung_pass in _climbs(story)[0].passes}
    with raises(Refused, match="waits for you"):
        story.do(skip_rung, story.group_id, actor=story.room.teacher)


def test_no_sentence_is_read_twice_in_a_lesson(story: Story) -> None:
    """Three times on the ladder: every question that is put is a new one."""
    put: list[str] = []
    for turn in range(3):
        if turn:
            story.do(start_climb, story.group_id)
        for rung in list(Rung)[:5]:
            put.append(_page(story).question)
            _answer(story, rung, f"Answer {turn}.")
        put.append(_page(story).question)
        story.do(leave_ladder, story.group_id)
    assert 18 == len(set(put))


def test_a_question_stays_while_it_is_read(story: Story) -> None:
    """New trials do not change the wording of a rung that is open."""
    before = _page(story).question
    story.play(story.room.shared_revision_ids[0], 3)
    assert before == _page(story).question


def test_a_question_left_for_a_trial_counts_as_read(story: Story) -> None:
    """Left for a new trial, then left because the group knew what to try."""
    story.play(story.room.shared_revision_ids[0], 1)
    story.do(open_next_rung, story.group_id)
    story.do(leave_ladder, story.group_id)
    kinds = [(rung_pass.rung, rung_pass.kind) for rung_pass in _climbs(story)[0].passes]
    assert [(Rung.NOTICE, PassKind.NEW_TRIAL), (Rung.COMPARE, PassKind.LEFT)] == kinds


def test_the_last_answer_opens_the_next_revision_filled_in(story: Story) -> None:
    """Cause, the factor that was named, and the prediction stand in the form."""
    _climb_to_choice(story)
    choice = AnswerEntry(rung=Rung.CHOOSE_TEST, question="", words="We test the rail length.")
    step = StepEntry(led_to=LedTo.REVISION, prediction="It goes to the middle.")
    story.do(take_step, story.group_id, choice, step)
    climb = _climbs(story)[0]
    assert (ClimbEnd.KNOWS_WHAT_TO_TRY, LedTo.REVISION) == (climb.ended_by, climb.led_to)
    with open_work(story.store, story.room.tablets[0], clock=story.clock) as work:
        page = prepare_revision(work, story.group_id, from_ladder=True)
        plain = prepare_revision(work, story.group_id)
    assert ["rail_length"] == [factor.key for factor in page.factors if factor.is_ticked]
    words = [sentence.words for sentence in page.sentences]
    assert ["The rail length is short.", "It goes to the middle."] == words
    assert ["", ""] == [sentence.words for sentence in plain.sentences]


def test_a_choice_without_an_answer_is_asked_for_again(story: Story) -> None:
    """Nothing is planned, and the group stays where it is."""
    _climb_to_choice(story)
    empty = AnswerEntry(rung=Rung.CHOOSE_TEST, question="", words=" ")
    with pytest.raises(Invalid):
        story.do(take_step, story.group_id, empty, StepEntry(led_to=LedTo.REVISION))
    assert _climbs(story)[0].is_open


@pytest.mark.parametrize("trials", ["", "0", "61", "many", "²"])
def test_a_practice_set_needs_a_number(story: Story, trials: str) -> None:
    """The group stays on the ladder."""
    with pytest.raises(Invalid) as caught:
        story.do(leave_for, story.group_id, StepEntry(led_to=LedTo.PRACTICE_SET, trials=trials))
    assert ["trials"] == list(caught.value.by_field())
    assert _climbs(story)[0].is_open


def test_a_practice_set_counts_on_the_page_of_trials(story: Story) -> None:
    """It counts practice from then on, and is gone when it is through."""
    first = story.room.shared_revision_ids[0]
    story.launch(first, 0, x_mm=0.0, y_mm=0.0)
    story.do(leave_for, story.group_id, StepEntry(led_to=LedTo.PRACTICE_SET, trials="6"))
    story.play(first, 1)
    assert "Practice set: 3 of 6." == story.do(prepare_log, story.group_id).settings.practice
    story.play(first, 1)
    assert "" == story.do(prepare_log, story.group_id).settings.practice


def _practice(work: Any, group_id: Any) -> str:
    context = get_group_context(work, group_id)
    logged = trials.trials_of_groups(work.session, [group_id], context.session_ids)
    return describe_practice(find_practice(work, context, logged))


def test_a_new_practice_set_takes_the_place_of_an_old_one(story: Story) -> None:
    """The newest that is open is counted."""
    story.do(leave_for, story.group_id, StepEntry(led_to=LedTo.PRACTICE_SET, trials="12"))
    story.do(start_climb, story.group_id)
    story.do(leave_for, story.group_id, StepEntry(led_to=LedTo.PRACTICE_SET, trials="6"))
    assert "Practice set: 0 of 6." == story.do(_practice, story.group_id)


def test_the_ladder_asks_whether_the_last_test_bore_an_answer_out(story: Story) -> None:
    """Only after a trial that followed the answer, and until it is said."""
    _climb_to_choice(story, "The bands slip.")
    assert _page(story).ways.check is None
    story.play(story.room.shared_revision_ids[0], 1)
    check = _page(story).ways.check
    assert check is not None
    assert "“The bands slip.”" == check.quote.words
    story.do(judge_answer, story.group_id, check.answer_id, BorneOut.NO)
    assert _page(story).ways.check is None
    kept = [answer for answer in _climbs(story)[0].answers if answer.borne_out]
    assert [(Rung.EXPLAIN, BorneOut.NO)] == [(one.rung, one.borne_out) for one in kept]


def test_another_groups_answer_is_not_found(story: Story) -> None:
    """Nobody judges an answer that is not the group's."""
    with pytest.raises(NotFound):
        story.do(judge_answer, story.group_id, uuid4(), BorneOut.YES)
    with pytest.raises(NotFound):
        story.do(judge_answer, story.room.group_ids[1], uuid4(), BorneOut.YES)


def test_earlier_answers_stand_beside_the_ladder(story: Story) -> None:
    """Those of the climb before, and where the group was not sure."""
    _answer(story, Rung.NOTICE, "They lie low.")
    story.do(leave_ladder, story.group_id)
    story.do(start_climb, story.group_id)
    answers = {line.name: line.answer for line in _page(story).rungs}
    assert "Before: “They lie low.”" == answers["Notice"]
    story.do(say_not_sure, story.group_id, Rung.NOTICE)
    answers = {line.name: line.answer for line in _page(story).rungs}
    assert "Not sure yet." == answers["Notice"]


@pytest.fixture
def retested(story: Story) -> Story:
    """Return a group that went from the ladder to a revision, tested it and judged its answer."""
    first = story.room.shared_revision_ids[0]
    story.play(first, 2)
    _climb_to_choice(story, "The rail is short.")
    choice = AnswerEntry(rung=Rung.CHOOSE_TEST, question="", words="We test the rail.")
    story.do(take_step, story.group_id, choice, StepEntry(led_to=LedTo.REVISION))
    second = story.build(
        first,
        (Change(factor="rail_length", from_value="", to_value="300"),),
        reason="More push.",
        prediction="All on the bark.",
    )
    story.play(second, 2)
    story.do(start_climb, story.group_id)
    check = _page(story).ways.check
    assert check is not None
    claim = _climbs(story)[0].find_answer(Rung.EXPLAIN)
    assert claim is not None
    story.do(judge_answer, story.group_id, claim.id, BorneOut.YES)
    return story


def test_the_journal_shows_the_chain_with_prediction_beside_result(retested: Story) -> None:
    """What was seen, thought and said beforehand, and what came of it."""
    page = retested.do(prepare_journal, retested.group_id)
    chain = {link.head: link.words for link in page.parts[0].revisions[1].chain}
    assert "“About compare.”" == chain["We saw"]
    assert "“The rail is short.”" == chain["We thought"]
    assert "“All on the bark.”" == chain["We said beforehand"]
    assert chain["What came of it"].endswith("Our test showed it.")
    assert () == page.parts[0].revisions[0].chain


def test_the_portfolio_shows_what_led_to_a_revision(retested: Story) -> None:
    """On the sheet of the revision; the answer says whether it was borne out."""
    with open_work(retested.store, retested.room.teacher, writing=False) as work:
        page = gather_portfolio(work, retested.group_id)
    heads = [link.head for link in page.spreads[1].cause]
    assert ["We saw", "We thought"] == heads
    assert any("Our test showed it." in one.when for one in page.asked)


def test_a_later_revision_has_no_part_in_the_chain(retested: Story) -> None:
    """Only the first revision after the ladder follows from it."""
    parts = retested.parts_of(0)
    parent = parts[0].revisions[-1]
    retested.build(parent.id, (Change(factor="bands", from_value="", to_value="2"),))
    page = retested.do(prepare_journal, retested.group_id)
    assert () == page.parts[0].revisions[2].chain
