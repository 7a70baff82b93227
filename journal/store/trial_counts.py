"""How many trials there are of a kind in a challenge: one number, counted by the database."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Session

from journal.domain.trials import TrialKind, TrialState
from journal.store.sessions import SessionRow
from journal.store.trials import TrialRow


def count_practice(session: Session, group_id: UUID, challenge_id: UUID, since: datetime) -> int:
    """Count the practice trials of a group in a challenge that have a result, from a moment on."""
    return _count(
        session,
        challenge_id,
        TrialRow.group_id == group_id,
        TrialRow.kind == TrialKind.PRACTICE,
        TrialRow.state.in_([state for state in TrialState if state.is_usable]),
        TrialRow.received_at >= since,
    )


def count_practice_of_students(session: Session, challenge_id: UUID) -> dict[UUID, int]:
    """Count the practice trials with a result that each student has had in a challenge."""
    counted = session.execute(
        sa.select(TrialRow.student_id, sa.func.count())
        .join(SessionRow, SessionRow.id == TrialRow.session_id)
        .where(
            SessionRow.challenge_id == challenge_id,
            TrialRow.kind == TrialKind.PRACTICE,
            TrialRow.state.in_([state for state in TrialState if state.is_usable]),
        )
        .group_by(TrialRow.student_id)
    )
    return {student_id: n for student_id, n in counted if student_id is not None}


def count_attempts(session: Session, challenge_id: UUID, student_id: UUID) -> int:
    """Count the counted attempts that a student has had in a challenge; a misfire takes none."""
    return _count(
        session,
        challenge_id,
        TrialRow.student_id == student_id,
        TrialRow.kind == TrialKind.COUNTED,
        TrialRow.state == TrialState.MEASURED,
    )


def _count(session: Session, challenge_id: UUID, *conditions: sa.ColumnElement[bool]) -> int:
    return (
        session.scalar(
            sa.select(sa.func.count())
            .select_from(TrialRow)
            .join(SessionRow, SessionRow.id == TrialRow.session_id)
            .where(SessionRow.challenge_id == challenge_id, *conditions)
        )
        or 0
    )


def has_trials(session: Session, class_id: UUID) -> bool:
    """Tell whether any trial was logged in the class."""
    of_class = (
        sa.select(TrialRow.id)
        .join(SessionRow, SessionRow.id == TrialRow.session_id)
        .where(SessionRow.class_id == class_id)
    )
    return session.scalar(of_class.limit(1)) is not None
