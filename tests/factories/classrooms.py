"""A whole classroom at work: the usual starting point of a service's test."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from journal.content.library import get_ready_challenge
from journal.domain.actors import Actor, Role, TabletState
from journal.domain.challenge_documents import with_changes
from journal.domain.challenges import Challenge
from journal.domain.classes import GradeBand
from journal.domain.groups import Group
from journal.domain.parts import Part
from journal.domain.revisions import RevisionEntry
from journal.domain.sessions import Gate, SessionEntry, checks_of
from journal.store import challenges, classes, groups, parts, revisions, sessions
from tests.factories import rows
from tests.factories.classes import ClassFactory
from tests.factories.groups import GroupFactory, MembershipFactory
from tests.factories.people import SchoolFactory, StudentFactory, TeacherFactory

NICKNAMES = (("Ada", "Ben", "Cleo"), ("Dara", "Eli", "Finn", "Gia"))


@dataclass(frozen=True)
class Classroom:
    """Ids and actors of a classroom in the middle of a session."""

    school_id: UUID
    teacher_id: UUID
    class_id: UUID
    challenge: Challenge
    challenge_id: UUID
    session_id: UUID
    group_ids: tuple[UUID, ...]
    #: Students of each group, in the order of their nicknames.
    student_ids: tuple[tuple[UUID, ...], ...]
    teacher: Actor
    #: One tablet a group, let in.
    tablets: tuple[Actor, ...]
    #: Revision 1 of the first shared part of each group.
    shared_revision_ids: tuple[UUID, ...]
    #: Revision 1 of each student's own part, where the challenge has one.
    own_revision_ids: tuple[tuple[UUID, ...], ...]

    def revisions_for(self, group: int, student: int) -> tuple[UUID, ...]:
        """Return what a student of a group launches with: shared part and own part."""
        own = self.own_revision_ids[group]
        shared = self.shared_revision_ids[group : group + 1]
        return (*shared, *own[student : student + 1])


def make_classroom(
    session: Session,
    now: datetime,
    *,
    challenge_key: str = "beyond_the_ditch",
    band: GradeBand = GradeBand.THREE_TO_FIVE,
    nicknames: Sequence[Sequence[str]] = NICKNAMES,
    gate_open: bool = True,
) -> Classroom:
    """Make a class with groups, a challenge, a running session and first revisions."""
    rows.bind(session)
    school = SchoolFactory()
    teacher = TeacherFactory(school_id=school.id)
    class_row = ClassFactory(school_id=school.id, teacher_id=teacher.id, band=band)
    school_class = classes.get_class(session, class_row.id)
    made: list[Group] = []
    students: list[tuple[UUID, ...]] = []
    for number, names in enumerate(nicknames, start=1):
        group_row = GroupFactory(school_id=school.id, class_id=class_row.id, number=number)
        ids = []
        for name in names:
            student = StudentFactory(school_id=school.id, class_id=class_row.id, nickname=name)
            MembershipFactory(
                school_id=school.id, group_id=group_row.id, student_id=student.id, joined_at=now
            )
            ids.append(student.id)
        made.append(groups.get_group(session, group_row.id))
        students.append(tuple(ids))
    ready = get_ready_challenge(challenge_key)
    ready = with_changes(ready, distance_mm=ready.wording[band].distance_mm)
    challenge = challenges.add_challenge(session, school_class, ready, now)
    assert challenge.id is not None
    entry = SessionEntry(challenge_id=challenge.id, distance_mm=challenge.distance_mm, lanes=1)
    started = sessions.add_session(session, school_class, entry, panel="", started_at=now)
    if gate_open:
        checks = checks_of(launches=challenge.launches)
        gate = Gate(opened_at=now, teacher_id=teacher.id, checks=checks)
        sessions.add_gate(session, school.id, started.id, gate)
    shared, own = [], []
    for group, ids in zip(made, students, strict=True):
        shared += [
            _first(session, group, challenge.id, kind.key, None, started.id, now)
            for kind in challenge.shared_parts[:1]
        ]
        own.append(
            tuple(
                _first(session, group, challenge.id, kind.key, owner, started.id, now)
                for kind in challenge.own_parts[:1]
                for owner in ids
            )
        )
    return Classroom(
        school_id=school.id,
        teacher_id=teacher.id,
        class_id=class_row.id,
        challenge=challenge,
        challenge_id=challenge.id,
        session_id=started.id,
        group_ids=tuple(group.id for group in made),
        student_ids=tuple(students),
        teacher=Actor(role=Role.TEACHER, school_id=school.id, teacher_id=teacher.id),
        tablets=tuple(
            Actor(
                role=Role.TABLET,
                school_id=school.id,
                class_id=class_row.id,
                group_id=group.id,
                tablet_state=TabletState.IN,
            )
            for group in made
        ),
        shared_revision_ids=tuple(shared),
        own_revision_ids=tuple(own),
    )


def _first(
    session: Session,
    group: Group,
    challenge_id: UUID,
    key: str,
    owner_id: UUID | None,
    session_id: UUID,
    now: datetime,
) -> UUID:
    part = Part(
        id=uuid4(),
        school_id=group.school_id,
        group_id=group.id,
        challenge_id=challenge_id,
        key=key,
        owner_id=owner_id,
    )
    parts.keep_parts(session, [part])
    entry = RevisionEntry(part_id=part.id, parent_id=None, reason="first build")
    return revisions.add_revision(session, part, entry, session_id=session_id, made_at=now).id
