"""Trials: inserted once however often they are sent, corrected by a line beside them."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, cast
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.trial_fields import fields_of
from journal.domain.trials import Correction, Place, Trial, TrialKind, TrialState
from journal.store.json_rows import JsonRows
from journal.store.tables import Row, choice, text_column


class TrialRow(Row):
    """A trial as it stands now; what it was before stands in `corrections`."""

    __tablename__ = "trials"
    __table_args__ = (
        sa.Index(None, "group_id", "received_at"),
        sa.CheckConstraint(
            "(state != 'misfire') OR (misfire IS NOT NULL AND value IS NULL)", "misfire_has_cause"
        ),
    )

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    session_id: Mapped[UUID] = mapped_column(sa.ForeignKey("sessions.id"), index=True)
    student_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"), index=True)
    scribe_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"))
    kind: Mapped[TrialKind] = mapped_column(choice(TrialKind, "kind"))
    state: Mapped[TrialState] = mapped_column(choice(TrialState, "state"))
    handling: Mapped[dict[str, Any]] = mapped_column()
    place: Mapped[Place | None] = mapped_column(choice(Place, "place"))
    x_mm: Mapped[float | None] = mapped_column()
    y_mm: Mapped[float | None] = mapped_column()
    zone: Mapped[str | None] = mapped_column(text_column(60))
    value: Mapped[float | None] = mapped_column()
    amount: Mapped[float | None] = mapped_column()
    misfire: Mapped[str | None] = mapped_column(text_column(60))
    distance_mm: Mapped[int | None] = mapped_column()
    panel: Mapped[str] = mapped_column(text_column(60))
    logged_at: Mapped[datetime] = mapped_column()
    received_at: Mapped[datetime] = mapped_column()
    #: Of 2000 and 2199 alike: more seconds than an Integer holds in PostgreSQL.
    clock_slow_s: Mapped[int] = mapped_column(sa.BigInteger, server_default="0")
    lane_closed: Mapped[bool] = mapped_column(server_default=sa.false())
    #: Hash of the first content sent under this id: a replay is told from another trial by it.
    content_hash: Mapped[str] = mapped_column(text_column(64))


class TrialRevisionRow(Row):
    """Which revision of each part a trial used."""

    __tablename__ = "trial_revisions"
    __table_args__ = (sa.UniqueConstraint("school_id", "trial_id", "revision_id"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    trial_id: Mapped[UUID] = mapped_column(sa.ForeignKey("trials.id"), index=True)
    revision_id: Mapped[UUID] = mapped_column(sa.ForeignKey("revisions.id"), index=True)


class CorrectionRow(Row):
    """One field put right: who, when, old, new, why."""

    __tablename__ = "corrections"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    trial_id: Mapped[UUID] = mapped_column(sa.ForeignKey("trials.id"), index=True)
    field: Mapped[str] = mapped_column(text_column(40))
    old: Mapped[str] = mapped_column(text_column(200))
    new: Mapped[str] = mapped_column(text_column(200))
    reason: Mapped[str] = mapped_column(text_column(300))
    corrected_at: Mapped[datetime] = mapped_column()
    teacher_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("teachers.id"))


# Built once: logging a trial is what the journal does most.
_TABLE = cast("sa.Table", TrialRow.__table__)
# What a trial holds, but for its revisions, stands in the columns of the same names.
_FIELDS = tuple(name for name in fields_of(Trial) if name != "revision_ids")
_LINKS = JsonRows(
    (TrialRevisionRow.__table__.c.revision_id,), cast("sa.Table", TrialRevisionRow.__table__)
)
_USED = _LINKS.where(TrialRevisionRow.trial_id == TrialRow.id).label("links")
_INSERT_LINKS = sa.insert(cast("sa.Table", TrialRevisionRow.__table__))
# Each returns the id it inserted, and nothing where it was there. A count of rows would not do:
# through psycopg it is -1 for this statement.
_INSERT_ONCE: dict[str, sa.UpdateBase] = {
    "sqlite": sqlite.insert(_TABLE)
    .on_conflict_do_nothing(index_elements=["id"])
    .returning(_TABLE.c.id),
    "postgresql": postgresql.insert(_TABLE)
    .on_conflict_do_nothing(index_elements=["id"])
    .returning(_TABLE.c.id),
}


@dataclass(frozen=True, slots=True)
class Kept:
    """The outcome of adding a trial: the trial as kept, and what happened."""

    trial: Trial
    added: bool
    #: False where the id already held other content.
    same_content: bool


def content_hash(content: Mapping[str, object]) -> str:
    """Return the hash of what a tablet sent, whatever the order of its fields."""
    text = json.dumps(content, sort_keys=True, default=str, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def add_once(session: Session, trial: Trial, sent: Mapping[str, object]) -> Kept:
    """Insert a trial unless its id is there; a race of many senders leaves one row."""
    sent_hash = content_hash(sent)
    connection = session.connection()
    insert = _INSERT_ONCE[connection.dialect.name]
    done = connection.execute(insert, _columns(trial) | {"content_hash": sent_hash})
    if done.first() is not None:
        links = [
            {"school_id": trial.school_id, "trial_id": trial.id, "revision_id": revision_id}
            for revision_id in trial.revision_ids
        ]
        connection.execute(_INSERT_LINKS, links)
        return Kept(trial, added=True, same_content=True)
    kept_hash = session.scalar(sa.select(TrialRow.content_hash).where(TrialRow.id == trial.id))
    return Kept(get_trial(session, trial.id), added=False, same_content=kept_hash == sent_hash)


def get_trial(session: Session, trial_id: UUID) -> Trial:
    """Return the trial; raise NotFound."""
    found = _select(session, TrialRow.id == trial_id)
    if not found:
        message = Message("trials.no_such_trial")
        raise NotFound(message)
    return found[0]


def trials_of_groups(
    session: Session, group_ids: Iterable[UUID], session_ids: Iterable[UUID]
) -> tuple[Trial, ...]:
    """Return the trials of some groups in some sessions, in order, in one query."""
    return _select(
        session,
        TrialRow.group_id.in_(list(group_ids)),
        TrialRow.session_id.in_(list(session_ids)),
    )


def find_last_trial(session: Session, group_id: UUID) -> Trial | None:
    """Return the group's newest trial, struck or not."""
    newest = session.scalar(
        sa.select(TrialRow.id)
        .where(TrialRow.group_id == group_id)
        .order_by(TrialRow.received_at.desc(), TrialRow.logged_at.desc(), TrialRow.id.desc())
        .limit(1)
    )
    return None if newest is None else get_trial(session, newest)


