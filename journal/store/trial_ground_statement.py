"""The statement that reads all that a trial stands on; `trial_grounds` makes values of it."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import sqlalchemy as sa

from journal.domain.adaptations import AdaptationKind
from journal.domain.parts import PartEventKind
from journal.store.adaptations import AdaptationRow
from journal.store.challenges import ChallengeRow
from journal.store.classes import ClassRow
from journal.store.groups import GroupRow, MembershipRow
from journal.store.json_rows import JsonRows
from journal.store.parked_trials import ParkedTrialRow
from journal.store.parts import PartEventRow, PartRow
from journal.store.people import StudentRow
from journal.store.revisions import RevisionRow
from journal.store.sessions import GateRow, SessionRow
from journal.store.stages import StepRow
from journal.store.swap_tests import SwapTestRow

GROUPS, CLASSES = GroupRow.__table__.c, ClassRow.__table__.c
SESSIONS, GATES = SessionRow.__table__.c, GateRow.__table__.c
_CHALLENGES, _STEPS = ChallengeRow.__table__.c, StepRow.__table__.c
_MEMBERSHIPS, _STUDENTS = MembershipRow.__table__.c, StudentRow.__table__.c
_SWAP_TESTS, _ADAPTATIONS = SwapTestRow.__table__.c, AdaptationRow.__table__.c
_PARTS, _REVISIONS = PartRow.__table__.c, RevisionRow.__table__.c
_EVENTS, _PARKED = PartEventRow.__table__.c, ParkedTrialRow.__table__.c
_GROUP_ID = sa.bindparam("group_id", type_=GROUPS.id.type)
_LOGGED_AT = sa.bindparam("logged_at", type_=SESSIONS.started_at.type)
_SESSION_ID = sa.bindparam("session_id", type_=SESSIONS.id.type)
_MADE_IN_IT = sa.and_(
    SESSIONS.started_at <= _LOGGED_AT,
    sa.or_(SESSIONS.ended_at.is_(None), SESSIONS.ended_at >= _LOGGED_AT),
)
# Why the entry was parked, where it still waits or was discarded.
_UNPLACED = (
    sa.select(_PARKED.why)
    .where(
        _PARKED.id == sa.bindparam("trial_id", type_=_PARKED.id.type),
        _PARKED.session_id.is_(None),
    )
    .scalar_subquery()
)
_OWNED_PARTS = PartRow.__table__.outerjoin(StudentRow.__table__, _STUDENTS.id == _PARTS.owner_id)
MEMBERS = JsonRows(
    (_MEMBERSHIPS.student_id, _STUDENTS.nickname, _MEMBERSHIPS.joined_at, _MEMBERSHIPS.left_at),
    MembershipRow.__table__.join(StudentRow.__table__, _STUDENTS.id == _MEMBERSHIPS.student_id),
)
USED_PARTS = JsonRows((*_PARTS, _STUDENTS.nickname), _OWNED_PARTS)
THEIR_REVISIONS = JsonRows(tuple(_REVISIONS), RevisionRow.__table__)
THEIR_EVENTS = JsonRows(tuple(_EVENTS), PartEventRow.__table__)
_LAST_STAGE = (
    sa.select(_STEPS.stage)
    .where(_STEPS.group_id == _GROUP_ID, _STEPS.challenge_id == SESSIONS.challenge_id)
    .order_by(_STEPS.at.desc())
    .limit(1)
    .correlate(SessionRow.__table__)
    .scalar_subquery()
)
_OPEN_SWAP_TEST = (
    sa.select(_SWAP_TESTS.id)
    .where(
        _SWAP_TESTS.group_id == _GROUP_ID,
        _SWAP_TESTS.challenge_id == SESSIONS.challenge_id,
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
        _ADAPTATIONS.challenge_id == SESSIONS.challenge_id,
        _ADAPTATIONS.kind.in_([AdaptationKind.CLOSER, AdaptationKind.BACK]),
        _ADAPTATIONS.adapted_at <= _LOGGED_AT,
    )
    .order_by(_ADAPTATIONS.adapted_at.desc())
    .limit(1)
    .correlate(SessionRow.__table__)
    .scalar_subquery()
)
_FIRST_OPENED_AT = (
    sa.select(sa.func.min(GATES.opened_at))
    .where(GATES.session_id == SESSIONS.id)
    .correlate(SessionRow.__table__)
    .scalar_subquery()
)
# Whether the lane was open when the entry was made, whatever it is now.
_LANE_WAS_OPEN = (
    sa.select(GATES.id)
    .where(
        GATES.session_id == SESSIONS.id,
        GATES.opened_at <= _LOGGED_AT,
        sa.or_(GATES.closed_at.is_(None), GATES.closed_at > _LOGGED_AT),
    )
    .correlate(SessionRow.__table__)
    .exists()
)


PARTS_OF_REVISIONS = (
    sa.select(*_PARTS, _STUDENTS.nickname)
    .select_from(_OWNED_PARTS)
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


@lru_cache(maxsize=16)
def ground_of_entry(revisions: int) -> sa.Select[Any]:
    """Return the statement for so many revisions; it is built once: that takes longer than it."""
    named = [sa.bindparam(f"revision_{n}", type_=_REVISIONS.id.type) for n in range(revisions)]
    part_ids = sa.select(_REVISIONS.part_id).where(_REVISIONS.id.in_(named))
    return (
        sa.select(
            *GROUPS,
            *CLASSES,
            *SESSIONS,
            *GATES,
            # As text: the same document is then parsed once, whoever asks.
            sa.cast(_CHALLENGES.document, sa.Text).label("document"),
            _CHALLENGES.title.label("title"),
            _LAST_STAGE.label("stage"),
            _OPEN_SWAP_TEST.label("swap_test_id"),
            _ADAPTED_MM.label("adapted_mm"),
            _FIRST_OPENED_AT.label("first_opened_at"),
            _LANE_WAS_OPEN.label("lane_was_open"),
            _UNPLACED.label("parked_why"),
            MEMBERS.where(_MEMBERSHIPS.group_id == _GROUP_ID).label("members"),
            USED_PARTS.where(_PARTS.id.in_(part_ids)).label("used_parts"),
            THEIR_REVISIONS.where(
                _REVISIONS.part_id.in_(part_ids),
                sa.or_(
                    _REVISIONS.id.in_(named),
                    _is_newest(_REVISIONS, _REVISIONS.made_at, part_ids),
                    _is_newest(
                        _REVISIONS, _REVISIONS.number, part_ids, _REVISIONS.set_aside_at.is_(None)
                    ),
                ),
            ).label("their_revisions"),
            THEIR_EVENTS.where(
                _EVENTS.part_id.in_(part_ids),
                sa.or_(
                    _EVENTS.borrower_group_id == _GROUP_ID,
                    _is_newest(
                        _EVENTS, _EVENTS.at, part_ids, _EVENTS.kind != PartEventKind.BORROWED
                    ),
                ),
            ).label("their_events"),
        )
        .select_from(
            GroupRow.__table__.join(ClassRow.__table__, CLASSES.id == GROUPS.class_id)
            .outerjoin(
                SessionRow.__table__,
                sa.and_(
                    SESSIONS.class_id == CLASSES.id,
                    sa.or_(
                        sa.and_(
                            _SESSION_ID.is_(None), sa.or_(SESSIONS.ended_at.is_(None), _MADE_IN_IT)
                        ),
                        SESSIONS.id == _SESSION_ID,
                    ),
                ),
            )
            .outerjoin(GateRow.__table__, GATES.session_id == SESSIONS.id)
            .outerjoin(ChallengeRow.__table__, _CHALLENGES.id == SESSIONS.challenge_id)
        )
        .where(GROUPS.id == _GROUP_ID)
        .order_by(
            sa.case((_MADE_IN_IT, 0), else_=1), SESSIONS.number.desc(), GATES.opened_at.desc()
        )
        .limit(1)
        .set_label_style(sa.LABEL_STYLE_TABLENAME_PLUS_COL)
    )


def _is_newest(
    rows: sa.ColumnCollection[str, Any],
    order: sa.ColumnElement[Any],
    part_ids: sa.Select[Any],
    *conditions: sa.ColumnElement[bool],
) -> sa.ColumnElement[bool]:
    """Return the condition that a row is its part's last one of those that meet the conditions."""
    last = sa.select(rows.part_id, sa.func.max(order)).where(
        rows.part_id.in_(part_ids), *conditions
    )
    return sa.tuple_(rows.part_id, order).in_(last.group_by(rows.part_id))
