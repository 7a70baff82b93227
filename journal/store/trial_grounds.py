"""What a trial stands on, in few statements: group and session, members, parts.

Logging a trial is what the journal does most, so this one path is read with few statements.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Session

from journal.domain import sessions as words
from journal.domain.adaptations import AdaptationKind
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.domain.groups import Group, Member
from journal.domain.parts import Part
from journal.domain.sessions import Gate, GateCheck
from journal.domain.trial_rules import TrialGround
from journal.store.adaptations import AdaptationRow
from journal.store.challenges import ChallengeRow, read_kept
from journal.store.classes import ClassRow
from journal.store.groups import GroupRow, MembershipRow
from journal.store.parts import PartRow
from journal.store.people import StudentRow
from journal.store.revisions import RevisionRow
from journal.store.sessions import GateRow, SessionRow
from journal.store.stages import StepRow
from journal.store.swap_tests import SwapTestRow
from journal.store.trials import Kept, TrialRow, content_hash, get_trial

# The statements are built once: building them anew took longer than running them.
_GROUPS, _CLASSES = GroupRow.__table__.c, ClassRow.__table__.c
_SESSIONS, _GATES = SessionRow.__table__.c, GateRow.__table__.c
_CHALLENGES, _STEPS = ChallengeRow.__table__.c, StepRow.__table__.c
_MEMBERSHIPS, _STUDENTS = MembershipRow.__table__.c, StudentRow.__table__.c
_SWAP_TESTS, _ADAPTATIONS = SwapTestRow.__table__.c, AdaptationRow.__table__.c
_PARTS, _REVISIONS = PartRow.__table__.c, RevisionRow.__table__.c
_GROUP_ID = sa.bindparam("group_id", type_=_GROUPS.id.type)
_LOGGED_AT = sa.bindparam("logged_at", type_=_SESSIONS.started_at.type)
_SESSION_ID = sa.bindparam("session_id", type_=_SESSIONS.id.type)
_MADE_IN_IT = sa.and_(
    _SESSIONS.started_at <= _LOGGED_AT,
    sa.or_(_SESSIONS.ended_at.is_(None), _SESSIONS.ended_at >= _LOGGED_AT),
)
_LAST_STAGE = (
    sa.select(_STEPS.stage)
    .where(_STEPS.group_id == _GROUP_ID, _STEPS.challenge_id == _SESSIONS.challenge_id)
    .order_by(_STEPS.at.desc())
    .limit(1)
    .correlate(SessionRow.__table__)
    .scalar_subquery()
)
_OPEN_SWAP_TEST = (
    sa.select(_SWAP_TESTS.id)
    .where(
        _SWAP_TESTS.group_id == _GROUP_ID,
        _SWAP_TESTS.challenge_id == _SESSIONS.challenge_id,
        _SWAP_TESTS.ended_at.is_(None),
    )
    .limit(1)
    .correlate(SessionRow.__table__)
    .scalar_subquery()
)
# The group's own distance at the time; none where the class's holds.
_ADAPTED_MM = (
    sa.select(_ADAPTATIONS.distance_mm)
    .where(
        _ADAPTATIONS.group_id == _GROUP_ID,
        _ADAPTATIONS.challenge_id == _SESSIONS.challenge_id,
        _ADAPTATIONS.kind.in_([AdaptationKind.CLOSER, AdaptationKind.BACK]),
        _ADAPTATIONS.adapted_at <= _LOGGED_AT,
    )
    .order_by(_ADAPTATIONS.adapted_at.desc())
    .limit(1)
    .correlate(SessionRow.__table__)
    .scalar_subquery()
)
_FIRST_OPENED_AT = (
    sa.select(sa.func.min(_GATES.opened_at))
    .where(_GATES.session_id == _SESSIONS.id)
    .correlate(SessionRow.__table__)
    .scalar_subquery()
)
# Whether the lane was open when the entry was made, whatever it is now.
_LANE_WAS_OPEN = (
    sa.select(_GATES.id)
    .where(
        _GATES.session_id == _SESSIONS.id,
        _GATES.opened_at <= _LOGGED_AT,
        sa.or_(_GATES.closed_at.is_(None), _GATES.closed_at > _LOGGED_AT),
    )
    .correlate(SessionRow.__table__)
    .exists()
)
_GROUND = (
    sa.select(
        *_GROUPS,
        *_CLASSES,
        *_SESSIONS,
        *_GATES,
        # As text: the same document is then parsed once, whoever asks.
        sa.cast(_CHALLENGES.document, sa.Text).label("document"),
        _CHALLENGES.title.label("title"),
        _LAST_STAGE.label("stage"),
        _OPEN_SWAP_TEST.label("swap_test_id"),
        _ADAPTED_MM.label("adapted_mm"),
        _FIRST_OPENED_AT.label("first_opened_at"),
        _LANE_WAS_OPEN.label("lane_was_open"),
    )
    .select_from(
        GroupRow.__table__.join(ClassRow.__table__, _CLASSES.id == _GROUPS.class_id)
        .outerjoin(
            SessionRow.__table__,
            sa.and_(
                _SESSIONS.class_id == _CLASSES.id,
                sa.or_(
                    sa.and_(
                        _SESSION_ID.is_(None), sa.or_(_SESSIONS.ended_at.is_(None), _MADE_IN_IT)
                    ),
                    _SESSIONS.id == _SESSION_ID,
                ),
            ),
        )
        .outerjoin(GateRow.__table__, _GATES.session_id == _SESSIONS.id)
        .outerjoin(ChallengeRow.__table__, _CHALLENGES.id == _SESSIONS.challenge_id)
    )
    .where(_GROUPS.id == _GROUP_ID)
    .order_by(sa.case((_MADE_IN_IT, 0), else_=1), _SESSIONS.number.desc(), _GATES.opened_at.desc())
    .limit(1)
    .set_label_style(sa.LABEL_STYLE_TABLENAME_PLUS_COL)
)
_MEMBERS = (
    sa.select(
        _MEMBERSHIPS.student_id, _STUDENTS.nickname, _MEMBERSHIPS.joined_at, _MEMBERSHIPS.left_at
    )
    .join(StudentRow.__table__, _STUDENTS.id == _MEMBERSHIPS.student_id)
    .where(_MEMBERSHIPS.group_id == _GROUP_ID)
    .order_by(_MEMBERSHIPS.joined_at, _STUDENTS.nickname)
)
_PARTS_OF_REVISIONS = (
    sa.select(*_PARTS, _STUDENTS.nickname)
    .select_from(PartRow.__table__.outerjoin(StudentRow.__table__, _STUDENTS.id == _PARTS.owner_id))
    .where(
        _PARTS.id.in_(
            sa.select(_REVISIONS.part_id).where(
                _REVISIONS.id.in_(
                    sa.bindparam("revision_ids", type_=_REVISIONS.id.type, expanding=True)
                )
            )
        )
    )
)


def find_group_of_revisions(session: Session, revision_ids: Sequence[UUID]) -> UUID | None:
    """Return the group whose work these revisions are: that of the shared part, if one is there."""
    return session.scalar(
        sa.select(PartRow.group_id)
        .join(RevisionRow, RevisionRow.part_id == PartRow.id)
        .where(RevisionRow.id.in_(revision_ids))
        .order_by(PartRow.owner_id.is_not(None), PartRow.id)
        .limit(1)
    )


def get_ground(
    session: Session, group_id: UUID, made_at: datetime, *, session_id: UUID | None = None
) -> TrialGround:
    """Return group, class, session and challenge of an entry; raise NotFound.

    An entry that comes late belongs to the session in which it was made, where there is one; else
    the running one is returned. With `session_id` it is that session, whenever it ran.
    """
    asked = {"group_id": group_id, "logged_at": made_at, "session_id": session_id}
    found = session.connection().execute(_GROUND, asked).first()
    if found is None:
        message = "There is no such group."
        raise NotFound(message)
    row = found._mapping  # noqa: SLF001 (the documented way to columns by their objects)
    return TrialGround(
        group=Group(
            id=row[_GROUPS.id],
            school_id=row[_GROUPS.school_id],
            class_id=row[_GROUPS.class_id],
            number=row[_GROUPS.number],
            name=row[_GROUPS.name],
            members=_members(session, group_id),
            question_language=row[_GROUPS.question_language],
        ),
        school_class=SchoolClass(
            id=row[_CLASSES.id],
            school_id=row[_CLASSES.school_id],
            teacher_id=row[_CLASSES.teacher_id],
            name=row[_CLASSES.name],
            band=row[_CLASSES.band],
            language=row[_CLASSES.language],
            retention_date=row[_CLASSES.retention_date],
            door=row[_CLASSES.door],
            version=row[_CLASSES.version],
        ),
        session=None if row[_SESSIONS.id] is None else _session(row),
        challenge=None
        if row["document"] is None
        else read_kept(
            row["document"], row["title"], row[_SESSIONS.challenge_id], row[_GROUPS.class_id]
        ),
        stage=row["stage"],
        swap_test_id=row["swap_test_id"],
        first_opened_at=row["first_opened_at"],
        lane_was_open=bool(row["lane_was_open"]),
    )


def parts_of_revisions(session: Session, revision_ids: Sequence[UUID]) -> tuple[Part, ...]:
    """Return the parts that these revisions are versions of, of whatever group."""
    asked = {"revision_ids": list(revision_ids)}
    return tuple(
        Part(
            id=row.id,
            school_id=row.school_id,
            group_id=row.group_id,
            challenge_id=row.challenge_id,
            key=row.key,
            owner_id=row.owner_id,
            owner_nickname=row.nickname or "",
        )
        for row in session.connection().execute(_PARTS_OF_REVISIONS, asked)
    )


def find_kept(session: Session, trial_id: UUID, sent: Mapping[str, object]) -> Kept | None:
    """Return what an id holds already, and whether it was the same content that came first."""
    first_hash = session.scalar(sa.select(TrialRow.content_hash).where(TrialRow.id == trial_id))
    if first_hash is None:
        return None
    same = first_hash == content_hash(sent)
    return Kept(get_trial(session, trial_id), added=False, same_content=same)


def _members(session: Session, group_id: UUID) -> tuple[Member, ...]:
    found = session.connection().execute(_MEMBERS, {"group_id": group_id})
    return tuple(
        Member(student_id=student_id, nickname=nickname, joined_at=joined_at, left_at=left_at)
        for student_id, nickname, joined_at, left_at in found
    )


def _session(row: sa.RowMapping) -> words.Session:
    opened = None
    if row[_GATES.opened_at] is not None:
        opened = Gate(
            opened_at=row[_GATES.opened_at],
            teacher_id=row[_GATES.teacher_id],
            checks=tuple(GateCheck(check) for check in row[_GATES.checks]),
            closed_at=row[_GATES.closed_at],
            closed_by=row[_GATES.closed_by],
        )
    return words.Session(
        id=row[_SESSIONS.id],
        school_id=row[_SESSIONS.school_id],
        class_id=row[_SESSIONS.class_id],
        challenge_id=row[_SESSIONS.challenge_id],
        number=row[_SESSIONS.number],
        started_at=row[_SESSIONS.started_at],
        ended_at=row[_SESSIONS.ended_at],
        distance_mm=row["adapted_mm"] or row[_SESSIONS.distance_mm],
        panel=row[_SESSIONS.panel],
        lanes=row[_SESSIONS.lanes],
        gate=opened,
    )
