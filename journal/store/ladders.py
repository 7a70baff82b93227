"""Climbs on the question ladder and the answers given at each rung."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.groups import Group
from journal.domain.ladders import (
    Answer,
    AnswerKind,
    BorneOut,
    Climb,
    ClimbEnd,
    LedTo,
    PassKind,
    Rung,
    RungPass,
)
from journal.domain.messages import Message
from journal.domain.sketches import Sketch
from journal.store.json_rows import JsonRows
from journal.store.tables import Row, choice, text_column


class ClimbRow(Row):
    """One time on the ladder."""

    __tablename__ = "climbs"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    started_at: Mapped[datetime] = mapped_column()
    why: Mapped[str] = mapped_column(text_column(40))
    rung: Mapped[Rung] = mapped_column(choice(Rung, "rung"))
    rung_opened_at: Mapped[datetime] = mapped_column()
    ended_at: Mapped[datetime | None] = mapped_column()
    ended_by: Mapped[ClimbEnd | None] = mapped_column(choice(ClimbEnd, "ended_by"))
    led_to: Mapped[LedTo | None] = mapped_column(choice(LedTo, "led_to"))


# One open climb a group and challenge, whoever taps first.
sa.Index(
    "uq_climbs_open",
    ClimbRow.school_id,
    ClimbRow.group_id,
    ClimbRow.challenge_id,
    unique=True,
    sqlite_where=ClimbRow.ended_at.is_(None),
    postgresql_where=ClimbRow.ended_at.is_(None),
)
sa.Index(None, ClimbRow.group_id, ClimbRow.challenge_id)


class AnswerRow(Row):
    """An answer, with the question exactly as it was put."""

    __tablename__ = "answers"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    climb_id: Mapped[UUID] = mapped_column(sa.ForeignKey("climbs.id"), index=True)
    rung: Mapped[Rung] = mapped_column(choice(Rung, "rung"))
    question: Mapped[str] = mapped_column(text_column(400))
    kind: Mapped[AnswerKind] = mapped_column(choice(AnswerKind, "kind"))
    text: Mapped[str] = mapped_column(text_column(600))
    student_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"))
    scribe: Mapped[str] = mapped_column(text_column(24))
    answered_at: Mapped[datetime] = mapped_column()
    borne_out: Mapped[BorneOut | None] = mapped_column(choice(BorneOut, "borne_out"))
    #: Strokes as rows of points on the grid of `domain.sketches`.
    sketch: Mapped[list[Any] | None] = mapped_column(sa.JSON(none_as_null=True))


class RungPassRow(Row):
    """A rung left without an answer, with the question exactly as it was put."""

    __tablename__ = "rung_passes"
    __table_args__ = (sa.UniqueConstraint("school_id", "climb_id", "rung"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    climb_id: Mapped[UUID] = mapped_column(sa.ForeignKey("climbs.id"), index=True)
    rung: Mapped[Rung] = mapped_column(choice(Rung, "rung"))
    kind: Mapped[PassKind] = mapped_column(choice(PassKind, "kind"))
    question: Mapped[str] = mapped_column(text_column(400))
    passed_at: Mapped[datetime] = mapped_column()


_ANSWERS = JsonRows(tuple(AnswerRow.__table__.c), AnswerRow.__table__)
_PASSES = JsonRows(tuple(RungPassRow.__table__.c), RungPassRow.__table__)


def add_climb(session: Session, group: Group, challenge_id: UUID, why: str, at: datetime) -> Climb:
    """Put a group on the first rung."""
    row = ClimbRow(
        school_id=group.school_id,
        group_id=group.id,
        challenge_id=challenge_id,
        started_at=at,
        why=why,
        rung=Rung.NOTICE,
        rung_opened_at=at,
    )
    session.add(row)
    session.flush()
    return get_climb(session, row.id)


def get_climb(session: Session, climb_id: UUID) -> Climb:
    """Return the climb with its answers; raise NotFound."""
    found = _select(session, ClimbRow.id == climb_id)
    if not found:
        message = Message("ladders.no_such_question")
        raise NotFound(message)
    return found[0]


def climbs_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[Climb, ...]:
    """Return all climbs of some groups in order, with their answers, in one query."""
    return _select(
        session, ClimbRow.group_id.in_(list(group_ids)), ClimbRow.challenge_id == challenge_id
    )


def find_open_climb(session: Session, group_id: UUID, challenge_id: UUID) -> Climb | None:
    """Return the climb the group is on now."""
    found = _select(
        session,
        ClimbRow.group_id == group_id,
        ClimbRow.challenge_id == challenge_id,
        ClimbRow.ended_at.is_(None),
    )
    return found[0] if found else None


def set_rung(session: Session, climb_id: UUID, rung: Rung, at: datetime) -> None:
    """Open a rung."""
    session.execute(
        sa.update(ClimbRow).where(ClimbRow.id == climb_id).values(rung=rung, rung_opened_at=at)
    )


def end_climb(
    session: Session,
    climb_id: UUID,
    ended_by: ClimbEnd,
    at: datetime,
    led_to: LedTo | None = None,
) -> None:
    """Take a group off the ladder, and note what for."""
    session.execute(
        sa.update(ClimbRow)
        .where(ClimbRow.id == climb_id, ClimbRow.ended_at.is_(None))
        .values(ended_at=at, ended_by=ended_by, led_to=led_to)
    )


def add_answer(session: Session, school_id: UUID, answer: Answer) -> None:
    """Keep an answer."""
    session.add(
        AnswerRow(
            id=answer.id,
            school_id=school_id,
            climb_id=answer.climb_id,
            rung=answer.rung,
            question=answer.question,
            kind=answer.kind,
            text=answer.text,
            student_id=answer.student_id,
            scribe=answer.scribe,
            answered_at=answer.answered_at,
            sketch=None if answer.sketch is None else list(answer.sketch.strokes),
        )
    )
    session.flush()


def add_pass(session: Session, school_id: UUID, passed: RungPass) -> None:
    """Keep that a rung was left without an answer; the first time counts."""
    known = session.scalar(
        sa.select(RungPassRow.id).where(
            RungPassRow.climb_id == passed.climb_id, RungPassRow.rung == passed.rung
        )
    )
    if known is not None:
        return
    session.add(
        RungPassRow(
            school_id=school_id,
            climb_id=passed.climb_id,
            rung=passed.rung,
            kind=passed.kind,
            question=passed.question,
            passed_at=passed.passed_at,
        )
    )
    session.flush()


def set_borne_out(session: Session, answer_id: UUID, borne_out: BorneOut) -> None:
    """Note whether a later test bore an answer out."""
    session.execute(
        sa.update(AnswerRow).where(AnswerRow.id == answer_id).values(borne_out=borne_out)
    )


def _select(session: Session, *conditions: sa.ColumnElement[bool]) -> tuple[Climb, ...]:
    found = session.execute(
        sa.select(
            *ClimbRow.__table__.c,
            _ANSWERS.where(AnswerRow.climb_id == ClimbRow.id).label("answers"),
            _PASSES.where(RungPassRow.climb_id == ClimbRow.id).label("passes"),
        )
        .where(*conditions)
        .order_by(ClimbRow.started_at, ClimbRow.id)
    )
    return tuple(_climb(row) for row in found)


def _climb(row: Any) -> Climb:  # noqa: ANN401 - a row of the columns of `_select`
    answers = sorted(_ANSWERS.read(row.answers), key=lambda answer: (answer.answered_at, answer.id))
    passes = sorted(_PASSES.read(row.passes), key=lambda rung_pass: rung_pass.passed_at)
    return Climb(
        id=row.id,
        school_id=row.school_id,
        group_id=row.group_id,
        challenge_id=row.challenge_id,
        started_at=row.started_at,
        why=row.why,
        rung=row.rung,
        rung_opened_at=row.rung_opened_at,
        ended_at=row.ended_at,
        ended_by=row.ended_by,
        led_to=row.led_to,
        answers=tuple(_answer(answer) for answer in answers),
        passes=tuple(
            RungPass(
                climb_id=row.id,
                rung=passed.rung,
                kind=passed.kind,
                question=passed.question,
                passed_at=passed.passed_at,
            )
            for passed in passes
        ),
    )


def _answer(row: Any) -> Answer:  # noqa: ANN401 - a named tuple of the columns of `_ANSWERS`
    return Answer(
        id=row.id,
        climb_id=row.climb_id,
        rung=row.rung,
        question=row.question,
        kind=row.kind,
        text=row.text,
        student_id=row.student_id,
        scribe=row.scribe,
        answered_at=row.answered_at,
        borne_out=row.borne_out,
        sketch=None if row.sketch is None else _sketch(row.sketch),
    )


def _sketch(strokes: list[Any]) -> Sketch:
    """Return what was checked when it was kept; JSON gives its tuples back as lists."""
    return Sketch(strokes=tuple(tuple((x, y) for x, y in points) for points in strokes))
