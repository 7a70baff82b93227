"""Jobs as rows: one dispatcher at a time, whatever is cut off."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from journal.domain.errors import Clash
from journal.domain.jobs import LEASE, MOST_ATTEMPTS, Job, JobKind, JobState
from journal.store import classes, job_leases, jobs
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.races.together import PEOPLE, all_at_once

AT = datetime(2030, 3, 4, 10, 0, tzinfo=UTC)
LATER = AT + LEASE + timedelta(seconds=1)
ME, OTHER = uuid4(), uuid4()


def _add(store: Store, room: Classroom, group: int = 0, at: datetime = AT) -> Job:
    with store.open_session(writing=True) as session:
        return jobs.add_job(
            session,
            classes.get_class(session, room.class_id),
            JobKind.PORTFOLIO,
            group_id=room.group_ids[group],
            challenge_id=room.challenge_id,
            asked_at=at,
        )


def _claim(store: Store, at: datetime = AT, owner: object = ME) -> Job | None:
    with store.open_session(writing=True) as session:
        return job_leases.claim(session, owner, at)  # type: ignore[arg-type]


def _find(store: Store, room: Classroom) -> tuple[Job, ...]:
    with store.open_session(writing=False) as session:
        return jobs.jobs_of_group(session, JobKind.PORTFOLIO, room.group_ids[0], room.challenge_id)


def _finish(store: Store, job: Job, owner: object = ME) -> bool:
    with store.open_session(writing=True) as session:
        return job_leases.finish(
            session,
            job.id,
            owner,
            at=AT,
            class_version=7,
            edition="1",  # type: ignore[arg-type]
        )


def test_a_job_is_claimed_once_however_many_ask(store: Store, classroom: Classroom) -> None:
    """Eight dispatchers of two servers at one moment: each of two jobs is begun once."""
    asked = {_add(store, classroom, group).id for group in (0, 1)}
    done, refused = all_at_once(store, lambda one, _: _claim(one, owner=uuid4()))
    # One that lost the moment gets nothing and asks again.
    claimed = [job.id for job in done if job is not None]
    while (more := _claim(store)) is not None:
        claimed.append(more.id)

    assert [] == list(refused)
    assert PEOPLE == len(done)
    assert sorted(asked) == sorted(claimed)


def test_the_one_asked_for_first_is_first(store: Store, classroom: Classroom) -> None:
    """Whatever the order of ids."""
    second = _add(store, classroom, 0, AT + timedelta(seconds=1))
    first = _add(store, classroom, 1, AT)
    with store.open_session(writing=False) as session:
        before = [jobs.count_before(session, job) for job in (first, second)]
    assert [0, 1] == before
    claimed = [_claim(store), _claim(store)]
    assert [first.id, second.id] == [job.id for job in claimed if job is not None]


def test_a_lease_holds_as_long_as_it_is_renewed(store: Store, classroom: Classroom) -> None:
    """A dispatcher that is gone loses the job to the next one, and its late word counts nothing."""
    job = _add(store, classroom)
    assert _claim(store) is not None
    assert _claim(store, AT + LEASE / 2, OTHER) is None
    with store.open_session(writing=True) as session:
        job_leases.renew(session, ME, {job.id: 40}, AT + LEASE / 2)
    assert _claim(store, LATER, OTHER) is None
    assert [40] == [job.percent for job in _find(store, classroom)]

    taken = _claim(store, LATER + LEASE, OTHER)
    assert taken is not None
    assert 2 == taken.attempts
    assert not _finish(store, job, ME)
    assert _finish(store, job, OTHER)
    assert [JobState.DONE] == [job.state for job in _find(store, classroom)]


def test_a_lease_given_while_the_clock_was_ahead_holds_nobody_up(
    store: Store, classroom: Classroom
) -> None:
    """The clock of a laptop is put right by a day: the job is taken up again."""
    _add(store, classroom)
    assert _claim(store, AT + timedelta(days=1)) is not None
    assert _claim(store, AT, OTHER) is not None


def test_a_job_is_begun_a_few_times_and_then_given_up(store: Store, classroom: Classroom) -> None:
    """Each attempt is cut off: then nobody takes it up, and the reason is kept for the teacher."""
    _add(store, classroom)
    for turn in range(MOST_ATTEMPTS):
        assert _claim(store, AT + turn * (LEASE * 2)) is not None
    end = AT + MOST_ATTEMPTS * LEASE * 2
    assert _claim(store, end) is None
    assert [True] == [job.state.is_live for job in _find(store, classroom)]
    with store.open_session(writing=True) as session:
        job_leases.give_up_all(session, end, "It was cut off.")
    assert [(JobState.FAILED, "It was cut off.")] == [
        (job.state, job.problem) for job in _find(store, classroom)
    ]


def test_an_attempt_that_is_given_back_is_not_counted(store: Store, classroom: Classroom) -> None:
    """A server that is stopped in order gives its jobs back as they were."""
    job = _add(store, classroom)
    assert _claim(store) is not None
    with store.open_session(writing=True) as session:
        job_leases.give_back(session, job.id, ME, uncounted=True)
    assert [(JobState.QUEUED, 0)] == [(job.state, job.attempts) for job in _find(store, classroom)]
    assert _claim(store) is not None


def test_what_is_cancelled_stays_so(store: Store, classroom: Classroom) -> None:
    """Queued or running; the word of whoever runs it comes too late."""
    job = _add(store, classroom)
    assert _claim(store) is not None
    with store.open_session(writing=True) as session:
        first = jobs.cancel_live(session, classroom.group_ids[0], classroom.challenge_id, AT)
        again = jobs.cancel_live(session, classroom.group_ids[0], classroom.challenge_id, AT)
    assert [True, False] == [first, again]
    assert not _finish(store, job)
    with store.open_session(writing=False) as session:
        assert frozenset() == job_leases.find_held(session, ME)
    assert [JobState.CANCELLED] == [job.state for job in _find(store, classroom)]
    assert _claim(store, LATER) is None


def test_the_same_is_not_made_twice_at_once(store: Store, classroom: Classroom) -> None:
    """A second live job about the same group is refused; another group's is not."""
    _add(store, classroom)
    with pytest.raises(Clash):
        _add(store, classroom)
    _add(store, classroom, 1, AT + timedelta(seconds=1))
    job = _claim(store)
    assert job is not None
    assert _finish(store, job)
    _add(store, classroom)


def test_ended_jobs_go_when_replaced_or_old(store: Store, classroom: Classroom) -> None:
    """A print replaces the ones before it; after some days it goes itself."""
    for _ in range(2):
        _add(store, classroom)
        newest = _claim(store)
        assert newest is not None
        assert _finish(store, newest)
    with store.open_session(writing=True) as session:
        jobs.remove_replaced(session, newest)
    assert [newest.id] == [job.id for job in _find(store, classroom)]
    live = _add(store, classroom)
    with store.open_session(writing=True) as session:
        jobs.remove_ended(session, AT)
        assert {newest.id, live.id} == jobs.ids_with_files(session)
        jobs.remove_ended(session, AT + timedelta(seconds=1))
        assert {live.id} == jobs.ids_with_files(session)
