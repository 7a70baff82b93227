"""A class's own copies of challenges, kept as documents and read back by their rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.challenge_documents import read_challenge
from journal.domain.challenges import LONGEST_TITLE, Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.store.tables import Row, text_column


class ChallengeRow(Row):
    """A class's copy of a challenge."""

    __tablename__ = "challenges"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"), index=True)
    key: Mapped[str] = mapped_column(text_column(60))
    title: Mapped[str] = mapped_column(text_column(LONGEST_TITLE))
    document: Mapped[dict[str, Any]] = mapped_column()
    opened_at: Mapped[datetime] = mapped_column()


def add_challenge(
    session: Session, school_class: SchoolClass, challenge: Challenge, at: datetime
) -> Challenge:
    """Give the class its own copy of a challenge."""
    row = ChallengeRow(
        school_id=school_class.school_id,
        class_id=school_class.id,
        key=challenge.key,
        title=challenge.title,
        document=dict(challenge.document),
        opened_at=at,
    )
    session.add(row)
    session.flush()
    return _challenge(row)


def save_challenge(session: Session, challenge: Challenge) -> None:
    """Keep the changed document of a class's copy."""
    session.execute(
        sa.update(ChallengeRow)
        .where(ChallengeRow.id == challenge.id)
        .values(title=challenge.title, document=dict(challenge.document))
    )


def get_challenge(session: Session, challenge_id: UUID) -> Challenge:
    """Return the class's copy; raise NotFound."""
    row = session.get(ChallengeRow, challenge_id)
    if row is None:
        message = "There is no such challenge."
        raise NotFound(message)
    return _challenge(row)


def challenges_of_class(session: Session, class_id: UUID) -> tuple[Challenge, ...]:
    """Return the class's challenges, the newest first."""
    rows = session.scalars(
        sa.select(ChallengeRow)
        .where(ChallengeRow.class_id == class_id)
        .order_by(ChallengeRow.opened_at.desc(), ChallengeRow.id)
    )
    return tuple(_challenge(row) for row in rows)


def _challenge(row: ChallengeRow) -> Challenge:
    challenge = read_challenge(row.document, row.title)
    return replace(challenge, id=row.id, class_id=row.class_id)