def revisions_with_trials(session: Session, revision_ids: Iterable[UUID]) -> frozenset[UUID]:
    """Return those of the revisions that have a trial and are locked by it."""
    return frozenset(
        session.scalars(
            sa.select(TrialRevisionRow.revision_id)
            .where(TrialRevisionRow.revision_id.in_(list(revision_ids)))
            .distinct()
        )
    )


def correct_trial(
    session: Session, trial: Trial, changed: Trial, corrections: Sequence[Correction]
) -> None:
    """Put the trial as it should be and keep what it was, line by line."""
    columns = _columns(changed)
    del columns["id"]
    session.execute(sa.update(TrialRow).where(TrialRow.id == trial.id).values(**columns))
    session.add_all(
        CorrectionRow(
            school_id=trial.school_id,
            trial_id=trial.id,
            field=line.field,
            old=line.old,
            new=line.new,
            reason=line.reason,
            corrected_at=line.corrected_at,
            teacher_id=line.teacher_id,
        )
        for line in corrections
    )
    session.flush()


def corrections_of_trials(session: Session, trial_ids: Iterable[UUID]) -> tuple[Correction, ...]:
    """Return what was put right in some trials, in order."""
    rows = session.scalars(
        sa.select(CorrectionRow)
        .where(CorrectionRow.trial_id.in_(list(trial_ids)))
        .order_by(CorrectionRow.corrected_at)
    )
    return tuple(
        Correction(
            trial_id=row.trial_id,
            field=row.field,
            old=row.old,
            new=row.new,
            reason=row.reason,
            corrected_at=row.corrected_at,
            teacher_id=row.teacher_id,
        )
        for row in rows
    )


def _columns(trial: Trial) -> dict[str, Any]:
    return {name: getattr(trial, name) for name in _FIELDS} | {"handling": dict(trial.handling)}


def _select(session: Session, *conditions: sa.ColumnElement[bool]) -> tuple[Trial, ...]:
    found = session.execute(
        sa.select(*(_TABLE.c[name] for name in _FIELDS), _USED)
        .where(*conditions)
        .order_by(TrialRow.received_at, TrialRow.logged_at, TrialRow.id)
    )
    return tuple(
        Trial(
            revision_ids=tuple(link.revision_id for link in _LINKS.read(links)),
            **dict(zip(_FIELDS, values, strict=True)),
        )
        for *values, links in found
    )
