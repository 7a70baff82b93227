"""Classes and their lesson words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.classes import ClassEntry, Door, GradeBand, SchoolClass
from journal.domain.errors import NotFound
from journal.domain.lesson_words import MOST_HOURS
from journal.domain.messages import Message
from journal.store.tables import Row, choice, text_column


class ClassRow(Row):
    """A class; `version` counts every change that an overview could show."""

    __tablename__ = "classes"
    __table_args__ = (sa.UniqueConstraint("school_id", "teacher_id", "name"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    teacher_id: Mapped[UUID] = mapped_column(sa.ForeignKey("teachers.id"))
    name: Mapped[str] = mapped_column(text_column(60))
    band: Mapped[GradeBand] = mapped_column(choice(GradeBand, "band"))
    language: Mapped[str] = mapped_column(text_column(12))
    retention_date: Mapped[date] = mapped_column()
    door: Mapped[Door] = mapped_column(choice(Door, "door"), default=Door.OPEN)
    version: Mapped[int] = mapped_column(default=0)
    #: Measures opened or closed against the band, by name.
    measures: Mapped[dict[str, Any]] = mapped_column(default=dict, server_default="{}")


class LessonWordRow(Row):
    """A word that opens a class's door until it expires; unique over all schools."""

    __tablename__ = "lesson_words"
    __table_args__ = (sa.UniqueConstraint("word"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"), index=True)
    word: Mapped[str] = mapped_column(text_column(24))
    expires_at: Mapped[datetime] = mapped_column()


# Built once: every trial asks it.
_BUMP = (
    sa.update(ClassRow)
    .where(ClassRow.id == sa.bindparam("changed_id", type_=sa.Uuid()))
    .values(version=ClassRow.version + 1)
)


def add_class(
    session: Session, *, school_id: UUID, teacher_id: UUID, entry: ClassEntry
) -> SchoolClass:
    """Add a class."""
    row = ClassRow(
        school_id=school_id,
        teacher_id=teacher_id,
        name=entry.name,
        band=entry.band,
        language=entry.language,
        retention_date=entry.retention_date,
        door=Door.OPEN,
        version=0,
    )
    session.add(row)
    session.flush()
    return class_of_row(row)


def get_class(session: Session, class_id: UUID) -> SchoolClass:
    """Return the class; raise NotFound."""
    row = session.get(ClassRow, class_id)
    if row is None:
        message = Message("classes.no_such_class")
        raise NotFound(message)
    return class_of_row(row)


def classes_of_teacher(session: Session, teacher_id: UUID) -> tuple[SchoolClass, ...]:
    """Return a teacher's classes by name."""
    rows = session.scalars(
        sa.select(ClassRow).where(ClassRow.teacher_id == teacher_id).order_by(ClassRow.name)
    )
    return tuple(class_of_row(row) for row in rows)


def all_classes(session: Session) -> tuple[SchoolClass, ...]:
    """Return every class by name: for the terminal only."""
    return tuple(
        class_of_row(row) for row in session.scalars(sa.select(ClassRow).order_by(ClassRow.name))
    )


def find_version(session: Session, class_id: UUID) -> int | None:
    """Return the class's version alone: it grows with whatever an overview could show."""
    return session.scalar(sa.select(ClassRow.version).where(ClassRow.id == class_id))


def bump_version(session: Session, class_id: UUID) -> None:
    """Count one more change of the class."""
    session.connection().execute(_BUMP, {"changed_id": class_id})


def set_door(session: Session, class_id: UUID, door: Door) -> None:
    """Set what happens when a tablet brings the right lesson word."""
    session.execute(sa.update(ClassRow).where(ClassRow.id == class_id).values(door=door))


def set_measures(session: Session, class_id: UUID, measures: Mapping[str, bool]) -> None:
    """Set which measures are opened or closed against the band."""
    session.execute(
        sa.update(ClassRow).where(ClassRow.id == class_id).values(measures=dict(measures))
    )


def add_lesson_word(
    session: Session, school_class: SchoolClass, word: str, expires_at: datetime
) -> bool:
    """Give the class this word in place of its present ones; False where the word is taken."""
    make = postgresql.insert if session.get_bind().dialect.name == "postgresql" else sqlite.insert
    added = session.execute(
        make(LessonWordRow)
        .values(
            id=uuid4(),
            school_id=school_class.school_id,
            class_id=school_class.id,
            word=word,
            expires_at=expires_at,
        )
        .on_conflict_do_nothing(index_elements=["word"])
        .returning(LessonWordRow.id)
    ).first()
    if added is None:
        return False
    session.execute(
        sa.delete(LessonWordRow).where(
            LessonWordRow.class_id == school_class.id, LessonWordRow.word != word
        )
    )
    return True


def drop_lesson_words(session: Session, class_id: UUID) -> None:
    """Take the class's lesson words away: its door stays shut until there is a new one."""
    session.execute(sa.delete(LessonWordRow).where(LessonWordRow.class_id == class_id))


def drop_all_lesson_words(session: Session) -> None:
    """Take the lesson words of all classes away."""
    session.execute(sa.delete(LessonWordRow))


def find_class_by_word(
    session: Session, typed: str, now: datetime
) -> tuple[str, SchoolClass] | None:
    """Return the word as it is kept and the class that it opens now; `typed` has no dashes.

    One row a class: looking through all of them is as good as an index.
    """
    found = session.execute(
        sa.select(LessonWordRow.word, ClassRow)
        .join(LessonWordRow, LessonWordRow.class_id == ClassRow.id)
        .where(sa.func.replace(LessonWordRow.word, "-", "") == typed, _in_force(now))
    ).first()
    return None if found is None else (found[0], class_of_row(found[1]))


def find_word(session: Session, class_id: UUID, now: datetime) -> tuple[str, datetime] | None:
    """Return the class's present lesson word and when it expires."""
    row = session.scalars(
        sa.select(LessonWordRow).where(LessonWordRow.class_id == class_id, _in_force(now))
    ).first()
    return None if row is None else (row.word, row.expires_at)


def _in_force(now: datetime) -> sa.ColumnElement[bool]:
    """Return the condition of a word in force.

    One that would last longer than any word does was made while the clock was wrong.
    """
    latest = now + timedelta(hours=MOST_HOURS)
    return sa.and_(LessonWordRow.expires_at > now, LessonWordRow.expires_at <= latest)


def class_of_row(row: ClassRow) -> SchoolClass:
    """Return the class that a row of the table holds."""
    return SchoolClass(
        id=row.id,
        school_id=row.school_id,
        teacher_id=row.teacher_id,
        name=row.name,
        band=row.band,
        language=row.language,
        retention_date=row.retention_date,
        door=row.door,
        version=row.version,
        measures=tuple(sorted((name, bool(is_open)) for name, is_open in row.measures.items())),
    )
