"""A class's own copies of challenges, kept as documents and read back by their rules.

A document is parsed once, however many pages show it: `read_kept` caches by the document's text.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.challenge_documents import read_challenge
from journal.domain.challenges import LONGEST_TITLE, Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.store.tables import Row, text_column

#: Documents that stay parsed: some 10 kB of text each, and a school opens a few a year.
MOST_PARSED = 256


class ChallengeRow(Row):
    """A class's copy of a challenge."""

    __tablename__ = "challenges"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"), index=True)
    key: Mapped[str] = mapped_column(text_column(60))
    title: Mapped[str] = mapped_column(text_column(LONGEST_TITLE))
    document: Mapped[dict[str, Any]] = mapped_column()
    opened_at: Mapped[datetime] = mapped_column()


# The document as text: by it the parsed challenge is found again.
_KEPT = sa.select(
    ChallengeRow.id,
    ChallengeRow.class_id,
    ChallengeRow.title,
    sa.cast(ChallengeRow.document, sa.Text).label("document"),
)


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
    added = read_challenge(row.document, row.title)
    return replace(added, id=row.id, class_id=row.class_id)


def save_challenge(session: Session, challenge: Challenge) -> None:
    """Keep the changed document of a class's copy."""
    session.execute(
        sa.update(ChallengeRow)
        .where(ChallengeRow.id == challenge.id)
        .values(title=challenge.title, document=dict(challenge.document))
    )


def get_challenge(session: Session, challenge_id: UUID) -> Challenge:
    """Return the class's copy; raise NotFound."""
    row = session.execute(_KEPT.where(ChallengeRow.id == challenge_id)).first()
    if row is None:
        message = Message("challenges.no_such_challenge")
        raise NotFound(message)
    return read_kept(row.document, row.title, row.id, row.class_id)


def challenges_of_class(session: Session, class_id: UUID) -> tuple[Challenge, ...]:
    """Return the class's challenges, the newest first."""
    rows = session.execute(
        _KEPT.where(ChallengeRow.class_id == class_id).order_by(
            ChallengeRow.opened_at.desc(), ChallengeRow.id
        )
    )
    return tuple(read_kept(row.document, row.title, row.id, row.class_id) for row in rows)


def read_kept(document: str, title: str, challenge_id: UUID, class_id: UUID) -> Challenge:
    """Return the class's copy whose document, as JSON text, is kept under this title."""
    return replace(_parse(document, title), id=challenge_id, class_id=class_id)


@lru_cache(maxsize=MOST_PARSED)
def _parse(document: str, title: str) -> Challenge:
    return read_challenge(json.loads(document), title)
