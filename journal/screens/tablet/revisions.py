"""What the form for a revision shows, empty, filled in for putting right, or sent and refused."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from journal.domain.group_contexts import GroupContext
from journal.domain.numbers import show_number
from journal.domain.part_states import PartState
from journal.domain.revision_rules import RevisionForm, describe_change, require_unlocked
from journal.domain.revisions import Revision
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.links import Link, Target, link_to
from journal.screens.sentence_fields import (
    SentenceField,
    make_field,
    member_options,
    scribe_options,
)
from journal.screens.tablet.factor_rows import FactorRow, list_factors
from journal.screens.tablet.material_lists import MaterialList, list_materials
from journal.screens.tablet.said_on_ladder import choose_part, fill_in, find_said
from journal.services.parts import get_part_state, parts_of_context
from journal.services.revisions import find_in_context


@dataclass(frozen=True, slots=True, kw_only=True)
class PartTile:
    """A part to choose, with the number in use or the one that comes."""

    link: Link
    name: str
    icon: str
    note: str
    is_chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PeopleChoice:
    """Who made it, who decided, who wrote it down."""

    members: tuple[tuple[str, str], ...]
    makers: tuple[str, ...]
    deciders: tuple[str, ...]
    scribes: tuple[tuple[str, str], ...]
    scribe: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionPage:
    """The form for a revision."""

    frame: TabletFrame
    #: Where the form is sent.
    action: Link
    #: The part inside a sentence, such as "the launcher" or "Bo’s dart".
    heading: str
    #: What is kept, such as "Launcher 5".
    kept_name: str
    #: Part and parent, as the form sends them: pairs of name and value.
    hidden: tuple[tuple[str, str], ...]
    #: The revisions it could be made from: (link, words, chosen).
    parents: tuple[tuple[Link, str, bool], ...]
    parts: tuple[PartTile, ...]
    factors: tuple[FactorRow, ...]
    sentences: tuple[SentenceField, ...]
    materials: MaterialList
    people: PeopleChoice
    errors: Mapping[str, list[str]]


def prepare_revision(
    work: Work,
    group_id: UUID,
    part_id: UUID | None = None,
    parent_id: UUID | None = None,
    form: RevisionForm | None = None,
    errors: Mapping[str, list[str]] | None = None,
    *,
    from_ladder: bool = False,
) -> RevisionPage:
    """Return the form for the next revision; without a part that of the first shared one.

    From the ladder it starts with what the group said there.
    """
    context = get_group_context(work, group_id)
    states = parts_of_context(work, context)
    said = find_said(work, context) if from_ladder else None
    usual = states[0] if said is None else choose_part(states, said)
    state = get_part_state(states, part_id) if part_id else usual
    if form is None:
        owner = state.part.owner_id
        parent = state.usual_parent.id if state.usual_parent else None
        form = RevisionForm(
            part_id=state.part.id,
            parent_id=parent_id or parent,
            maker_ids=(owner,) if owner else (),
        )
        form = form if said is None else fill_in(form, said, state, context)
    # The address tells where the form came from, so that a sketch is still there after a problem.
    origin = {"from": "ladder"} if said else {}
    action = link_to(Target.NEW_REVISION, group_id=group_id, **origin)
    page = _page(context, states, state, form, errors, action, state.next_number)
    if said is None or not said.drawing:
        return page
    why, *others = page.sentences
    return replace(page, sentences=(replace(why, drawing=said.drawing), *others))


def prepare_edit(
    work: Work,
    group_id: UUID,
    revision_id: UUID,
    form: RevisionForm | None = None,
    errors: Mapping[str, list[str]] | None = None,
) -> RevisionPage:
    """Return the form that puts a revision right; Refused once it has a trial."""
    context = get_group_context(work, group_id)
    state, revision = find_in_context(work, context, revision_id)
    require_unlocked(state, revision)
    states = parts_of_context(work, context)
    action = link_to(Target.EDIT_REVISION, group_id=group_id, revision_id=revision_id)
    return _page(
        context, states, state, form or _form_of(revision), errors, action, revision.number
    )


def _page(
    context: GroupContext,
    states: tuple[PartState, ...],
    state: PartState,
    form: RevisionForm,
    errors: Mapping[str, list[str]] | None,
    action: Link,
    number: int,
) -> RevisionPage:
    is_new = number == state.next_number
    parent = state.find_revision(form.parent_id) if form.parent_id else None
    problems = errors or {}
    return RevisionPage(
        frame=frame_group(context, _what(context, is_new=is_new)),
        action=action,
        heading=state.name if state.part.is_own else f"the {state.name.lower()}",
        kept_name=f"{state.name} {number}",
        hidden=(("part", str(state.part.id)), ("parent", str(parent.id) if parent else "")),
        parents=_parents(context, state, parent) if is_new else (),
        parts=_part_tiles(context, states, state) if is_new else (),
        factors=list_factors(context, state, parent, form),
        sentences=_sentences(context, form),
        materials=list_materials(
            context,
            states,
            form.amounts,
            apart_from=(state.part.id, number),
            is_open=any(name.startswith("material") for name in problems),
        ),
        people=_people(context, form),
        errors=problems,
    )


def _what(context: GroupContext, *, is_new: bool) -> str:
    what = "A new revision" if is_new else "Put it right"
    return f"{what}, session {context.running.number}" if context.running else what


def _form_of(revision: Revision) -> RevisionForm:
    return RevisionForm(
        part_id=revision.part_id,
        parent_id=revision.parent_id,
        ticked=tuple(change.factor for change in revision.changes),
        values={change.factor: change.to_value for change in revision.changes},
        amounts={used.material: show_number(used.amount) for used in revision.materials},
        reason=revision.reason,
        prediction=revision.prediction,
        maker_ids=revision.maker_ids,
        decider_ids=revision.decider_ids,
        scribe=revision.scribe,
    )


def _parents(
    context: GroupContext, state: PartState, parent: Revision | None
) -> tuple[tuple[Link, str, bool], ...]:
    rows = []
    for revision in reversed(state.revisions):
        changes = ", ".join(describe_change(change, state.kind) for change in revision.changes)
        what = (changes if revision.parent_id else "first build") or revision.reason
        words = f"{state.name} {revision.number}: {what}"
        link = link_to(
            Target.NEW_REVISION,
            group_id=context.group.id,
            part=state.part.id,
            parent=revision.id,
        )
        rows.append((link, words, revision is parent))
    return tuple(rows)


def _part_tiles(
    context: GroupContext, states: tuple[PartState, ...], chosen: PartState
) -> tuple[PartTile, ...]:
    return tuple(
        PartTile(
            link=link_to(Target.NEW_REVISION, group_id=context.group.id, part=state.part.id),
            name=state.name,
            icon=state.kind.icon,
            note=f"new: {state.next_number}"
            if state is chosen
            else str(state.current.number)
            if state.current
            else "–",
            is_chosen=state is chosen,
        )
        for state in states
    )


def _sentences(context: GroupContext, form: RevisionForm) -> tuple[SentenceField, ...]:
    return (
        make_field(context, "reason", "Why?", starter=form.reason_starter, words=form.reason),
        make_field(
            context,
            "prediction",
            "What will happen?",
            starter=form.prediction_starter,
            words=form.prediction,
        ),
    )


def _people(context: GroupContext, form: RevisionForm) -> PeopleChoice:
    return PeopleChoice(
        members=member_options(context),
        makers=tuple(map(str, form.maker_ids)),
        deciders=tuple(map(str, form.decider_ids)),
        scribes=scribe_options(context),
        scribe=form.scribe,
    )
