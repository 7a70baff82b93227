"""What a trial stands on, in few statements: group and session, members, parts.

Logging a trial is what the journal does most, so this one path is read with few statements and
with each challenge's document parsed once.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Session

from journal.domain import sessions as words
from journal.domain.challenge_documents import read_challenge
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.domain.groups import Group, Member
from journal.domain.parts import Part
from journal.domain.sessions import Gate, GateCheck
from journal.domain.trial_rules import TrialGround
from journal.domain.trials import TrialKind, TrialState
from journal.store.challenges import ChallengeRow
from journal.store.classes import ClassRow
from journal.store.groups import GroupRow, MembershipRow
from journal.store.parts import PartRow
from journal.store.people import StudentRow
from journal.store.revisions import RevisionRow
from journal.store.sessions import GateRow, SessionRow
from journal.store.stages import StepRow
from journal.store.swap_tests import SwapTestRow
from journal.store.trials import Kept, TrialRow, content_hash, get_trial


def find_group_of_revisions(session: Session, revision_ids: Sequence[UUID]) -> UUID | None:
    """Return the group whose work these revisions are: that of the shared part, if one is there."""
    return session.scalar(
        sa.select(PartRow.group_id)
        .join(RevisionRow, RevisionRow.part_id == PartRow.id)
        .where(RevisionRow.id.in_(revision_ids))
        .order_by(PartRow.owner_id.is_not(None), PartRow.id)
        .limit(1)
    )


def get_ground(session: Session, group_id: UUID, logged_at: datetime) -> TrialGround:
    """Return group, class, session and challenge of an entry; raise NotFound.

    An entry that comes late belongs to the session in which it was made, where there is one;
    else to the running one.
    """
    found = session.execute(_ground_query(group_id, logged_at)).first()
    if found is None:
        message = "There is no such group."
        raise NotFound(message)
    group, school_class, lesson, gate, document, title, stage, swap_test_id = found
    return TrialGround(
        group=Group(
            id=group.id,
            school_id=group.school_id,
            class_id=group.class_id,
            number=group.number,
            name=group.name,
            members=_members(session, group_id),
        ),
        school_class=SchoolClass(
            id=school_class.id,
            school_id=school_class.school_id,
            teacher_id=school_class.teacher_id,
            name=school_class.name,
            band=school_class.band,
            language=school_class.language,
            retention_date=school_class.retention_date,
            door=school_class.door,
            version=school_class.version,
        ),
        session=None if lesson is None else _session(lesson, gate),
        challenge=None
        if lesson is None
        else _read(document, title, lesson.challenge_id, group.class_id),
        stage=stage,
        swap_test_id=swap_test_id,
    )


def parts_of_revisions(session: Session, revision_ids: Sequence[UUID]) -> tuple[Part, ...]:
    """Return the parts that these revisions are versions of, of whatever group."""
    wanted = sa.select(RevisionRow.part_id).where(RevisionRow.id.in_(revision_ids))
    found = session.execute(
        sa.select(PartRow, StudentRow.nickname)
        .outerjoin(StudentRow, StudentRow.id == PartRow.owner_id)
        .where(PartRow.id.in_(wanted))
    )
    return tuple(
        Part(
            id=row.id,
            school_id=row.school_id,
            group_id=row.group_id,
            challenge_id=row.challenge_id,
            key=row.key,
            owner_id=row.owner_id,
            owner_nickname=nickname or "",
        )
        for row, nickname in found
    )


def find_kept(session: Session, trial_id: UUID, sent: Mapping[str, object]) -> Kept | None:
    """Return what an id holds already, and whether it was the same content that came first."""
    first_hash = session.scalar(sa.select(TrialRow.content_hash).where(TrialRow.id == trial_id))
    if first_hash is None:
        return None
    same = first_hash == content_hash(sent)
    return Kept(get_trial(session, trial_id), added=False, same_content=same)


def count_attempts(session: Session, challenge_id: UUID, student_id: UUID) -> int:
    """Count the counted attempts that a student has had in a challenge; a misfire takes none."""
    return (
        session.scalar(
            sa.select(sa.func.count())
            .select_from(TrialRow)
            .join(SessionRow, SessionRow.id == TrialRow.session_id)
            .where(
                SessionRow.challenge_id == challenge_id,
                TrialRow.student_id == student_id,
                TrialRow.kind == TrialKind.COUNTED,
                TrialRow.state == TrialState.MEASURED,
            )
        )
        or 0
    )


def _ground_query(group_id: UUID, logged_at: datetime) -> sa.Select[Any]:
    made_in_it = sa.and_(
        SessionRow.started_at <= logged_at,
        sa.or_(SessionRow.ended_at.is_(None), SessionRow.ended_at >= logged_at),
    )
    last_stage = (
        sa.select(StepRow.stage)
        .where(StepRow.group_id == group_id, StepRow.challenge_id == SessionRow.challenge_id)
        .order_by(StepRow.at.desc())
        .limit(1)
        .correlate(SessionRow)
        .scalar_subquery()
    )
    open_swap_test = (
        sa.select(SwapTestRow.id)
        .where(
            SwapTestRow.group_id == group_id,
            SwapTestRow.challenge_id == SessionRow.challenge_id,
            SwapTestRow.ended_at.is_(None),
        )
        .limit(1)
        .correlate(SessionRow)
        .scalar_subquery()
    )
    return (
        sa.select(
            GroupRow,
            ClassRow,
            SessionRow,
            GateRow,
            # As text: the same document is then parsed once, whoever asks.
            sa.cast(ChallengeRow.document, sa.Text).label("document"),
            ChallengeRow.title.label("title"),
            last_stage.label("stage"),
            open_swap_test.label("swap_test_id"),
        )
        .join(ClassRow, ClassRow.id == GroupRow.class_id)
        .outerjoin(
            SessionRow,
            sa.and_(
                SessionRow.class_id == ClassRow.id,
                sa.or_(SessionRow.ended_at.is_(None), made_in_it),
            ),
        )
        .outerjoin(GateRow, GateRow.session_id == SessionRow.id)
        .outerjoin(ChallengeRow, ChallengeRow.id == SessionRow.challenge_id)
        .where(GroupRow.id == group_id)
        .order_by(
            sa.case((made_in_it, 0), else_=1), SessionRow.number.desc(), GateRow.opened_at.desc()
        )
        .limit(1)
    )


def _members(session: Session, group_id: UUID) -> tuple[Member, ...]:
    found = session.execute(
        sa.select(
            MembershipRow.student_id,
            StudentRow.nickname,
            MembershipRow.joined_at,
            MembershipRow.left_at,
        )
        .join(StudentRow, StudentRow.id == MembershipRow.student_id)
        .where(MembershipRow.group_id == group_id)
        .order_by(MembershipRow.joined_at, StudentRow.nickname)
    )
    return tuple(
        Member(student_id=student_id, nickname=nickname, joined_at=joined_at, left_at=left_at)
        for student_id, nickname, joined_at, left_at in found
    )


def _session(lesson: SessionRow, gate: GateRow | None) -> words.Session:
    opened = None
    if gate is not None:
        opened = Gate(
            opened_at=gate.opened_at,
            teacher_id=gate.teacher_id,
            checks=tuple(GateCheck(check) for check in gate.checks),
        )
    return words.Session(
        id=lesson.id,
        school_id=lesson.school_id,
        class_id=lesson.class_id,
        challenge_id=lesson.challenge_id,
        number=lesson.number,
        started_at=lesson.started_at,
        ended_at=lesson.ended_at,
        distance_mm=lesson.distance_mm,
        panel=lesson.panel,
        lanes=lesson.lanes,
        gate=opened,
    )


@lru_cache(maxsize=256)
def _read(document: str, title: str, challenge_id: UUID, class_id: UUID) -> Challenge:
    challenge = read_challenge(json.loads(document), title)
    return replace(challenge, id=challenge_id, class_id=class_id)
