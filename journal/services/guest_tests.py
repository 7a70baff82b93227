"""Invite guests, or borrow another group's device; answer, log launch by launch, end it.

Nothing here touches trials, counted attempts, scores or stages of any group.
"""

from __future__ import annotations

from uuid import UUID, uuid4

from journal.content.gates import get_waiting_line
from journal.domain.actors import Role
from journal.domain.errors import Conflict, GateShut, Invalid, NotFound, Problem, Refused
from journal.domain.group_contexts import GroupContext
from journal.domain.groups import Group
from journal.domain.guest_tests import (
    GUESTS,
    GuestKind,
    GuestTest,
    GuestTestEntry,
    GuestTrial,
    GuestTrialEntry,
    plan_turns,
)
from journal.domain.messages import Message
from journal.domain.permits import require_may_log
from journal.domain.trial_fields import values_of
from journal.domain.trial_outcomes import check_amount, judge_outcome
from journal.domain.trials import Ending
from journal.findings.guest_choices import GuestChoice, choose_guests
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.store import classes, groups, guest_tests, parts, revisions, trials


def propose_guests(work: Work, context: GroupContext) -> tuple[GuestChoice, ...]:
    """Return who could be a guest of the group, the best first; empty where nobody hits yet."""
    of_class = groups.groups_of_class(work.session, context.school_class.id)
    logged = trials.trials_of_groups(
        work.session, [group.id for group in of_class], context.session_ids
    )
    return choose_guests(context.challenge, of_class, logged, context.group.id)


def invite(work: Work, group_id: UUID, entry: GuestTestEntry) -> GuestTest:
    """Plan a guest test; it begins when the other group agrees, or at once for the teacher.

    Raises Invalid for choices that make no plan, Refused while another one is open.
    """
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    if context.challenge.is_destructive:
        raise Refused(Message("guest_tests.breaks"))
    for known in guest_tests.guest_tests_of_groups(work.session, [group_id], context.challenge_id):
        if known.ended_at is None and not known.is_over:
            raise Refused(Message("guest_tests.is_open"))
        guest_tests.end_guest_test(work.session, known.id, work.now())
    others = {
        group.id: group
        for group in groups.groups_of_class(work.session, context.school_class.id)
        if group.id != group_id
    }
    if entry.kind is GuestKind.GUESTS:
        asked, turns = _plan_guests(context, others, entry), entry.student_ids or (None,)
        device_of = group_id
    else:
        asked = _plan_their_device(others, entry)
        turns = tuple(member.student_id for member in context.members)
        device_of = asked
    if not turns:
        raise Invalid.at("students", Message("guest_tests.nobody_here"))
    guest_test = GuestTest(
        id=uuid4(),
        school_id=context.group.school_id,
        group_id=group_id,
        challenge_id=context.challenge_id,
        kind=entry.kind,
        revision_id=_find_device(work, context, device_of),
        asked_group_id=asked,
        turns=plan_turns(tuple(turns)),
        asked_at=work.now(),
        agreed=True if asked is None or work.actor.role is not Role.TABLET else None,
    )
    guest_tests.add_guest_test(work.session, guest_test)
    classes.bump_version(work.session, context.school_class.id)
    return guest_test


