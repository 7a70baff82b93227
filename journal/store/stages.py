"""A group's walk through the stages and the notes it left at each."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.groups import Group
from journal.domain.stages import Note, NoteEntry, NoteKind, Stage, Step
from journal.store.tables import Row, choice, text_column


class StepRow(Row):
    """A group's arrival at a stage."""

    __tablename__ = "steps"
    __table_args__ = (sa.Index(None, "group_id", "challenge_id"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    session_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("sessions.id"))
    stage: Mapped[Stage] = mapped_column(choice(Stage, "stage"))
    at: Mapped[datetime] = mapped_column()


class NoteRow(Row):
    """A note; later ones of a kind stand after it, none is overwritten."""

    __tablename__ = "notes"
    __table_args__ = (sa.Index(None, "group_id", "challenge_id"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    session_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("sessions.id"))
    kind: Mapped[NoteKind] = mapped_column(choice(NoteKind, "kind"))
    text: Mapped[str] = mapped_column(text_column(600))
    student_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"))
    scribe: Mapped[str] = mapped_column(text_column(24))
    logged_at: Mapped[datetime] = mapped_column()


def add_step(session: Session, group: Group, challenge_id: UUID, step: Step) -> None:
    """Keep a group's arrival at a stage."""
    session.add(
        StepRow(
            school_id=group.school_id,
            group_id=group.id,
            challenge_id=challenge_id,
            session_id=step.session_id,
            stage=step.stage,
            at=step.at,
        )
    )
    session.flush()


def find_last_step(session: Session, group_id: UUID, challenge_id: UUID) -> Step | None:
    """Return where the group stands now."""
    row = session.scalars(
        sa.select(StepRow)
        .where(StepRow.group_id == group_id, StepRow.challenge_id == challenge_id)
        .order_by(StepRow.at.desc())
        .limit(1)
    ).first()
    return None if row is None else _step(row)


def steps_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> dict[UUID, tuple[Step, ...]]:
    """Return each group's steps in order."""
    ids = list(group_ids)
    steps: dict[UUID, list[Step]] = {group_id: [] for group_id in ids}
    rows = session.scalars(
        sa.select(StepRow)
        .where(StepRow.group_id.in_(ids), StepRow.challenge_id == challenge_id)
        .order_by(StepRow.at)
    )
    for row in rows:
        steps[row.group_id].append(_step(row))
    return {group_id: tuple(found) for group_id, found in steps.items()}


def add_note(
    session: Session,
    group: Group,
    challenge_id: UUID,
    entry: NoteEntry,
    *,
    session_id: UUID | None,
    logged_at: datetime,
) -> Note:
    """Keep a note."""
    row = NoteRow(
        school_id=group.school_id,
        group_id=group.id,
        challenge_id=challenge_id,
        session_id=session_id,
        kind=entry.kind,
        text=entry.text,
        student_id=entry.student_id,
        scribe=entry.scribe,
        logged_at=logged_at,
    )
    session.add(row)
    session.flush()
    return _note(row)


def notes_of_group(session: Session, group_id: UUID, challenge_id: UUID) -> tuple[Note, ...]:
    """Return the group's notes in order of writing."""
    rows = session.scalars(
        sa.select(NoteRow)
        .where(NoteRow.group_id == group_id, NoteRow.challenge_id == challenge_id)
        .order_by(NoteRow.logged_at, NoteRow.id)
    )
    return tuple(_note(row) for row in rows)


def _step(row: StepRow) -> Step:
    return Step(stage=row.stage, at=row.at, session_id=row.session_id)


def _note(row: NoteRow) -> Note:
    return Note(
        id=row.id,
        group_id=row.group_id,
        challenge_id=row.challenge_id,
        session_id=row.session_id,
        kind=row.kind,
        text=row.text,
        student_id=row.student_id,
        scribe=row.scribe,
        logged_at=row.logged_at,
    )
