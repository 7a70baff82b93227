"""What stands around a teacher's page about a class."""

from __future__ import annotations

import pytest

from journal.content.library import ready_challenges
from journal.domain.challenges import Challenge
from journal.records.work import open_work
from journal.screens.desk.frames import frame_class
from journal.services.classes import get_own_class
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def test_the_class_stands_in_the_title_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A heading that is the class's name is not said twice; a title of its own stays."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        school_class = get_own_class(work, classroom.class_id)
    name = school_class.name
    assert f"Sessions, {name}" == frame_class(school_class, "Sessions").title
    assert name == frame_class(school_class, name).title
    assert "Heron, findings" == frame_class(school_class, "Heron", title="Heron, findings").title
    assert (name, school_class.language) == (
        frame_class(school_class, "Sessions").what,
        frame_class(school_class, "Sessions").language,
    )


@pytest.mark.parametrize("challenge", ready_challenges(), ids=lambda found: found.key)
def test_the_caution_is_that_of_what_is_tested(
    store: Store, clock: StandingClock, classroom: Classroom, challenge: Challenge
) -> None:
    """None where nothing is tested there; a general one where no challenge is chosen yet."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        school_class = get_own_class(work, classroom.class_id)
    general = frame_class(school_class, "Limits", tested=[]).caution
    own = frame_class(school_class, "Session 1", tested=[challenge]).caution
    assert "" == frame_class(school_class, "Students").caution
    assert general
    assert own
    assert (own != general) == challenge.has_gate
