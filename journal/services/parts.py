"""Parts of a group: made when they are first needed, lost, broken, mended, lent and borrowed."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import NAMESPACE_OID, UUID, uuid4, uuid5

from journal.domain.challenges import PartKind
from journal.domain.errors import NotFound, Refused
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.part_states import PartState, read_part_states
from journal.domain.parts import Part, PartEvent, PartEventKind
from journal.domain.permits import require_may_log
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.store import classes, groups, parts, revisions, trials


def parts_of_context(work: Work, context: GroupContext) -> tuple[PartState, ...]:
    """Return the group's parts as they stand, in four queries; shared ones first.

    A part that nobody has built yet is there too, without revisions: it is kept with the first
    thing that happens to it.
    """
    kept = parts.parts_of_groups(work.session, [context.group.id], context.challenge_id)
    return _states(work, context, (*kept, *_not_yet_kept(context, kept)))


def parts_of_record(record: GroupRecord) -> tuple[PartState, ...]:
    """Return the parts of a record together with those that nobody has built yet."""
    kept = [state.part for state in record.parts]
    states = {state.part.id: state for state in record.parts}
    everything = (*kept, *_not_yet_kept(record.context, kept))
    return tuple(
        states.get(state.part.id, state)
        for state in read_part_states(record.context.challenge, everything, (), ())
    )


def borrowed_in_context(work: Work, context: GroupContext) -> tuple[PartState, ...]:
    """Return the parts of other groups that this group has now."""
    once = parts.borrowed_by(work.session, context.group.id, context.challenge_id)
    if not once:
        return ()
    states = _states(work, context, once)
    return tuple(state for state in states if state.lent_to == context.group.id)


def get_part_state(states: Iterable[PartState], part_id: UUID) -> PartState:
    """Return the state of a part; raise NotFound where it is none of these."""
    for state in states:
        if state.part.id == part_id:
            return state
    message = Message("parts.no_such_part_in_this_group")
    raise NotFound(message)


def keep_part(work: Work, context: GroupContext, state: PartState) -> None:
    """Keep a part that so far was only to be built."""
    require_may_log(work.actor, context.group, context.school_class)
    parts.keep_parts(work.session, [state.part])


def ensure_parts(work: Work, context: GroupContext) -> tuple[PartState, ...]:
    """Keep one shared part of each kind and one own part a present member; return all parts."""
    require_may_log(work.actor, context.group, context.school_class)
    states = parts_of_context(work, context)
    parts.keep_parts(work.session, [state.part for state in states if not state.revisions])
    return states


def report_event(
    work: Work,
    group_id: UUID,
    part_id: UUID,
    kind: PartEventKind,
    student_id: UUID | None = None,
) -> None:
    """Note that a part was lost, broken or mended; a borrowed one can break as well."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    states = (*parts_of_context(work, context), *borrowed_in_context(work, context))
    state = get_part_state(states, part_id)
    if kind is PartEventKind.BORROWED:
        message = Message("parts.say_which_groups_part_you_borrow")
        raise Refused(message)
    if state.current is None:
        message = Message("parts.not_built_yet", name=state.name)
        raise Refused(message)
    if kind is PartEventKind.MENDED and state.is_usable:
        message = Message("parts.is_in_use", name=state.name)
        raise Refused(message)
    if state.condition.value == kind.value:
        # Tapped twice, or on two tablets: it happened once.
        return
    _add_event(work, context, state.part, kind, student_id=student_id)


def borrow_part(work: Work, group_id: UUID, part_id: UUID, student_id: UUID | None = None) -> None:
    """Borrow a part of another group of the class, or take an own one back."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    part = _get_part_in_class(work, context, part_id)
    state = _states(work, context, [part])[0]
    if not state.is_usable:
        message = Message("parts.cannot_be_used_now", name=state.name)
        raise Refused(message)
    holder = state.lent_to or part.group_id
    if holder == group_id:
        message = Message("parts.with_you_already", name=state.name)
        raise Refused(message)
    if part.group_id not in {holder, group_id}:
        message = Message("parts.another_group_has_now", name=state.name)
        raise Refused(message)
    _add_event(work, context, part, PartEventKind.BORROWED, group_id, student_id)


def give_back(work: Work, group_id: UUID, part_id: UUID) -> None:
    """Give a borrowed part back to its own group."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    state = get_part_state(borrowed_in_context(work, context), part_id)
    _add_event(work, context, state.part, PartEventKind.BORROWED, state.part.group_id)


def borrowable_parts(work: Work, context: GroupContext) -> tuple[PartState, ...]:
    """Return the usable parts of the other groups of the class that are at home."""
    others = [
        group.id
        for group in groups.groups_of_class(work.session, context.school_class.id)
        if group.id != context.group.id
    ]
    found = parts.parts_of_groups(work.session, others, context.challenge_id)
    return tuple(
        state
        for state in _states(work, context, found)
        if state.is_usable and state.lent_to is None
    )


def _states(work: Work, context: GroupContext, found: Iterable[Part]) -> tuple[PartState, ...]:
    """Read what belongs to some parts, whichever group they are of."""
    listed = tuple(found)
    ids = [part.id for part in listed]
    made = revisions.revisions_of_parts(work.session, ids)
    return read_part_states(
        context.challenge,
        listed,
        made,
        parts.events_of_parts(work.session, ids),
        trials.revisions_with_trials(work.session, [revision.id for revision in made]),
    )


def _not_yet_kept(context: GroupContext, kept: Iterable[Part]) -> tuple[Part, ...]:
    there = {(part.key, part.owner_id) for part in kept}
    wanted = [_future_part(context, kind, None, "") for kind in context.challenge.shared_parts] + [
        _future_part(context, kind, member.student_id, member.nickname)
        for kind in context.challenge.own_parts
        for member in context.members
    ]
    return tuple(part for part in wanted if (part.key, part.owner_id) not in there)


def _future_part(
    context: GroupContext, kind: PartKind, owner_id: UUID | None, nickname: str
) -> Part:
    # The id follows from what the part is, so that a form can name it before anything is written
    # and two tablets that are first at once mean the same part.
    named = f"{context.group.id}/{context.challenge_id}/{kind.key}/{owner_id}"
    return Part(
        id=uuid5(NAMESPACE_OID, named),
        school_id=context.group.school_id,
        group_id=context.group.id,
        challenge_id=context.challenge_id,
        key=kind.key,
        owner_id=owner_id,
        owner_nickname=nickname,
    )


def _get_part_in_class(work: Work, context: GroupContext, part_id: UUID) -> Part:
    part = parts.get_part(work.session, part_id)
    owner = groups.get_group(work.session, part.group_id)
    same_class = owner.class_id == context.school_class.id
    if not same_class or part.challenge_id != context.challenge_id:
        message = Message("parts.no_such_part_in_this_class")
        raise NotFound(message)
    return part


def _add_event(
    work: Work,
    context: GroupContext,
    part: Part,
    kind: PartEventKind,
    borrower_group_id: UUID | None = None,
    student_id: UUID | None = None,
) -> None:
    if student_id is not None and not context.group.has(student_id):
        message = Message("people.no_such_child_in_this_group")
        raise NotFound(message)
    event = PartEvent(
        id=uuid4(),
        part_id=part.id,
        kind=kind,
        at=work.now(),
        student_id=student_id,
        borrower_group_id=borrower_group_id,
    )
    parts.add_event(work.session, part.school_id, event)
    classes.bump_version(work.session, context.school_class.id)
