"""Opening a ready challenge and changing the class's copy."""

from __future__ import annotations

import pytest

from journal.domain.actors import Actor, Role
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.records.work import open_work
from journal.services.challenges import change_challenge, get_own_challenge, open_challenge
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def test_a_class_gets_a_copy_at_the_distance_of_its_band(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Grades 3-5 start where the ready challenge says for them."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        opened = open_challenge(work, classroom.class_id, "beyond_the_ditch")
    assert opened.wording[GradeBand.THREE_TO_FIVE].distance_mm == opened.distance_mm
    assert classroom.class_id == opened.class_id


def test_a_change_is_kept_in_the_copy_only(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Title, distance, threshold and a factor's start change; the other copy does not."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        other = open_challenge(work, classroom.class_id, "beyond_the_ditch")
        entered = {
            "title": "Beyond the ditch, closer",
            "distance_mm": "1.8 m",
            "criteria.near_blaze.threshold": "3",
            "parts.launcher.factors.rail_length.start": "250",
        }
        change_challenge(work, classroom.challenge_id, entered)
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        changed, _ = get_own_challenge(work, classroom.challenge_id)
        untouched, _ = get_own_challenge(work, other.id or classroom.challenge_id)
    factor = changed.shared_parts[0].find_factor("rail_length")
    assert ("Beyond the ditch, closer", 1800) == (changed.title, changed.distance_mm)
    assert 3 == next(c.threshold for c in changed.criteria if c.key == "near_blaze")
    assert factor is not None
    assert "250" == factor.start
    assert "Beyond the ditch" == untouched.title


def test_every_problem_is_told_by_its_path(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A wrong unit, a word for a number and an empty title come back together."""
    entered = {
        "title": " ",
        "distance_mm": "6 feet",
        "criteria.near_blaze.threshold": "lots",
        "parts.launcher.factors.rail_length.highest": "long",
    }
    with (
        open_work(store, classroom.teacher, writing=False, clock=clock) as work,
        pytest.raises(Invalid) as caught,
    ):
        change_challenge(work, classroom.challenge_id, entered)
    assert set(entered) == set(caught.value.by_field())


def test_another_teacher_finds_no_such_class_or_challenge(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Another's challenge looks as if it did not exist; a tablet is told it is the teacher's."""
    stranger = Actor(
        role=Role.TEACHER, school_id=classroom.school_id, teacher_id=classroom.class_id
    )
    with open_work(store, stranger, writing=False, clock=clock) as work:
        with pytest.raises(NotFound):
            open_challenge(work, classroom.class_id, "beyond_the_ditch")
        with pytest.raises(NotFound):
            get_own_challenge(work, classroom.challenge_id)
    with (
        open_work(store, classroom.tablets[0], writing=False, clock=clock) as work,
        pytest.raises(NotAllowed),
    ):
        change_challenge(work, classroom.challenge_id, {})


def test_limits_and_choices_of_a_factor_are_kept(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A list is read at its commas; both ends of a number are the teacher's."""
    entered = {
        "parts.launcher.factors.rail_length.lowest": "150",
        "parts.launcher.factors.rail_length.highest": "350",
        "parts.dart.factors.tip_material.choices": "felt, fleece,",
    }
    with open_work(store, classroom.teacher, clock=clock) as work:
        change_challenge(work, classroom.challenge_id, entered)
        changed, _ = get_own_challenge(work, classroom.challenge_id)
    rail = changed.shared_parts[0].find_factor("rail_length")
    tip = changed.own_parts[0].find_factor("tip_material")
    assert rail is not None
    assert tip is not None
    assert (150, 350, ("felt", "fleece")) == (rail.lowest, rail.highest, tip.choices)
