"""The gate before the next question, by band: lower for the younger ones, an adult first."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, Refused
from journal.domain.ladders import AnswerEntry, Rung
from journal.domain.needs import NeedKind, find_need
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work, open_work
from journal.screens.desk.group_glances import pulse_of
from journal.screens.tablet.ladders import LadderPage, prepare_ladder
from journal.services.ladders import answer_rung, open_next_rung, start_climb
from journal.services.visits import log_visit
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import make_classroom
from tests.factories.stories import Story
from tests.sentences import raises

Climber = Callable[[GradeBand], Story]


@pytest.fixture
def climber(store: Store, clock: StandingClock) -> Climber:
    """Return what makes a group of a band that stands on the first rung."""

    def climb(band: GradeBand) -> Story:
        with open_work(store, OPERATOR, clock=clock) as work:
            room = make_classroom(work.session, work.now(), band=band)
        story = Story(store, clock, room)
        story.do(start_climb, story.group_id)
        return story

    return climb


def _answer(story: Story, **told: object) -> Rung:
    entry = AnswerEntry(rung=Rung.NOTICE, question="", **told)  # type: ignore[arg-type]
    return story.do(answer_rung, story.group_id, entry).rung


def _page(story: Story) -> LadderPage:
    return story.do(prepare_ladder, story.group_id)


def _need(work: Work, story: Story) -> NeedKind:
    record = gather_group(work, get_group_context(work, story.group_id))
    return find_need(pulse_of(record, work.now()), work.now()).kind


def _needs(story: Story) -> NeedKind:
    return story.do(lambda work: _need(work, story), actor=story.room.teacher)


@pytest.mark.parametrize("band", [GradeBand.TWO, GradeBand.THREE_TO_FIVE])
def test_a_tapped_sentence_opens_the_gate_of_the_younger(climber: Climber, band: GradeBand) -> None:
    """It is an answer as it stands."""
    assert Rung.COMPARE is _answer(climber(band), starter="They are all alike.")


def test_the_oldest_finish_the_sentence(climber: Climber) -> None:
    """A beginning alone says nothing yet; words, a sketch or the teacher's ear do."""
    with raises(Invalid, match="Finish the sentence") as caught:
        _answer(climber(GradeBand.SIX_TO_EIGHT), starter="The pattern is")
    assert ["words"] == list(caught.value.by_field())
    for told in (
        {"starter": "The pattern is", "words": "that they drift left."},
        {"starter": "The pattern is", "sketch": "[[[1, 2], [30, 40]]]"},
        {"starter": "The pattern is", "said_to_teacher": True},
    ):
        assert Rung.COMPARE is _answer(climber(GradeBand.SIX_TO_EIGHT), **told)


@pytest.mark.parametrize(
    ("band", "trials", "told"),
    [
        (GradeBand.TWO, 1, "a new trial"),
        (GradeBand.THREE_TO_FIVE, 1, "a new trial"),
        (GradeBand.SIX_TO_EIGHT, 2, "2 new trials"),
    ],
)
def test_new_trials_open_the_gate(
    climber: Climber, band: GradeBand, trials: int, told: str
) -> None:
    """As many as the band asks for, and the page offers it then and not before."""
    story = climber(band)
    for student in range(trials):
        assert "trial" not in _page(story).news
        with raises(Refused, match=f"or log {told}."):
            story.do(open_next_rung, story.group_id)
        story.launch(story.room.shared_revision_ids[0], student, x_mm=10.0, y_mm=20.0)
    assert "trial" in _page(story).news
    assert Rung.COMPARE is story.do(open_next_rung, story.group_id).rung


def test_an_adult_comes_first_to_the_youngest(climber: Climber) -> None:
    """The ladder calls the teacher when it is opened; once there, the questions go on."""
    story = climber(GradeBand.TWO)
    assert ("teacher",) == _page(story).news
    assert NeedKind.ASKED is _needs(story)
    story.do(log_visit, story.group_id, actor=story.room.teacher)
    assert () == _page(story).news
    assert NeedKind.ASKED is not _needs(story)
    assert Rung.COMPARE is _answer(story, starter="They are all alike.")


@pytest.mark.parametrize("band", [GradeBand.THREE_TO_FIVE, GradeBand.SIX_TO_EIGHT])
def test_the_others_climb_by_themselves(climber: Climber, band: GradeBand) -> None:
    """The teacher sees that a question is open, and is called by the last rung."""
    story = climber(band)
    assert () == _page(story).news
    assert NeedKind.STALLED is _needs(story)
