"""Groups and memberships: history stays with the group, each membership with its times."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.domain.groups import Group, Member
from journal.domain.messages import Message
from journal.store.classes import ClassRow, class_of_row
from journal.store.json_rows import JsonRows
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
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"), index=True)
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


_MEMBERS = JsonRows(
    (
        MembershipRow.__table__.c.student_id,
        StudentRow.__table__.c.nickname,
        MembershipRow.__table__.c.joined_at,
        MembershipRow.__table__.c.left_at,
    ),
    MembershipRow.__table__.join(
        StudentRow.__table__, StudentRow.__table__.c.id == MembershipRow.__table__.c.student_id
    ),
)
_WITH_MEMBERS = sa.select(
    *GroupRow.__table__.c,
    _MEMBERS.where(MembershipRow.group_id == GroupRow.id).label("members"),
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
    found = _select(session, GroupRow.id == group_id)
    if not found:
        message = Message("groups.no_such_group")
        raise NotFound(message)
    return found[0]


def get_group_with_class(session: Session, group_id: UUID) -> tuple[Group, SchoolClass]:
    """Return the group and its class, in one query; raise NotFound."""
    row = session.execute(
        _WITH_MEMBERS.add_columns(ClassRow)
        .join(ClassRow, ClassRow.id == GroupRow.class_id)
        .where(GroupRow.id == group_id)
    ).first()
    if row is None:
        message = Message("groups.no_such_group")
        raise NotFound(message)
    return _group(row), class_of_row(row.ClassRow)


def groups_of_class(session: Session, class_id: UUID) -> tuple[Group, ...]:
    """Return the class's groups by number, each with its members, in one query."""
    return _select(session, GroupRow.class_id == class_id)


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


def _select(session: Session, *conditions: sa.ColumnElement[bool]) -> tuple[Group, ...]:
    found = session.execute(_WITH_MEMBERS.where(*conditions).order_by(GroupRow.number))
    return tuple(_group(row) for row in found)


def _group(row: Any) -> Group:  # noqa: ANN401 - a row of the columns of `_select`
    members = _MEMBERS.read(row.members)
    return Group(
        id=row.id,
        school_id=row.school_id,
        class_id=row.class_id,
        number=row.number,
        name=row.name,
        members=tuple(
            Member(
                student_id=member.student_id,
                nickname=member.nickname,
                joined_at=member.joined_at,
                left_at=member.left_at,
            )
            for member in sorted(members, key=lambda row: (row.joined_at, row.nickname))
        ),
        question_language=row.question_language,
    )
