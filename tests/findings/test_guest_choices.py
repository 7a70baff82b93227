"""Who is proposed as a guest: the mean of the newest six trials reaches what is asked."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.domain.trials import Place
from journal.findings.guest_choices import choose_guests, find_criterion
from journal.records.work import open_work
from journal.store import groups, sessions, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story


@pytest.fixture
def story(store: Store, clock: StandingClock, classroom: Classroom) -> Story:
    """Return a group at work."""
    return Story(store, clock, classroom)


def _chosen(story: Story) -> list[set[object]]:
    """Return who is proposed to the second group, group by group."""
    with open_work(story.store, story.room.teacher) as work:
        of_class = groups.groups_of_class(work.session, story.room.class_id)
        held = sessions.sessions_of_class(work.session, story.room.class_id)
        logged = trials.trials_of_groups(
            work.session, story.room.group_ids, [session.id for session in held]
        )
    found = choose_guests(story.room.challenge, of_class, logged, story.room.group_ids[1])
    return [set(choice.student_ids) for choice in found]


def _hit(story: Story, student: int, times: int, *, y_mm: float = 0.0) -> None:
    for _ in range(times):
        story.launch(story.room.shared_revision_ids[0], student, x_mm=0.0, y_mm=y_mm)


def test_the_newest_six_decide(story: Story) -> None:
    """Many misses long ago do not count against a child who hits now."""
    for student in (0, 1):
        for _ in range(6):
            story.launch(story.room.shared_revision_ids[0], student, place=Place.WALL)
        _hit(story, student, 6)
    assert [{*story.room.student_ids[0][:2]}] == _chosen(story)


def test_two_of_a_group_are_needed(story: Story) -> None:
    """One alone may have a habit; two trials alone may be luck."""
    _hit(story, 0, 6)
    _hit(story, 1, 2)
    assert [] == _chosen(story)
    _hit(story, 1, 1)
    assert [{*story.room.student_ids[0][:2]}] == _chosen(story)


def test_who_does_not_reach_what_is_asked_is_no_guest(story: Story) -> None:
    """The fault that all share would come along with the guest."""
    for student in range(3):
        _hit(story, student, 6, y_mm=-250.0)
    assert [] == _chosen(story)


def test_nobody_is_proposed_to_their_own_group(story: Story) -> None:
    """Guests come from elsewhere."""
    for student in range(3):
        _hit(story, student, 6)
    with open_work(story.store, story.room.teacher) as work:
        of_class = groups.groups_of_class(work.session, story.room.class_id)
    assert () == choose_guests(story.room.challenge, of_class, (), story.group_id)
    assert () == choose_guests(story.room.challenge, of_class, (), uuid4())


def test_what_is_asked_is_a_measure(story: Story) -> None:
    """A mean where the challenge asks for one."""
    found = find_criterion(story.room.challenge)
    assert found is not None
    assert found.measure in {"mean", "best"}
