"""Guest tests and their launches, in tables of their own: no query for trials ever meets them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.guest_tests import GuestKind, GuestTest, GuestTrial
from journal.domain.messages import Message
from journal.domain.trial_fields import fields_of
from journal.domain.trials import Place, TrialState
from journal.store.tables import Row, choice, text_column


class GuestTestRow(Row):
    """A plan of turns; it is answered and ended, never changed."""

    __tablename__ = "guest_tests"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    kind: Mapped[GuestKind] = mapped_column(choice(GuestKind, "kind"))
    revision_id: Mapped[UUID] = mapped_column(sa.ForeignKey("revisions.id"))
    asked_group_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    #: In order: the student's id, or null for the teacher.
    turns: Mapped[list[Any]] = mapped_column()
    asked_at: Mapped[datetime] = mapped_column()
    agreed: Mapped[bool | None] = mapped_column()
    ended_at: Mapped[datetime | None] = mapped_column()


# One open guest test a group and challenge, whoever taps first.
sa.Index(
    "uq_guest_tests_open",
    GuestTestRow.school_id,
    GuestTestRow.group_id,
    GuestTestRow.challenge_id,
    unique=True,
    sqlite_where=GuestTestRow.ended_at.is_(None),
    postgresql_where=GuestTestRow.ended_at.is_(None),
)
sa.Index(None, GuestTestRow.group_id, GuestTestRow.challenge_id)


class GuestTrialRow(Row):
    """One launch of a guest test."""

    __tablename__ = "guest_trials"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    guest_test_id: Mapped[UUID] = mapped_column(sa.ForeignKey("guest_tests.id"), index=True)
    session_id: Mapped[UUID] = mapped_column(sa.ForeignKey("sessions.id"))
    position: Mapped[int] = mapped_column()
    student_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"))
    state: Mapped[TrialState] = mapped_column(choice(TrialState, "state"))
    place: Mapped[Place | None] = mapped_column(choice(Place, "place"))
    x_mm: Mapped[float | None] = mapped_column()
    y_mm: Mapped[float | None] = mapped_column()
    zone: Mapped[str | None] = mapped_column(text_column(60))
    value: Mapped[float | None] = mapped_column()
    amount: Mapped[float | None] = mapped_column()
    misfire: Mapped[str | None] = mapped_column(text_column(60))
    own_revision_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("revisions.id"))
    distance_mm: Mapped[int | None] = mapped_column()
    logged_at: Mapped[datetime] = mapped_column()
    received_at: Mapped[datetime] = mapped_column()


_TRIAL_FIELDS = tuple(fields_of(GuestTrial))


def add_guest_test(session: Session, guest_test: GuestTest) -> None:
    """Keep a plan."""
    session.add(
        GuestTestRow(
            id=guest_test.id,
            school_id=guest_test.school_id,
            group_id=guest_test.group_id,
            challenge_id=guest_test.challenge_id,
            kind=guest_test.kind,
            revision_id=guest_test.revision_id,
            asked_group_id=guest_test.asked_group_id,
            turns=[None if student is None else str(student) for student in guest_test.turns],
            asked_at=guest_test.asked_at,
            agreed=guest_test.agreed,
            ended_at=guest_test.ended_at,
        )
    )
    session.flush()


def answer_guest_test(session: Session, guest_test_id: UUID, at: datetime, *, agreed: bool) -> None:
    """Keep the answer of the group that was asked; "no" ends the test."""
    session.execute(
        sa.update(GuestTestRow)
        .where(GuestTestRow.id == guest_test_id, GuestTestRow.agreed.is_(None))
        .values(agreed=agreed, ended_at=None if agreed else at)
    )


def end_guest_test(session: Session, guest_test_id: UUID, at: datetime) -> None:
    """End a guest test; one that has ended stays as it is."""
    session.execute(
        sa.update(GuestTestRow)
        .where(GuestTestRow.id == guest_test_id, GuestTestRow.ended_at.is_(None))
        .values(ended_at=at)
    )


def add_guest_trial(session: Session, trial: GuestTrial) -> None:
    """Keep a launch."""
    session.add(GuestTrialRow(**{name: getattr(trial, name) for name in _TRIAL_FIELDS}))
    session.flush()


def find_guest_trial(session: Session, trial_id: UUID) -> GuestTrial | None:
    """Return a launch by its id; None where there is none."""
    row = session.get(GuestTrialRow, trial_id)
    return None if row is None else _trial(row)


def strike_guest_trial(session: Session, trial_id: UUID) -> None:
    """Take a launch back: it is kept, and frees its turn."""
    session.execute(
        sa.update(GuestTrialRow).where(GuestTrialRow.id == trial_id).values(state=TrialState.STRUCK)
    )


def get_guest_test(session: Session, guest_test_id: UUID) -> GuestTest:
    """Return the guest test; raise NotFound."""
    found = _select(session, GuestTestRow.id == guest_test_id)
    if not found:
        raise NotFound(Message("guest_tests.not_found"))
    return found[0]


def guest_tests_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[GuestTest, ...]:
    """Return the guest tests of some groups, oldest first, in one query."""
    return _select(
        session,
        GuestTestRow.group_id.in_(list(group_ids)),
        GuestTestRow.challenge_id == challenge_id,
    )


def guest_tests_that_ask(
    session: Session, group_id: UUID, challenge_id: UUID
) -> tuple[GuestTest, ...]:
    """Return the open guest tests for which this group was asked, oldest first."""
    return _select(
        session,
        GuestTestRow.asked_group_id == group_id,
        GuestTestRow.challenge_id == challenge_id,
        GuestTestRow.ended_at.is_(None),
    )


def _select(session: Session, *conditions: sa.ColumnElement[bool]) -> tuple[GuestTest, ...]:
    found = session.execute(
        sa.select(GuestTestRow, GuestTrialRow)
        .outerjoin(GuestTrialRow, GuestTrialRow.guest_test_id == GuestTestRow.id)
        .where(*conditions)
        .order_by(GuestTestRow.asked_at, GuestTestRow.id, GuestTrialRow.received_at)
        .execution_options(populate_existing=True)
    )
    rows: dict[UUID, GuestTestRow] = {}
    trials: dict[UUID, list[GuestTrial]] = {}
    for row, trial in found:
        rows[row.id] = row
        own = trials.setdefault(row.id, [])
        if trial is not None:
            own.append(_trial(trial))
    return tuple(_guest_test(row, trials[row.id]) for row in rows.values())


def _guest_test(row: GuestTestRow, trials: list[GuestTrial]) -> GuestTest:
    return GuestTest(
        id=row.id,
        school_id=row.school_id,
        group_id=row.group_id,
        challenge_id=row.challenge_id,
        kind=row.kind,
        revision_id=row.revision_id,
        asked_group_id=row.asked_group_id,
        turns=tuple(None if student is None else UUID(student) for student in row.turns),
        asked_at=row.asked_at,
        agreed=row.agreed,
        ended_at=row.ended_at,
        trials=tuple(trials),
    )


def _trial(row: GuestTrialRow) -> GuestTrial:
    return GuestTrial(**{name: getattr(row, name) for name in _TRIAL_FIELDS})
