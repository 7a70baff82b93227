"""Trials that stand in the table already."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from journal.domain.trials import Place, Trial, TrialKind, TrialState
from journal.store import trials
from tests.factories.classrooms import Classroom


def keep_trial(
    session: Session,
    room: Classroom,
    revision_id: UUID,
    at: datetime,
    state: TrialState = TrialState.MEASURED,
) -> None:
    """Keep a practice trial of the first group in the middle of the panel."""
    trial = Trial(
        id=uuid4(),
        school_id=room.school_id,
        group_id=room.group_ids[0],
        session_id=room.session_id,
        revision_ids=(revision_id,),
        student_id=None,
        scribe_id=None,
        kind=TrialKind.PRACTICE,
        state=state,
        handling={},
        place=Place.PANEL,
        x_mm=0,
        y_mm=0,
        zone="blaze",
        value=8,
        amount=None,
        misfire=None,
        distance_mm=2500,
        panel="",
        logged_at=at,
        received_at=at,
    )
    trials.add_once(session, trial, {})
