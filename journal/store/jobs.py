"""Jobs as rows: asked for, found, cancelled, removed. Who runs them stands in `job_leases.py`."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.classes import SchoolClass
from journal.domain.jobs import LIVE, MOST_PROBLEM_LETTERS, Job, JobKind, JobState
from journal.store.tables import Row, choice, text_column


class JobRow(Row):
    """A job; `lease_owner` is the dispatcher that runs it, until `lease_until`."""

    __tablename__ = "jobs"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"))
    group_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    challenge_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("challenges.id"))
    teacher_id: Mapped[UUID] = mapped_column(sa.ForeignKey("teachers.id"))
    kind: Mapped[JobKind] = mapped_column(choice(JobKind, "kind"))
    state: Mapped[JobState] = mapped_column(choice(JobState, "state"))
    asked_at: Mapped[datetime] = mapped_column()
    ended_at: Mapped[datetime | None] = mapped_column()
    attempts: Mapped[int] = mapped_column()
    percent: Mapped[int] = mapped_column()
    lease_owner: Mapped[UUID | None] = mapped_column()
    lease_until: Mapped[datetime | None] = mapped_column()
    problem: Mapped[str] = mapped_column(text_column(MOST_PROBLEM_LETTERS))
    class_version: Mapped[int | None] = mapped_column()
    edition: Mapped[str] = mapped_column(text_column(40))


# The same thing is made once at a time, whoever asks for it and however often.
sa.Index(
    "uq_jobs_live",
    JobRow.school_id,
    JobRow.kind,
    JobRow.group_id,
    JobRow.challenge_id,
    unique=True,
    sqlite_where=JobRow.state.in_(LIVE),
    postgresql_where=JobRow.state.in_(LIVE),
)


def add_job(
    session: Session,
    school_class: SchoolClass,
    kind: JobKind,
    *,
    group_id: UUID,
    challenge_id: UUID,
    asked_at: datetime,
) -> Job:
    """Queue a job about a group; the caller has looked whether the same one is live."""
    row = JobRow(
        school_id=school_class.school_id,
        class_id=school_class.id,
        group_id=group_id,
        challenge_id=challenge_id,
        teacher_id=school_class.teacher_id,
        kind=kind,
        state=JobState.QUEUED,
        asked_at=asked_at,
        attempts=0,
        percent=0,
        problem="",
        edition="",
    )
    session.add(row)
    session.flush()
    return read_job(row)


def jobs_of_group(
    session: Session, kind: JobKind, group_id: UUID, challenge_id: UUID
) -> tuple[Job, ...]:
    """Return the jobs about a group and a challenge, the newest first."""
    rows = session.scalars(
        sa.select(JobRow)
        .where(
            JobRow.group_id == group_id, JobRow.challenge_id == challenge_id, JobRow.kind == kind
        )
        .order_by(JobRow.asked_at.desc(), JobRow.id)
    )
    return tuple(read_job(row) for row in rows)


def count_before(session: Session, job: Job) -> int:
    """Count the live jobs that were asked for before this one."""
    before = sa.select(sa.func.count()).where(
        JobRow.state.in_(LIVE), JobRow.asked_at < job.asked_at
    )
    return session.scalar(before) or 0


def cancel_live(session: Session, group_id: UUID, challenge_id: UUID, at: datetime) -> bool:
    """Cancel what is queued or running about a group and a challenge; False if nothing was."""
    done = session.scalars(
        sa.update(JobRow)
        .where(
            JobRow.group_id == group_id,
            JobRow.challenge_id == challenge_id,
            JobRow.state.in_(LIVE),
        )
        .values(state=JobState.CANCELLED, ended_at=at, lease_owner=None, lease_until=None)
        .returning(JobRow.id)
    ).all()
    return bool(done)


def remove_replaced(session: Session, job: Job) -> None:
    """Remove the ended jobs that a newer one about the same thing replaces."""
    session.execute(
        sa.delete(JobRow).where(
            JobRow.kind == job.kind,
            JobRow.group_id == job.group_id,
            JobRow.challenge_id == job.challenge_id,
            JobRow.state.not_in(LIVE),
            JobRow.id != job.id,
        )
    )


def remove_ended(session: Session, before: datetime) -> None:
    """Remove the jobs that ended before a moment."""
    session.execute(sa.delete(JobRow).where(JobRow.state.not_in(LIVE), JobRow.ended_at < before))


def ids_with_files(session: Session) -> frozenset[UUID]:
    """Return the jobs that may have a file: those that are done or live."""
    states = (*LIVE, JobState.DONE)
    return frozenset(session.scalars(sa.select(JobRow.id).where(JobRow.state.in_(states))))


def read_job(row: JobRow) -> Job:
    """Return a row as a value."""
    return Job(
        id=row.id,
        school_id=row.school_id,
        class_id=row.class_id,
        group_id=row.group_id,
        challenge_id=row.challenge_id,
        teacher_id=row.teacher_id,
        kind=row.kind,
        state=row.state,
        asked_at=row.asked_at,
        ended_at=row.ended_at,
        attempts=row.attempts,
        percent=row.percent,
        problem=row.problem,
        class_version=row.class_version,
        edition=row.edition,
    )
