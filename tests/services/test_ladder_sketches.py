"""Answers by sketch: a full answer alone, kept beside words, shown wherever answers are read."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.domain.errors import Invalid
from journal.domain.ladders import Answer, AnswerEntry, AnswerKind, BorneOut, LedTo, Rung
from journal.domain.revisions import Change
from journal.domain.sketches import Sketch
from journal.findings.stalls import find_stall_of
from journal.portfolio.gathering import gather_portfolio
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.desk.diagnoses import prepare_diagnosis
from journal.screens.desk.findings import prepare_findings
from journal.screens.tablet.journals import prepare_journal
from journal.screens.tablet.ladders import LadderPage, prepare_ladder
from journal.screens.tablet.revisions import prepare_revision
from journal.services.ladder_steps import StepEntry, take_step
from journal.services.ladders import answer_rung, judge_answer, leave_ladder, start_climb
from journal.store import ladders
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story
from tests.sentences import raises

DRAWN = "[[[100, 500], [400, 200]], [[600, 300]]]"
SKETCH = Sketch(strokes=(((100, 500), (400, 200)), ((600, 300),)))
#: The two strokes at 84 px for 1000 units: beside a rung.
LINE = "M8.4 42L33.6 16.8"


@pytest.fixture
def story(store: Store, clock: StandingClock, classroom: Classroom) -> Story:
    """Return a group on the first rung."""
    story = Story(store, clock, classroom)
    story.do(start_climb, story.group_id)
    return story


def _answer(story: Story, rung: Rung, **told: object) -> None:
    entry = AnswerEntry(rung=rung, question="", **told)  # type: ignore[arg-type]
    story.do(answer_rung, story.group_id, entry)


def _answers(story: Story) -> tuple[Answer, ...]:
    with open_work(story.store, story.room.teacher, writing=False) as work:
        climbs = ladders.climbs_of_groups(work.session, [story.group_id], story.room.challenge_id)
    return tuple(answer for climb in climbs for answer in climb.answers)


def _page(story: Story) -> LadderPage:
    return story.do(prepare_ladder, story.group_id)


@pytest.mark.parametrize(
    ("told", "kind", "text"),
    [
        ({}, AnswerKind.SKETCH, ""),
        ({"words": "It dips."}, AnswerKind.WORDS, "It dips."),
        ({"starter": "We saw"}, AnswerKind.STARTER, "We saw"),
        ({"said_to_teacher": True}, AnswerKind.SAID, ""),
    ],
)
def test_a_sketch_is_kept_alone_or_beside_the_rest(
    story: Story, told: dict[str, object], kind: AnswerKind, text: str
) -> None:
    """The strokes come back as they were drawn, and the next rung opens."""
    _answer(story, Rung.NOTICE, sketch=DRAWN, **told)
    kept = _answers(story)[0]
    assert (kind, text, SKETCH) == (kept.kind, kept.text, kept.sketch)
    assert kept.says_something
    assert Rung.COMPARE.value == _page(story).rung


def test_words_alone_have_no_sketch(story: Story) -> None:
    """An empty field of strokes is no drawing."""
    _answer(story, Rung.NOTICE, words="It dips.", sketch="[]")
    assert _answers(story)[0].sketch is None


def test_an_empty_sketch_is_no_answer(story: Story) -> None:
    """Nothing drawn, nothing said: all the ways to answer are named."""
    with raises(Invalid, match="sketch it") as caught:
        _answer(story, Rung.NOTICE, sketch="[]")
    assert ["words"] == list(caught.value.by_field())


@pytest.mark.parametrize("sketch", ["[[[0, 0], [5", "[[[0, 9000]]]", '{"a": 1}', "[[]]"])
def test_a_sketch_that_is_none_is_told_at_its_field(story: Story, sketch: str) -> None:
    """The words beside it are not kept without it, and the group stays where it is."""
    with pytest.raises(Invalid) as caught:
        _answer(story, Rung.NOTICE, sketch=sketch, words="It dips.")
    assert ["sketch"] == list(caught.value.by_field())
    assert () == _answers(story)


def test_every_problem_of_an_answer_is_told_at_once(story: Story) -> None:
    """Too many letters, strokes that are none, a child of another group."""
    with pytest.raises(Invalid) as caught:
        _answer(story, Rung.NOTICE, sketch="?", words="a" * 700, student_id=uuid4())
    assert ["words", "sketch", "who"] == list(caught.value.by_field())


def test_a_sketch_stands_beside_its_rung(story: Story) -> None:
    """On this climb, and as an earlier answer on the next: never as an empty quote."""
    _answer(story, Rung.NOTICE, sketch=DRAWN)
    _answer(story, Rung.COMPARE, sketch=DRAWN, words="Lower now.")
    lines = {line.name: line for line in _page(story).rungs}
    assert ("", True) == (lines["Notice"].answer, LINE in lines["Notice"].drawing)
    assert ("“Lower now.”", True) == (lines["Compare"].answer, LINE in lines["Compare"].drawing)
    assert f"Sketch by {_page(story).frame.group_name}" in lines["Notice"].drawing
    story.do(leave_ladder, story.group_id)
    story.do(start_climb, story.group_id)
    lines = {line.name: line for line in _page(story).rungs}
    assert ("Before:", True) == (lines["Notice"].answer, LINE in lines["Notice"].drawing)


def _climb_by_sketch(story: Story, **choice: object) -> None:
    for rung in (Rung.NOTICE, Rung.COMPARE, Rung.EXPLAIN, Rung.AIM):
        _answer(story, rung, sketch=DRAWN)
    entry = AnswerEntry(rung=Rung.CHOOSE_TEST, question="", sketch=DRAWN, **choice)  # type: ignore[arg-type]
    story.do(take_step, story.group_id, entry, StepEntry(led_to=LedTo.REVISION))


@pytest.mark.parametrize(
    ("choice", "reason"),
    [({}, "As we drew it."), ({"words": "We test the rail."}, "We test the rail.")],
)
def test_the_next_revision_starts_from_the_sketch(
    story: Story, choice: dict[str, object], reason: str
) -> None:
    """It stands at "Why?", where words of the group come first."""
    _climb_by_sketch(story, **choice)
    with open_work(story.store, story.room.tablets[0], clock=story.clock) as work:
        page = prepare_revision(work, story.group_id, from_ladder=True)
        plain = prepare_revision(work, story.group_id)
    assert reason == page.sentences[0].words
    assert "Sketch by" in page.sentences[0].drawing
    assert ["", ""] == [sentence.drawing for sentence in plain.sentences]


@pytest.fixture
def retested(story: Story) -> Story:
    """Return a group that drew all its answers, changed something and tested it."""
    first = story.room.shared_revision_ids[0]
    story.play(first, 2)
    _climb_by_sketch(story)
    change = Change(factor="rail_length", from_value="", to_value="300")
    second = story.build(first, (change,), reason="As we drew it.")
    story.play(second, 2)
    return story


def test_the_ladder_asks_whether_a_sketch_was_borne_out(retested: Story) -> None:
    """A drawn claim is a claim."""
    retested.do(start_climb, retested.group_id)
    check = _page(retested).ways.check
    assert check is not None
    assert "Sketch by" in check.quote.drawing
    retested.do(judge_answer, retested.group_id, check.answer_id, BorneOut.YES)
    assert [BorneOut.YES] == [one.borne_out for one in _answers(retested) if one.borne_out]


def test_the_chain_shows_what_was_drawn(retested: Story) -> None:
    """What the group saw and thought is there as two drawings, without empty quotes."""
    page = retested.do(prepare_journal, retested.group_id)
    chain = {link.head: link for link in page.parts[0].revisions[1].chain}
    for head in ("We saw", "We thought"):
        assert ("", True) == (chain[head].words, "<path" in chain[head].drawing)
    assert "What came of it" in chain


def test_a_sketch_stays_in_the_chain_where_its_words_became_the_reason(story: Story) -> None:
    """The words stand once, as the reason; the drawing is not lost with them."""
    first = story.room.shared_revision_ids[0]
    for rung in (Rung.NOTICE, Rung.COMPARE):
        _answer(story, rung, words="It dips.")
    _answer(story, Rung.EXPLAIN, words="Short rail.", sketch=DRAWN)
    story.do(leave_ladder, story.group_id, LedTo.REVISION)
    change = Change(factor="rail_length", from_value="", to_value="300")
    story.build(first, (change,), reason="Short rail.")
    page = story.do(prepare_journal, story.group_id)
    thought = {link.head: link for link in page.parts[0].revisions[1].chain}["We thought"]
    assert ("", True) == (thought.words, "<path" in thought.drawing)


def test_the_teacher_sees_the_sketches(story: Story) -> None:
    """On the group's page and beside the diagnosis; "said" is told with them."""
    _answer(story, Rung.NOTICE, sketch=DRAWN)
    _answer(story, Rung.COMPARE, sketch=DRAWN, said_to_teacher=True)
    _answer(story, Rung.EXPLAIN, said_to_teacher=True)
    with open_work(story.store, story.room.teacher, clock=story.clock, writing=False) as work:
        said = prepare_findings(work, story.group_id).side.ladder
        state = prepare_diagnosis(work, story.group_id).ladder
    wanted = [("Said to the teacher.", False), ("Said to the teacher.", True), ("", True)]
    assert wanted == [(one.answer, "<path" in one.drawing) for one in said]
    assert state is not None
    assert wanted[::-1] == [(one.words, "<path" in one.drawing) for _, one in state.answers]