def answer_guest_test(work: Work, group_id: UUID, guest_test_id: UUID, *, agreed: bool) -> None:
    """Keep what the group that was asked says; raise NotFound where it was not asked."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    guest_test = guest_tests.get_guest_test(work.session, guest_test_id)
    if guest_test.asked_group_id != group_id:
        raise NotFound(Message("guest_tests.not_found"))
    guest_tests.answer_guest_test(work.session, guest_test_id, work.now(), agreed=agreed)
    classes.bump_version(work.session, context.school_class.id)


def log_guest_trial(
    work: Work, group_id: UUID, guest_test_id: UUID, trial_id: UUID, entry: GuestTrialEntry
) -> GuestTrial:
    """Keep one launch under the next turn, once however often it is sent.

    Raises Refused or GateShut where the state of things forbids it, Invalid for a wrong entry,
    Conflict where the id holds a launch of another test.
    """
    context, guest_test = _get_own(work, group_id, guest_test_id)
    known = guest_tests.find_guest_trial(work.session, trial_id)
    if known is not None:
        if known.guest_test_id != guest_test_id:
            raise Conflict(Message("guest_tests.other_content"), {}, {})
        return known
    running, position = context.running, guest_test.next_position
    if running is None:
        raise Refused(Message("guest_tests.no_session"))
    if context.waits_for_gate:
        band, language = context.school_class.band, context.school_class.language
        raise GateShut(get_waiting_line(band, language, launches=context.challenge.launches))
    if not guest_test.is_running or position is None:
        waits = guest_test.is_waiting
        raise Refused(
            Message("guest_tests.not_agreed") if waits else Message("guest_tests.is_over")
        )
    problems = check_amount(context.challenge.outcome, entry.amount)
    problems += _check_own_part(work, context, guest_test, entry)
    if problems:
        raise Invalid.of(problems)
    outcome = judge_outcome(context.challenge, Ending(**values_of(entry, Ending)))
    trial = GuestTrial(
        id=trial_id,
        school_id=guest_test.school_id,
        guest_test_id=guest_test_id,
        session_id=running.id,
        position=position,
        student_id=guest_test.turns[position - 1],
        state=outcome.state,
        amount=entry.amount,
        own_revision_id=entry.own_revision_id,
        distance_mm=running.distance_mm,
        logged_at=entry.logged_at,
        received_at=work.now(),
        **values_of(outcome, Ending),
    )
    guest_tests.add_guest_trial(work.session, trial)
    classes.bump_version(work.session, context.school_class.id)
    return trial


def log_guest_trial_of(
    work: Work, guest_test_id: UUID, trial_id: UUID, entry: GuestTrialEntry
) -> GuestTrial:
    """Keep one launch of a guest test that is named alone, as `log_guest_trial` does."""
    guest_test = guest_tests.get_guest_test(work.session, guest_test_id)
    return log_guest_trial(work, guest_test.group_id, guest_test_id, trial_id, entry)


def strike_guest_trial(work: Work, group_id: UUID, guest_test_id: UUID) -> None:
    """Take the last launch back; it is kept as struck, and its turn is free again."""
    context, guest_test = _get_own(work, group_id, guest_test_id)
    if guest_test.ended_at is not None or not guest_test.usable_trials:
        raise Refused(Message("guest_tests.nothing_to_take_back"))
    guest_tests.strike_guest_trial(work.session, guest_test.usable_trials[-1].id)
    classes.bump_version(work.session, context.school_class.id)


def end_guest_test(work: Work, group_id: UUID, guest_test_id: UUID) -> None:
    """End a guest test before it is through; what was launched so far is kept."""
    context, _ = _get_own(work, group_id, guest_test_id)
    guest_tests.end_guest_test(work.session, guest_test_id, work.now())
    classes.bump_version(work.session, context.school_class.id)


def _get_own(work: Work, group_id: UUID, guest_test_id: UUID) -> tuple[GroupContext, GuestTest]:
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    guest_test = guest_tests.get_guest_test(work.session, guest_test_id)
    if guest_test.group_id != group_id:
        raise NotFound(Message("guest_tests.not_found"))
    return context, guest_test


def _plan_guests(
    context: GroupContext, others: dict[UUID, Group], entry: GuestTestEntry
) -> UUID | None:
    """Return the group that is asked for its members; None where the teacher launches."""
    chosen = set(entry.student_ids)
    if not chosen:
        return None
    if chosen & {member.student_id for member in context.group.members}:
        raise Invalid.at("students", Message("guest_tests.own_member"))
    if len(chosen) != GUESTS:
        raise Invalid.at("students", Message("guest_tests.two_guests"))
    for group in others.values():
        if chosen <= {member.student_id for member in group.present_members}:
            return group.id
    raise Invalid.at("students", Message("guest_tests.not_one_group"))


def _plan_their_device(others: dict[UUID, Group], entry: GuestTestEntry) -> UUID:
    if entry.owner_group_id not in others:
        raise Invalid.at("owner", Message("guest_tests.not_this_class"))
    return others[entry.owner_group_id].id


def _find_device(work: Work, context: GroupContext, group_id: UUID) -> UUID:
    """Return the newest revision of a group's main part in the challenge."""
    kinds = {kind.key for kind in context.challenge.shared_parts}
    own = parts.parts_of_groups(work.session, [group_id], context.challenge_id)
    ids = [part.id for part in own if part.key in kinds or not kinds]
    made = [
        revision
        for revision in revisions.revisions_of_parts(work.session, ids)
        if not revision.is_set_aside
    ]
    if not made:
        raise Refused(Message("guest_tests.no_device"))
    return max(made, key=lambda revision: revision.made_at).id


def _check_own_part(
    work: Work, context: GroupContext, guest_test: GuestTest, entry: GuestTrialEntry
) -> list[Problem]:
    """Return what is wrong with whose own part was used."""
    if entry.own_revision_id is None:
        return []
    ids = [context.group.id, *filter(None, [guest_test.asked_group_id])]
    made = revisions.revisions_of_groups(work.session, ids, context.challenge_id)
    if entry.own_revision_id in {revision.id for revision in made}:
        return []
    return [Problem("own_part", Message("guest_tests.unknown_part"))]
