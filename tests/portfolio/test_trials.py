"""The list of trials on paper says the same as the one on the teacher's screen."""

from __future__ import annotations

from journal.portfolio.trials import list_trials
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.trial_lines import trial_lines
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import tell_story


def test_paper_and_screen_word_a_trial_alike(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Result, device and child of each trial, the struck ones too."""
    story = tell_story(store, clock, classroom)
    with open_work(store, classroom.teacher, writing=False) as work:
        record = gather_group(work, get_group_context(work, story.group_id))
    paper, screen = list_trials(record, ()), trial_lines(record)
    assert [(line.number, line.who, line.device, line.result) for line in screen] == [
        (line.number, line.who, line.used, line.result) for line in paper
    ]
    assert any(" points" in line.result for line in paper)
