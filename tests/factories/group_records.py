"""A group's record with as many revisions and trials as a test wants, without logging each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta
from uuid import uuid4

from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.part_states import PartState
from journal.domain.revisions import Change
from journal.domain.trials import Place, Trial, TrialKind, TrialState
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.store.engine import Store
from tests.factories.classrooms import Classroom


@dataclass(frozen=True, kw_only=True)
class Told:
    """What a test tells of one trial; revisions and students by number."""

    value: float | None = None
    revision: int = 1
    student: int | None = 0
    #: Whose own part was used; the student's own where it is None.
    own_part: int | None = None
    x_mm: float | None = None
    y_mm: float | None = None
    zone: str | None = None
    place: Place | None = Place.PANEL
    amount: float | None = None
    misfire: str | None = None
    session: int = 0
    distance_mm: int = 2500
    handling: dict[str, str] = field(default_factory=dict)


def told_values(values: Iterable[float], revision: int = 1, students: int = 1) -> list[Told]:
    """Return trials of one revision with these values, students taking turns."""
    return [
        Told(value=value, revision=revision, student=number % students)
        for number, value in enumerate(values)
    ]


def record_with(
    store: Store,
    room: Classroom,
    told: Sequence[Told],
    *,
    changes: Sequence[Change] = (Change(factor="rail_length", from_value="200", to_value="300"),),
) -> GroupRecord:
    """Return the record of the first group: each revision made from the one before it."""
    with open_work(store, room.teacher, writing=False) as work:
        record = gather_group(work, get_group_context(work, room.group_ids[0]))
    main = record.parts[0]
    highest = max((one.revision for one in told), default=1)
    main = _with_revisions(main, highest, tuple(changes))
    session = record.context.sessions[0]
    others = tuple(
        replace(session, id=uuid4(), number=number + 2)
        for number in range(max((one.session for one in told), default=0))
    )
    context = replace(record.context, sessions=(*record.context.sessions, *others))
    made = replace(record, context=context, parts=(main, *record.parts[1:]))
    trials = tuple(_trial(made, room, one, number) for number, one in enumerate(told))
    return replace(made, trials=trials)


def in_band(
    record: GroupRecord, band: GradeBand, measures: tuple[tuple[str, bool], ...] = ()
) -> GroupRecord:
    """Return the record of a class of another band, with measures opened or closed."""
    school_class = replace(record.context.school_class, band=band, measures=measures)
    return replace(record, context=replace(record.context, school_class=school_class))


def _with_revisions(state: PartState, highest: int, changes: tuple[Change, ...]) -> PartState:
    revisions = [state.revisions[0]]
    for number in range(2, highest + 1):
        before = revisions[-1]
        revisions.append(
            replace(
                before,
                id=uuid4(),
                number=number,
                parent_id=before.id,
                made_at=before.made_at + timedelta(minutes=5),
                changes=changes,
            )
        )
    return replace(state, revisions=tuple(revisions))


def _trial(record: GroupRecord, room: Classroom, told: Told, number: int) -> Trial:
    owner = told.student if told.own_part is None else told.own_part
    own = room.own_revision_ids[0]
    at = record.context.sessions[0].started_at + timedelta(seconds=number)
    return Trial(
        id=uuid4(),
        school_id=room.school_id,
        group_id=room.group_ids[0],
        session_id=record.context.sessions[told.session].id,
        revision_ids=(
            record.parts[0].revisions[told.revision - 1].id,
            *(own[owner : owner + 1] if owner is not None else ()),
        ),
        student_id=None if told.student is None else room.student_ids[0][told.student],
        scribe_id=None,
        kind=TrialKind.PRACTICE,
        state=TrialState.MISFIRE if told.misfire else TrialState.MEASURED,
        handling=told.handling,
        place=None if told.misfire else told.place,
        x_mm=told.x_mm,
        y_mm=told.y_mm,
        zone=told.zone,
        value=told.value,
        amount=told.amount,
        misfire=told.misfire,
        distance_mm=told.distance_mm,
        panel="",
        logged_at=at,
        received_at=at,
    )
