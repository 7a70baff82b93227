"""Groups and memberships: history stays with the group, each membership with its times."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.groups import Group, Member
from journal.store.people import StudentRow
from journal.store.tables import Row, text_column


class GroupRow(Row):
    """A group of a class."""

    __tablename__ = "groups"
    __table_args__ = (
        sa.UniqueConstraint("school_id", "class_id", "number"),
        sa.UniqueConstraint("school_id", "class_id", "name"),
    )

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"))
    number: Mapped[int] = mapped_column()
    name: Mapped[str] = mapped_column(text_column(40))
    #: Of the questions on the ladder; None for the language of the class.
    question_language: Mapped[str | None] = mapped_column(text_column(8))


class MembershipRow(Row):
    """A student's time in a group."""

    __tablename__ = "memberships"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    student_id: Mapped[UUID] = mapped_column(sa.ForeignKey("students.id"), index=True)
    joined_at: Mapped[datetime] = mapped_column()
    left_at: Mapped[datetime | None] = mapped_column()


# A student is in one group of the class at a time: the database itself says so.
sa.Index(
    "uq_memberships_present",
    MembershipRow.school_id,
    MembershipRow.student_id,
    unique=True,
    sqlite_where=MembershipRow.left_at.is_(None),
    postgresql_where=MembershipRow.left_at.is_(None),
)


def add_group(
    session: Session, *, school_id: UUID, class_id: UUID, number: int, name: str
) -> Group:
    """Add a group without members."""
    row = GroupRow(school_id=school_id, class_id=class_id, number=number, name=name)
    session.add(row)
    session.flush()
    return Group(
        id=row.id, school_id=school_id, class_id=class_id, number=number, name=name, members=()
    )


def rename_group(session: Session, group_id: UUID, name: str) -> None:
    """Give a group another name."""
    session.execute(sa.update(GroupRow).where(GroupRow.id == group_id).values(name=name))


def set_question_language(session: Session, group_id: UUID, language: str | None) -> None:
    """Keep the language of a group's questions; None for the language of the class."""
    session.execute(
        sa.update(GroupRow).where(GroupRow.id == group_id).values(question_language=language)
    )


def get_group(session: Session, group_id: UUID) -> Group:
    """Return the group with all its members, past ones too; raise NotFound."""
    row = session.get(GroupRow, group_id)
    if row is None:
        message = "There is no such group."
        raise NotFound(message)
    return _with_members(session, [row])[0]


def groups_of_class(session: Session, class_id: UUID) -> tuple[Group, ...]:
    """Return the class's groups by number, each with its members, in two queries."""
    rows = session.scalars(
        sa.select(GroupRow).where(GroupRow.class_id == class_id).order_by(GroupRow.number)
    ).all()
    return tuple(_with_members(session, rows))


def join_group(session: Session, group: Group, student_ids: Iterable[UUID], at: datetime) -> None:
    """Let students join a group from now on."""
    session.add_all(
        MembershipRow(
            school_id=group.school_id, group_id=group.id, student_id=student_id, joined_at=at
        )
        for student_id in student_ids
    )
    session.flush()


def leave_groups(session: Session, student_id: UUID, at: datetime) -> None:
    """End the student's present membership, if there is one."""
    session.execute(
        sa.update(MembershipRow)
        .where(MembershipRow.student_id == student_id, MembershipRow.left_at.is_(None))
        .values(left_at=at)
    )


def _with_members(session: Session, rows: Iterable[GroupRow]) -> list[Group]:
    rows = list(rows)
    members: dict[UUID, list[Member]] = {row.id: [] for row in rows}
    found = session.execute(
        sa.select(MembershipRow, StudentRow.nickname)
        .join(StudentRow, StudentRow.id == MembershipRow.student_id)
        .where(MembershipRow.group_id.in_(members))
        .order_by(MembershipRow.joined_at, StudentRow.nickname)
    )
    for membership, nickname in found:
        members[membership.group_id].append(
            Member(
                student_id=membership.student_id,
                nickname=nickname,
                joined_at=membership.joined_at,
                left_at=membership.left_at,
            )
        )
    return [
        Group(
            id=row.id,
            school_id=row.school_id,
            class_id=row.class_id,
            number=row.number,
            name=row.name,
            members=tuple(members[row.id]),
            question_language=row.question_language,
        )
        for row in rows
    ]
