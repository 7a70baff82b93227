"""Who runs a job: claimed under a lease, renewed, ended.

Each step is one statement that checks what it rests on and says by RETURNING whether it held, so
any number of dispatchers can work on one table.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Session

from journal.domain.jobs import (
    LEASE,
    LIVE,
    MOST_ATTEMPTS,
    MOST_PROBLEM_LETTERS,
    WHOLE_PERCENT,
    Job,
    JobState,
)
from journal.store.jobs import JobRow, read_job


def is_waiting(session: Session, now: datetime) -> bool:
    """Return whether there is a job to claim."""
    return session.scalar(sa.select(JobRow.id).where(_claimable(now)).limit(1)) is not None


def claim(session: Session, owner: UUID, now: datetime) -> Job | None:
    """Take up the job that waits longest and hold its lease; None where none waits."""
    first = (
        sa.select(JobRow.id)
        .where(_claimable(now))
        .order_by(JobRow.asked_at, JobRow.id)
        .limit(1)
        .scalar_subquery()
    )
    row = session.scalars(
        sa.update(JobRow)
        # Asked again outside: on PostgreSQL another one may have taken it meanwhile.
        .where(JobRow.id == first, _claimable(now))
        .values(
            state=JobState.RUNNING,
            attempts=JobRow.attempts + 1,
            percent=0,
            lease_owner=owner,
            lease_until=now + LEASE,
        )
        .returning(JobRow)
        .execution_options(synchronize_session=False, populate_existing=True)
    ).one_or_none()
    return None if row is None else read_job(row)


def find_held(session: Session, owner: UUID) -> frozenset[UUID]:
    """Return the running jobs on which a dispatcher holds the lease."""
    held = sa.select(JobRow.id).where(JobRow.lease_owner == owner, JobRow.state == JobState.RUNNING)
    return frozenset(session.scalars(held))


def renew(session: Session, owner: UUID, percents: Mapping[UUID, int], now: datetime) -> None:
    """Renew a dispatcher's leases and note how far each job is."""
    for job_id, percent in percents.items():
        session.execute(
            sa.update(JobRow)
            .where(*_held(job_id, owner))
            .values(lease_until=now + LEASE, percent=percent)
            .execution_options(synchronize_session=False)
        )


def finish(
    session: Session, job_id: UUID, owner: UUID, *, at: datetime, class_version: int, edition: str
) -> bool:
    """Note that a job is done; False where the lease is another's, or it was cancelled."""
    return _end(
        session,
        _held(job_id, owner),
        {
            "state": JobState.DONE,
            "ended_at": at,
            "percent": WHOLE_PERCENT,
            "class_version": class_version,
            "edition": edition,
        },
    )


def give_up(session: Session, job_id: UUID, owner: UUID, *, at: datetime, problem: str) -> bool:
    """Note that nothing came of a job, and why; False where the lease is another's."""
    values = {
        "state": JobState.FAILED,
        "ended_at": at,
        "problem": problem[:MOST_PROBLEM_LETTERS],
    }
    return _end(session, _held(job_id, owner), values)


def give_back(session: Session, job_id: UUID, owner: UUID, *, uncounted: bool = False) -> bool:
    """Queue a job again; `uncounted` where the attempt was ended by ourselves."""
    values: dict[str, object] = {"state": JobState.QUEUED, "percent": 0}
    if uncounted:
        values["attempts"] = JobRow.attempts - 1
    return _end(session, _held(job_id, owner), values)


def give_up_all(session: Session, now: datetime, problem: str) -> None:
    """End the jobs whose last attempt was cut off: nobody would take them up any more."""
    _end(
        session,
        [JobRow.state.in_(LIVE), JobRow.attempts >= MOST_ATTEMPTS, _is_free(now)],
        {"state": JobState.FAILED, "ended_at": now, "problem": problem},
    )


def _claimable(now: datetime) -> sa.ColumnElement[bool]:
    return sa.and_(JobRow.state.in_(LIVE), JobRow.attempts < MOST_ATTEMPTS, _is_free(now))


def _is_free(now: datetime) -> sa.ColumnElement[bool]:
    """Return the condition of a job on which no lease is held.

    A lease that ends later than any does was given while the clock was wrong.
    """
    return sa.or_(
        JobRow.lease_until.is_(None),
        JobRow.lease_until < now,
        JobRow.lease_until > now + 2 * LEASE,
    )


def _held(job_id: UUID, owner: UUID) -> list[sa.ColumnElement[bool]]:
    return [JobRow.id == job_id, JobRow.lease_owner == owner, JobRow.state == JobState.RUNNING]


def _end(
    session: Session, where: Collection[sa.ColumnElement[bool]], values: dict[str, object]
) -> bool:
    """End a lease, where some conditions hold; return whether one did."""
    done = session.scalars(
        sa.update(JobRow)
        .where(*where)
        .values(lease_owner=None, lease_until=None, **values)
        .returning(JobRow.id)
        .execution_options(synchronize_session=False)
    ).all()
    return bool(done)
