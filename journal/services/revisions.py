"""Revisions of parts: made, put right before the first trial, set aside, taken up again."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID

from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.permits import require_may_log
from journal.domain.revision_rules import (
    RevisionForm,
    factors_for,
    read_revision_form,
    require_unlocked,
    settle_entry,
)
from journal.domain.revisions import Change, Revision, RevisionEntry
from journal.domain.stages import Stage
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.services.parts import ensure_parts, get_part_state, keep_part, parts_of_context
from journal.services.stages import reach_stage
from journal.store import classes, revisions

FIRST_BUILD = "First build"


def make_revision(work: Work, group_id: UUID, entry: RevisionEntry) -> Revision:
    """Keep the next revision of a part, and that the group was building.

    What each factor was before is worked out here from the parent. Raises Invalid by field,
    NotFound for a part of another group.
    """
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    state = get_part_state(parts_of_context(work, context), entry.part_id)
    return _add(work, context, state, entry)


def make_revision_from_form(work: Work, group_id: UUID, form: RevisionForm) -> Revision:
    """Keep the next revision as a form tells it; see `make_revision`."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    state = get_part_state(parts_of_context(work, context), form.part_id)
    return _add(work, context, state, _read(form, state, context))


def make_first_builds(work: Work, group_id: UUID) -> tuple[Revision, ...]:
    """Keep a first build, with the challenge's start values, of each own part that has none."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    unbuilt = [
        state for state in ensure_parts(work, context) if state.part.is_own and not state.revisions
    ]
    if not unbuilt:
        message = Message("revisions.each_of_you_has_a_first_build_already")
        raise Refused(message)
    return tuple(_add(work, context, state, first_entry(state, context)) for state in unbuilt)


def edit_revision(work: Work, group_id: UUID, revision_id: UUID, form: RevisionForm) -> Revision:
    """Put a revision's content right; Refused once it has a trial."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    state, revision = find_in_context(work, context, revision_id)
    require_unlocked(state, revision)
    entry = replace(
        read_revision_form(form, context.challenge),
        part_id=state.part.id,
        parent_id=form.parent_id or revision.parent_id,
    )
    settled = settle_entry(
        entry, state, context.challenge, _member_ids(context), edited=revision.id
    )
    revisions.replace_content(work.session, revision.id, settled)
    classes.bump_version(work.session, context.school_class.id)
    return revisions.get_revision(work.session, revision.id)


def set_aside(work: Work, group_id: UUID, revision_id: UUID) -> None:
    """Put a revision away: it takes no trials until it is taken up again."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    _, revision = find_in_context(work, context, revision_id)
    revisions.set_aside(work.session, revision.id, work.now())
    classes.bump_version(work.session, context.school_class.id)


def take_up_again(work: Work, group_id: UUID, revision_id: UUID) -> None:
    """Let a revision that was set aside take trials again."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    _, revision = find_in_context(work, context, revision_id)
    revisions.set_aside(work.session, revision.id, None)
    classes.bump_version(work.session, context.school_class.id)


def find_in_context(
    work: Work, context: GroupContext, revision_id: UUID
) -> tuple[PartState, Revision]:
    """Return a revision of the group with its part; raise NotFound for another group's."""
    for state in parts_of_context(work, context):
        revision = state.find_revision(revision_id)
        if revision is not None:
            return state, revision
    message = Message("revisions.no_such_revision_in_this_group")
    raise NotFound(message)


def first_entry(state: PartState, context: GroupContext) -> RevisionEntry:
    """Return a first build as the challenge starts it: each factor with its start value."""
    owner = state.part.owner_id
    return RevisionEntry(
        part_id=state.part.id,
        parent_id=None,
        changes=tuple(
            Change(factor=factor.key, from_value="", to_value=factor.start)
            for factor in factors_for(state.kind, context.school_class.band)
            if factor.start
        ),
        reason=FIRST_BUILD,
        maker_ids=(owner,) if owner else (),
    )


def _add(work: Work, context: GroupContext, state: PartState, entry: RevisionEntry) -> Revision:
    settled = settle_entry(entry, state, context.challenge, _member_ids(context))
    if settled.parent_id is None and state.revisions:
        raise Invalid.at("parent", Message("revisions.is_built_already", name=state.name))
    keep_part(work, context, state)
    reach_stage(work, context, Stage.BUILD)
    revision = revisions.add_revision(
        work.session,
        state.part,
        settled,
        session_id=context.running.id if context.running else None,
        made_at=work.now(),
    )
    classes.bump_version(work.session, context.school_class.id)
    return revision


def _read(form: RevisionForm, state: PartState, context: GroupContext) -> RevisionEntry:
    entry = read_revision_form(form, context.challenge)
    usual = state.usual_parent
    if entry.parent_id is None and usual is not None:
        # A form without a choice means the revision in use.
        return replace(entry, parent_id=usual.id)
    return entry


def _member_ids(context: GroupContext) -> frozenset[UUID]:
    # Past members made things too.
    return frozenset(member.student_id for member in context.group.members)
