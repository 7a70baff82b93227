"""Plan a swap test, follow it trial by trial, end it: choices come in, a SwapTest is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID, uuid4

from journal.analysis.swap_plan import Turn, plan_exchange, plan_swap
from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.permits import require_may_log
from journal.domain.swap_tests import TRIALS_EACH, USUAL_TRIALS_EACH, SwapKind, SwapTest, SwapTurn
from journal.domain.trials import Trial
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.services.parts import parts_of_context
from journal.store import classes, swap_tests

CHOOSE_TWO = Message("swap_tests.choose_two_devices_of_one_part")


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapEntry:
    """What a group chooses for a swap test."""

    kind: SwapKind
    old_revision_id: UUID | None = None
    new_revision_id: UUID | None = None
    #: Empty: everybody who is here.
    student_ids: tuple[UUID, ...] = ()
    trials_each: int = USUAL_TRIALS_EACH


def plan_swap_test(work: Work, group_id: UUID, entry: SwapEntry) -> SwapTest:
    """Plan a swap test and begin it: equal turns, half start A B B A and half B A A B.

    Raises Invalid for choices that make no plan, Refused while another one is open.
    """
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    states = parts_of_context(work, context)
    if entry.trials_each not in TRIALS_EACH:
        raise Invalid.at("trials_each", Message("swap_tests.choose_4"))
    plan = (
        _plan_revisions(context, states, entry)
        if entry.kind is SwapKind.REVISIONS
        else _plan_exchange(context, states, entry)
    )
    _close_one_that_is_through(work, context)
    both = entry.kind is SwapKind.REVISIONS
    swap_test = SwapTest(
        id=uuid4(),
        school_id=context.group.school_id,
        group_id=group_id,
        challenge_id=context.challenge_id,
        kind=entry.kind,
        old_revision_id=entry.old_revision_id if both else None,
        new_revision_id=entry.new_revision_id if both else None,
        turns=tuple(
            SwapTurn(
                position=turn.number,
                pair=turn.pair,
                student_id=UUID(turn.student),
                revision_id=UUID(turn.uses),
            )
            for turn in plan
        ),
        started_at=work.now(),
    )
    swap_tests.add_swap_test(work.session, swap_test)
    classes.bump_version(work.session, context.school_class.id)
    return swap_test


def end_swap_test(work: Work, group_id: UUID, swap_test_id: UUID) -> None:
    """End a swap test before it is through; what was tried so far is kept."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    swap_test = swap_tests.get_swap_test(work.session, swap_test_id)
    if swap_test.group_id != group_id:
        message = Message("swap_tests.no_such_swap_test")
        raise NotFound(message)
    swap_tests.end_swap_test(work.session, swap_test_id, work.now())
    classes.bump_version(work.session, context.school_class.id)


def find_running(work: Work, context: GroupContext) -> SwapTest | None:
    """Return the swap test that the group is in now; None where all turns are taken."""
    found = swap_tests.find_open_swap_test(work.session, context.group.id, context.challenge_id)
    return None if found is None or found.is_over else found


def follow_turn(work: Work, swap_test_id: UUID, trial: Trial) -> None:
    """Let a new trial take its turn; the first one after the last turn ends the swap test.

    Until then the last turn can still be taken back.
    """
    swap_test = swap_tests.get_swap_test(work.session, swap_test_id)
    if swap_test.is_through:
        swap_tests.end_swap_test(work.session, swap_test_id, trial.received_at)
        return
    turn = swap_test.find_turn_for(trial)
    if turn is not None:
        swap_tests.add_swap_trial(work.session, swap_test, turn, trial.id)


def swappable_parts(states: Sequence[PartState]) -> tuple[PartState, ...]:
    """Return the parts of which two revisions can be used in turn; what a test destroys cannot."""
    return tuple(
        state
        for state in states
        if not state.kind.destructive
        and state.is_usable
        and len([revision for revision in state.revisions if not revision.is_set_aside]) > 1
    )


def exchangeable_parts(context: GroupContext, states: Sequence[PartState]) -> dict[UUID, PartState]:
    """Return the usable own parts of one kind by their owners, of those who are here."""
    here = {member.student_id for member in context.members}
    for kind in context.challenge.own_parts:
        own = {
            state.part.owner_id: state
            for state in states
            if state.kind.key == kind.key
            and not kind.destructive
            and state.is_usable
            and state.part.owner_id in here
        }
        if len(own) > 1:
            return {
                member.student_id: own[member.student_id]
                for member in context.members
                if member.student_id in own
            }
    return {}


def _plan_revisions(
    context: GroupContext, states: Sequence[PartState], entry: SwapEntry
) -> tuple[Turn, ...]:
    wanted = (entry.old_revision_id, entry.new_revision_id)
    if None in wanted or wanted[0] == wanted[1]:
        raise Invalid.at("new", CHOOSE_TWO)
    state = next(
        (
            state
            for state in swappable_parts(states)
            if all(
                any(
                    revision.id == wish and not revision.is_set_aside
                    for revision in state.revisions
                )
                for wish in wanted
            )
        ),
        None,
    )
    if state is None:
        message = Message("swap_tests.both_must_be_whole", choose_two=CHOOSE_TWO)
        raise Invalid.at("new", message)
    students = _students(context, entry)
    owner = state.part.owner_id
    if owner is not None:
        # An own part in other hands would mix two questions.
        students = [student for student in students if student == owner]
        if not students:
            what = Message("swap_tests.used_by_its_owner", name=state.name)
            raise Invalid.at("students", what)
    return plan_swap([str(student) for student in students], str(wanted[0]), str(wanted[1]),
                     entry.trials_each)  # fmt: skip


def _plan_exchange(
    context: GroupContext, states: Sequence[PartState], entry: SwapEntry
) -> tuple[Turn, ...]:
    own = exchangeable_parts(context, states)
    chosen = [id_ for id_ in _students(context, entry) if id_ in own]
    parts = {
        str(id_): str(current.id) for id_ in chosen if (current := own[id_].current) is not None
    }
    if len(parts) <= 1:
        what = Message("swap_tests.two_of_you_need_a_part")
        raise Invalid.at("students", what)
    return plan_exchange(parts, entry.trials_each)


def _students(context: GroupContext, entry: SwapEntry) -> list[UUID]:
    here = [member.student_id for member in context.members]
    chosen = [id_ for id_ in here if not entry.student_ids or id_ in entry.student_ids]
    if not chosen or set(entry.student_ids) - set(here):
        raise Invalid.at("students", Message("swap_tests.choose_names_of_those_who_are_here"))
    return chosen


def _close_one_that_is_through(work: Work, context: GroupContext) -> None:
    found = swap_tests.find_open_swap_test(work.session, context.group.id, context.challenge_id)
    if found is None:
        return
    if not found.is_through:
        message = Message("swap_tests.swap_test_is_open_already")
        raise Refused(message)
    swap_tests.end_swap_test(work.session, found.id, work.now())
