"""Asking for a print: who may, what is unchanged, what is waited for."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal import __version__
from journal.domain.errors import NotAllowed, NotFound
from journal.domain.jobs import JobKind, JobState
from journal.records.work import open_work
from journal.services.portfolios import PortfolioPrint, ask_for_print, cancel_print, find_print
from journal.services.visits import log_visit
from journal.store import classes, job_leases
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def _ask(store: Store, clock: StandingClock, room: Classroom) -> PortfolioPrint:
    with open_work(store, room.teacher, clock=clock) as work:
        return ask_for_print(work, room.group_ids[0])


def _find(store: Store, clock: StandingClock, room: Classroom) -> PortfolioPrint:
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        return find_print(work, room.group_ids[0])


def _make(store: Store, clock: StandingClock, room: Classroom, *, edition: str) -> None:
    """Let a dispatcher have made it from what is logged now."""
    owner = uuid4()
    with store.open_session(writing=True) as session:
        job = job_leases.claim(session, owner, clock())
        assert job is not None
        version = classes.find_version(session, room.class_id)
        assert version is not None
        job_leases.finish(
            session, job.id, owner, at=clock(), class_version=version, edition=edition
        )


def test_asking_twice_is_asking_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A double tap queues one job, in the teacher's name, about the present challenge."""
    first, second = _ask(store, clock, classroom), _ask(store, clock, classroom)
    assert first.last is not None
    assert first.last == second.last
    assert JobKind.PORTFOLIO is first.last.kind
    assert (classroom.teacher.teacher_id, classroom.challenge_id) == (
        first.last.teacher_id,
        first.last.challenge_id,
    )


def test_a_print_is_unchanged_until_something_of_the_class_is_logged(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A trial or a visit makes it differ; another edition of the journal may print otherwise."""
    assert not _find(store, clock, classroom).is_unchanged
    for change in (
        lambda: log(store, clock, classroom.tablets[0], entry_of(classroom, clock)),
        lambda: _visit(store, clock, classroom),
    ):
        _ask(store, clock, classroom)
        _make(store, clock, classroom, edition=__version__)
        assert _find(store, clock, classroom).is_unchanged
        change()
        assert not _find(store, clock, classroom).is_unchanged
    _ask(store, clock, classroom)
    _make(store, clock, classroom, edition="0.0.1")
    assert not _find(store, clock, classroom).is_unchanged


def _visit(store: Store, clock: StandingClock, room: Classroom) -> None:
    with open_work(store, room.teacher, clock=clock) as work:
        log_visit(work, room.group_ids[0])


def test_a_cancelled_print_can_be_asked_for_again(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Cancelling what is not waited for says so."""
    _ask(store, clock, classroom)
    with open_work(store, classroom.teacher, clock=clock) as work:
        done = [cancel_print(work, classroom.group_ids[0]) for _ in range(2)]
    found = _find(store, clock, classroom)
    assert [True, False] == done
    assert found.last is not None
    assert (JobState.CANCELLED, False) == (found.last.state, found.is_live)
    assert _ask(store, clock, classroom).is_live


def test_only_the_teacher_of_the_class_may(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Neither the group itself nor another challenge's name gets past."""
    for act in (find_print, ask_for_print, cancel_print):
        with open_work(store, classroom.tablets[0], clock=clock) as work, pytest.raises(NotAllowed):
            act(work, classroom.group_ids[0])
        with open_work(store, classroom.teacher, clock=clock) as work, pytest.raises(NotFound):
            act(work, classroom.group_ids[0], uuid4())
