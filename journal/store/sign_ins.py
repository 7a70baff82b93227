"""Sign-ins as rows, so that each can be ended: a teacher's, or a tablet's for a group."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.actors import Actor, Role, Tablet, TabletState
from journal.store.groups import MembershipRow
from journal.store.tables import Row, choice, text_column


class SignInRow(Row):
    """A sign-in; only the hash of its token is kept."""

    __tablename__ = "sign_ins"
    __table_args__ = (sa.UniqueConstraint("token_hash"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    token_hash: Mapped[str] = mapped_column(text_column(64))
    role: Mapped[Role] = mapped_column(choice(Role, "role"))
    teacher_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("teachers.id"), index=True)
    class_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("classes.id"), index=True)
    group_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("groups.id"))
    student_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"))
    tablet_state: Mapped[TabletState | None] = mapped_column(choice(TabletState, "tablet_state"))
    started_at: Mapped[datetime] = mapped_column()
    last_seen_at: Mapped[datetime] = mapped_column()
    ended_at: Mapped[datetime | None] = mapped_column()


_COLUMNS = SignInRow.__table__.c
_MEMBERSHIPS = MembershipRow.__table__.c
_OF_THE_CHILD = sa.and_(
    _MEMBERSHIPS.group_id == _COLUMNS.group_id, _MEMBERSHIPS.student_id == _COLUMNS.student_id
)
_STILL_THERE = sa.exists().where(_OF_THE_CHILD, _MEMBERSHIPS.left_at.is_(None))
_LAST_LEFT = sa.select(sa.func.max(_MEMBERSHIPS.left_at)).where(_OF_THE_CHILD).scalar_subquery()
# Built once: every request asks it.
_PRESENT = sa.select(
    *_COLUMNS, sa.case((_STILL_THERE, None), else_=_LAST_LEFT).label("left_at")
).where(
    _COLUMNS.token_hash == sa.bindparam("token_hash", type_=_COLUMNS.token_hash.type),
    _COLUMNS.ended_at.is_(None),
)


def add_sign_in(session: Session, token_hash: str, actor: Actor, at: datetime) -> UUID:
    """Keep a new sign-in for the actor and return its id."""
    row = SignInRow(
        school_id=actor.school_id,
        token_hash=token_hash,
        role=actor.role,
        teacher_id=actor.teacher_id,
        class_id=actor.class_id,
        group_id=actor.group_id,
        student_id=actor.student_id,
        tablet_state=actor.tablet_state,
        started_at=at,
        last_seen_at=at,
    )
    session.add(row)
    session.flush()
    return row.id


def find_sign_in(session: Session, token_hash: str) -> tuple[Actor, datetime, datetime] | None:
    """Return actor, start and last use of a sign-in that has not been ended."""
    row = session.connection().execute(_PRESENT, {"token_hash": token_hash}).first()
    if row is None:
        return None
    return _actor(row), row.started_at, row.last_seen_at


def touch(session: Session, sign_in_id: UUID, at: datetime) -> None:
    """Note that the sign-in was just used."""
    session.execute(sa.update(SignInRow).where(SignInRow.id == sign_in_id).values(last_seen_at=at))


def end(session: Session, sign_in_id: UUID, at: datetime) -> None:
    """End a sign-in."""
    session.execute(
        sa.update(SignInRow)
        .where(SignInRow.id == sign_in_id, SignInRow.ended_at.is_(None))
        .values(ended_at=at)
    )


def end_all_of_teacher(session: Session, teacher_id: UUID, at: datetime) -> None:
    """End every sign-in of a teacher."""
    session.execute(
        sa.update(SignInRow)
        .where(SignInRow.teacher_id == teacher_id, SignInRow.ended_at.is_(None))
        .values(ended_at=at)
    )


def end_boards(session: Session, class_id: UUID, at: datetime) -> None:
    """End the sign-ins of a class's boards."""
    session.execute(
        sa.update(SignInRow)
        .where(
            SignInRow.class_id == class_id,
            SignInRow.role == Role.BOARD,
            SignInRow.ended_at.is_(None),
        )
        .values(ended_at=at)
    )


def end_all(session: Session, at: datetime) -> None:
    """End every sign-in, of teachers and tablets."""
    session.execute(sa.update(SignInRow).where(SignInRow.ended_at.is_(None)).values(ended_at=at))


def set_tablet_state(
    session: Session, class_id: UUID, sign_in_id: UUID, state: TabletState
) -> bool:
    """Let a tablet of the class in or send it out; False where it is not of this class."""
    done = session.execute(
        sa.update(SignInRow)
        .where(
            SignInRow.id == sign_in_id,
            SignInRow.class_id == class_id,
            SignInRow.role == Role.TABLET,
            SignInRow.ended_at.is_(None),
        )
        .values(tablet_state=state)
        .returning(SignInRow.id)
    )
    return done.first() is not None


def tablets_of_class(session: Session, class_id: UUID, since: datetime) -> tuple[Tablet, ...]:
    """Return the class's tablets signed in since a moment and not ended, newest first."""
    rows = session.scalars(
        sa.select(SignInRow)
        .where(
            SignInRow.class_id == class_id,
            SignInRow.role == Role.TABLET,
            SignInRow.ended_at.is_(None),
            SignInRow.started_at >= since,
        )
        .order_by(SignInRow.started_at.desc(), SignInRow.id)
    )
    return tuple(
        Tablet(
            sign_in_id=row.id,
            group_id=row.group_id,
            student_id=row.student_id,
            state=row.tablet_state,
            signed_in_at=row.started_at,
            last_seen_at=row.last_seen_at,
        )
        for row in rows
        if row.group_id is not None and row.tablet_state is not None
    )


def _actor(row: Any) -> Actor:  # noqa: ANN401 (a row of the statement)
    """Return the actor; one is out where the child who tapped in has left the group."""
    has_left = row.left_at is not None and row.tablet_state is not TabletState.OUT
    return Actor(
        role=row.role,
        school_id=row.school_id,
        teacher_id=row.teacher_id,
        class_id=row.class_id,
        group_id=row.group_id,
        student_id=row.student_id,
        sign_in_id=row.id,
        tablet_state=TabletState.OUT if has_left else row.tablet_state,
        left_at=row.left_at if has_left and row.tablet_state is TabletState.IN else None,
    )
