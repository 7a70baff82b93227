"""Tallies of wrong lesson words and passwords, kept so that a restart forgets nothing."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import asdict
from datetime import datetime
from typing import Any
from uuid import uuid4

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.guesses import Tally, fresh_tally
from journal.store.tables import Row, text_column


class TallyRow(Row):
    """A tally; its key is a hash, because what was typed as a name may be a password.

    It belongs to no school: whoever guesses has not said yet which one.
    """

    __tablename__ = "guess_tallies"
    __table_args__ = (sa.UniqueConstraint("key"),)

    key: Mapped[str] = mapped_column(text_column(64))
    wrong: Mapped[int] = mapped_column()
    since: Mapped[datetime] = mapped_column()
    last_at: Mapped[datetime] = mapped_column(index=True)
    pauses: Mapped[int] = mapped_column()
    paused_until: Mapped[datetime | None] = mapped_column()
    free_until: Mapped[datetime | None] = mapped_column()


_TABLE = TallyRow.__table__


def find_tallies(session: Session, keys: Collection[str]) -> dict[str, Tally]:
    """Return the tallies that there are, by key."""
    rows = session.execute(sa.select(*_TABLE.c).where(_TABLE.c.key.in_(keys)))
    return {row.key: _tally(row) for row in rows}


def lock_tallies(session: Session, keys: Collection[str], now: datetime) -> dict[str, Tally]:
    """Return a tally for each key and hold them until the end of the work.

    A hundred guesses at once are counted one after the other: each sees what the one before left.
    """
    make = postgresql.insert if session.get_bind().dialect.name == "postgresql" else sqlite.insert
    # Always in one order, so that two works never wait for each other.
    missing = [
        {"id": uuid4(), "key": key, **asdict(fresh_tally(now))}
        for key in sorted(set(keys) - set(find_tallies(session, keys)))
    ]
    if missing:
        session.execute(make(TallyRow).on_conflict_do_nothing(index_elements=["key"]), missing)
    held = sa.select(*_TABLE.c).where(_TABLE.c.key.in_(keys)).order_by(_TABLE.c.key)
    return {row.key: _tally(row) for row in session.execute(held.with_for_update())}


def keep_tally(session: Session, key: str, tally: Tally) -> None:
    """Keep what was counted for a key."""
    session.execute(sa.update(TallyRow).where(TallyRow.key == key).values(**asdict(tally)))


def drop_tallies(session: Session, keys: Collection[str]) -> None:
    """Forget what was counted for these keys."""
    session.execute(sa.delete(TallyRow).where(TallyRow.key.in_(keys)))


def drop_tallies_before(session: Session, moment: datetime) -> None:
    """Forget everything that was last counted before a moment."""
    session.execute(sa.delete(TallyRow).where(TallyRow.last_at < moment))


def _tally(row: sa.Row[Any]) -> Tally:
    return Tally(
        wrong=row.wrong,
        since=row.since,
        last_at=row.last_at,
        pauses=row.pauses,
        paused_until=row.paused_until,
        free_until=row.free_until,
    )
