"""Browsers that somebody has signed in with before; only the hash of their token is kept."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.store.tables import Row, text_column


class KnownBrowserRow(Row):
    """A browser known for one teacher, or for the tablets of a school (`teacher_id` is empty)."""

    __tablename__ = "known_browsers"
    __table_args__ = (sa.UniqueConstraint("token_hash", "teacher_id"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    token_hash: Mapped[str] = mapped_column(text_column(64))
    teacher_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("teachers.id"))
    signed_in_at: Mapped[datetime] = mapped_column()


def teachers_of_browser(session: Session, token_hash: str) -> dict[UUID | None, UUID]:
    """Return for whom a browser is known, each with an id that outlasts the token.

    None stands for tablets; a stranger is known for nobody.
    """
    known = sa.select(KnownBrowserRow.teacher_id, KnownBrowserRow.id).where(
        KnownBrowserRow.token_hash == token_hash
    )
    return {row.teacher_id: row.id for row in session.execute(known)}


def count_browsers_since(session: Session, moment: datetime) -> int:
    """Return how many browsers somebody has signed in with since a moment."""
    count = sa.select(sa.func.count()).where(KnownBrowserRow.signed_in_at >= moment)
    return session.scalar(count) or 0


def keep_browser(
    session: Session,
    *,
    school_id: UUID,
    old_hash: str,
    new_hash: str,
    teacher_id: UUID | None,
    at: datetime,
) -> None:
    """Give a browser its new token, and know it for this teacher or as a tablet as well."""
    known = teachers_of_browser(session, old_hash)
    session.execute(
        sa.update(KnownBrowserRow)
        .where(KnownBrowserRow.token_hash == old_hash)
        .values(token_hash=new_hash, signed_in_at=at)
    )
    if teacher_id not in known:
        session.add(
            KnownBrowserRow(
                school_id=school_id, token_hash=new_hash, teacher_id=teacher_id, signed_in_at=at
            )
        )
        session.flush()


def drop_browsers_before(session: Session, moment: datetime) -> None:
    """Forget the browsers that nobody signed in with since a moment."""
    session.execute(sa.delete(KnownBrowserRow).where(KnownBrowserRow.signed_in_at < moment))
