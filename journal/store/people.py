"""Schools, teachers and students."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.people import School, Student, Teacher
from journal.store.tables import Row, text_column


class SchoolRow(Row):
    """A school."""

    __tablename__ = "schools"

    name: Mapped[str] = mapped_column(text_column(120))


class TeacherRow(Row):
    """A teacher; the sign-in name is unique over all schools, a small directory."""

    __tablename__ = "teachers"
    __table_args__ = (sa.UniqueConstraint("sign_in_name"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    sign_in_name: Mapped[str] = mapped_column(text_column(60))
    shown_name: Mapped[str] = mapped_column(text_column(60))
    password_hash: Mapped[str] = mapped_column(text_column(200))


class StudentRow(Row):
    """A student of a class, by nickname."""

    __tablename__ = "students"
    __table_args__ = (sa.UniqueConstraint("school_id", "class_id", "nickname"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"), index=True)
    nickname: Mapped[str] = mapped_column(text_column(24))
    left_at: Mapped[datetime | None] = mapped_column()


def add_school(session: Session, name: str) -> School:
    """Add a school."""
    row = SchoolRow(name=name)
    session.add(row)
    session.flush()
    return School(id=row.id, name=row.name)


def find_school(session: Session) -> School | None:
    """Return the first school, if there is one."""
    row = session.scalars(sa.select(SchoolRow).order_by(SchoolRow.name).limit(1)).first()
    return None if row is None else School(id=row.id, name=row.name)


def add_teacher(
    session: Session, school_id: UUID, *, sign_in_name: str, shown_name: str, password_hash: str
) -> Teacher:
    """Add a teacher."""
    row = TeacherRow(
        school_id=school_id,
        sign_in_name=sign_in_name,
        shown_name=shown_name,
        password_hash=password_hash,
    )
    session.add(row)
    session.flush()
    return _teacher(row)


def find_teacher_by_name(session: Session, sign_in_name: str) -> tuple[Teacher, str] | None:
    """Return the teacher with this sign-in name and the hash of the password."""
    found = session.scalars(sa.select(TeacherRow).where(TeacherRow.sign_in_name == sign_in_name))
    row = found.first()
    return None if row is None else (_teacher(row), row.password_hash)


def get_teacher(session: Session, teacher_id: UUID) -> Teacher:
    """Return the teacher; raise NotFound."""
    row = session.get(TeacherRow, teacher_id)
    if row is None:
        message = Message("people.no_such_teacher")
        raise NotFound(message)
    return _teacher(row)


def set_password_hash(session: Session, teacher_id: UUID, password_hash: str) -> None:
    """Replace the hash of a teacher's password."""
    session.execute(
        sa.update(TeacherRow).where(TeacherRow.id == teacher_id).values(password_hash=password_hash)
    )


def add_students(
    session: Session, school_id: UUID, class_id: UUID, nicknames: Sequence[str]
) -> tuple[Student, ...]:
    """Add students to a class, in the order given."""
    rows = [StudentRow(school_id=school_id, class_id=class_id, nickname=name) for name in nicknames]
    session.add_all(rows)
    session.flush()
    return tuple(_student(row) for row in rows)


def students_of_class(session: Session, class_id: UUID) -> tuple[Student, ...]:
    """Return all students of a class, those who left as well, by nickname."""
    rows = session.scalars(
        sa.select(StudentRow).where(StudentRow.class_id == class_id).order_by(StudentRow.nickname)
    )
    return tuple(_student(row) for row in rows)


def get_student(session: Session, student_id: UUID) -> Student:
    """Return the student; raise NotFound."""
    row = session.get(StudentRow, student_id)
    if row is None:
        message = Message("people.no_such_student")
        raise NotFound(message)
    return _student(row)


def mark_student_left(session: Session, student_id: UUID, left_at: datetime | None) -> None:
    """Note that a student left the class, or came back (None)."""
    session.execute(
        sa.update(StudentRow).where(StudentRow.id == student_id).values(left_at=left_at)
    )


def _teacher(row: TeacherRow) -> Teacher:
    return Teacher(
        id=row.id,
        school_id=row.school_id,
        sign_in_name=row.sign_in_name,
        shown_name=row.shown_name,
    )


def _student(row: StudentRow) -> Student:
    return Student(
        id=row.id, class_id=row.class_id, nickname=row.nickname, left=row.left_at is not None
    )