def test_the_portfolio_prints_the_sketches(retested: Story) -> None:
    """Each once: on the sheet of the revision it led to, else among the questions."""
    with open_work(retested.store, retested.room.teacher, writing=False) as work:
        page = gather_portfolio(work, retested.group_id)
    drawn, named = ("", True), ("The sketch stands with Launcher 2.", False)
    assert [drawn, named, named, drawn, drawn] == [
        (one.answer.words, "<path" in one.answer.drawing) for one in page.asked
    ]
    assert [True, True] == ["<path" in link.drawing for link in page.spreads[1].cause]


@pytest.mark.parametrize(("second", "is_same"), [(DRAWN, True), ("[[[0, 0], [9, 9]]]", False)])
def test_two_sketches_are_the_same_answer_only_where_they_are(
    story: Story, second: str, *, is_same: bool
) -> None:
    """Neither has words: the strokes tell whether the group answers the same twice."""
    story.play(story.room.shared_revision_ids[0], 4)
    _answer(story, Rung.NOTICE, sketch=DRAWN)
    _answer(story, Rung.COMPARE, sketch=second)
    with open_work(story.store, story.room.teacher, clock=story.clock, writing=False) as work:
        stall = find_stall_of(gather_group(work, get_group_context(work, story.group_id)))
    assert is_same is (stall.reason.value == "same_answer")
