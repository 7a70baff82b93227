"""What a trial stands on, in one statement: group and session, members, parts.

Logging a trial is what the journal does most, so all of it is read at once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Session

from journal.domain import sessions as words
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.domain.groups import Group, Member
from journal.domain.messages import Message
from journal.domain.part_states import PartState, read_part_states
from journal.domain.parts import Part
from journal.domain.sessions import Gate, GateCheck
from journal.domain.trial_rules import TrialGround
from journal.store.challenges import read_kept
from journal.store.parts import PartRow, event_of_row, part_of_row
from journal.store.revisions import RevisionRow, revision_of_row
from journal.store.trial_ground_statement import (
    MEMBERS,
    PARTS_OF_REVISIONS,
    THEIR_EVENTS,
    THEIR_REVISIONS,
    USED_PARTS,
    ground_of_entry,
)
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


def get_ground(
    session: Session,
    group_id: UUID,
    made_at: datetime,
    revision_ids: Sequence[UUID] = (),
    *,
    trial_id: UUID | None = None,
    session_id: UUID | None = None,
) -> TrialGround:
    """Return group, class, session, challenge and parts of an entry; raise NotFound.

    An entry that comes late belongs to the session in which it was made, where there is one; else
    the running one is returned. With `session_id` it is that session, whenever it ran. The parts
    are those of which `revision_ids` are versions, of whatever group, as far as they tell how each
    stands now: of its revisions those named, the newest and the present one, of its events when it
    was lent to the group and the last that stopped or mended it. With
    `trial_id` the ground says whether that entry was parked.
    """
    asked = {
        "group_id": group_id,
        "logged_at": made_at,
        "session_id": session_id,
        "trial_id": trial_id,
    } | {f"revision_{n}": revision_id for n, revision_id in enumerate(revision_ids)}
    row = session.connection().execute(ground_of_entry(len(revision_ids)), asked).first()
    if row is None:
        message = Message("groups.no_such_group")
        raise NotFound(message)
    challenge = None
    if row.document is not None:
        challenge = read_kept(
            row.document, row.title, row.sessions_challenge_id, row.groups_class_id
        )
    return TrialGround(
        group=_group(row),
        school_class=SchoolClass(
            id=row.classes_id,
            school_id=row.classes_school_id,
            teacher_id=row.classes_teacher_id,
            name=row.classes_name,
            band=row.classes_band,
            language=row.classes_language,
            retention_date=row.classes_retention_date,
            door=row.classes_door,
            version=row.classes_version,
        ),
        session=None if row.sessions_id is None else _session(row),
        challenge=challenge,
        stage=row.stage,
        parts=() if challenge is None else _parts(row, challenge),
        swap_test_id=row.swap_test_id,
        parked_why=row.parked_why,
        first_opened_at=row.first_opened_at,
        lane_was_open=bool(row.lane_was_open),
    )


def parts_of_revisions(session: Session, revision_ids: Sequence[UUID]) -> tuple[Part, ...]:
    """Return the parts that these revisions are versions of, of whatever group and challenge."""
    asked = {"revision_ids": list(revision_ids)}
    return tuple(map(part_of_row, session.connection().execute(PARTS_OF_REVISIONS, asked)))


def find_kept(session: Session, trial_id: UUID, sent: Mapping[str, object]) -> Kept | None:
    """Return what an id holds already, and whether it was the same content that came first."""
    first_hash = session.scalar(sa.select(TrialRow.content_hash).where(TrialRow.id == trial_id))
    if first_hash is None:
        return None
    same = first_hash == content_hash(sent)
    return Kept(get_trial(session, trial_id), added=False, same_content=same)


def _group(row: sa.Row[Any]) -> Group:
    members = [Member(**found._asdict()) for found in MEMBERS.read(row.members)]
    members.sort(key=lambda member: (member.joined_at, member.nickname))
    return Group(
        id=row.groups_id,
        school_id=row.groups_school_id,
        class_id=row.groups_class_id,
        number=row.groups_number,
        name=row.groups_name,
        members=tuple(members),
        question_language=row.groups_question_language,
    )


def _parts(row: sa.Row[Any], challenge: Challenge) -> tuple[PartState, ...]:
    used = map(part_of_row, USED_PARTS.read(row.used_parts))
    return read_part_states(
        challenge,
        [part for part in used if part.challenge_id == challenge.id],
        map(revision_of_row, THEIR_REVISIONS.read(row.their_revisions)),
        map(event_of_row, THEIR_EVENTS.read(row.their_events)),
    )


def _session(row: sa.Row[Any]) -> words.Session:
    opened = None
    if row.gates_opened_at is not None:
        opened = Gate(
            opened_at=row.gates_opened_at,
            teacher_id=row.gates_teacher_id,
            checks=tuple(GateCheck(check) for check in row.gates_checks),
            closed_at=row.gates_closed_at,
            closed_by=row.gates_closed_by,
        )
    return words.Session(
        id=row.sessions_id,
        school_id=row.sessions_school_id,
        class_id=row.sessions_class_id,
        challenge_id=row.sessions_challenge_id,
        number=row.sessions_number,
        started_at=row.sessions_started_at,
        ended_at=row.sessions_ended_at,
        distance_mm=row.adapted_mm or row.sessions_distance_mm,
        panel=row.sessions_panel,
        lanes=row.sessions_lanes,
        gate=opened,
    )
