"""What a stage page shows: criteria in sight, the six stages, fields or ways on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from uuid import UUID

from journal.content.gates import get_waiting_line
from journal.content.messages import word_message
from journal.content.stages import get_stage_words
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.stages import Note, NoteKind, Stage, Step
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.links import Link, Target, link_to
from journal.screens.sentence_fields import (
    TEACHER,
    SentenceField,
    make_field,
    member_options,
    scribe_options,
)
from journal.services.parts import parts_of_context
from journal.store import stages, trials

#: Where a group usually goes on; after improving it builds what it thought of.
_AFTER = dict(pairwise((*Stage, Stage.BUILD)))


@dataclass(frozen=True, slots=True, kw_only=True)
class CriteriaStrip:
    """What success is and what limits there are, in a few lines."""

    story: str
    problem: str
    criteria: tuple[str, ...]
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StageLink:
    """One of the six stages as something to tap."""

    stage: str
    title: str
    is_here: bool
    has_been: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StageWay:
    """A way on from a stage, such as to the next revision of a part."""

    label: str
    link: Link
    small: str = ""
    icon: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StagePage:
    """A stage page."""

    frame: TabletFrame
    stage: str
    question: str
    strip: CriteriaStrip
    links: tuple[StageLink, ...]
    fields: tuple[SentenceField, ...]
    ways: tuple[StageWay, ...]
    #: Children whose own part was not built yet: all first builds can be kept in one tap.
    first_builds: int
    #: People to choose among: members (for an idea of one's own) and scribes.
    members: tuple[tuple[str, str], ...]
    scribes: tuple[tuple[str, str], ...]
    #: What was sent, where the form comes back.
    sent: Mapping[str, str]
    errors: Mapping[str, list[str]]


def prepare_stage(
    work: Work,
    group_id: UUID,
    stage: Stage,
    sent: Mapping[str, str] | None = None,
    errors: Mapping[str, list[str]] | None = None,
) -> StagePage:
    """Return the page of a stage; with what was sent and its problems where it was refused."""
    context = get_group_context(work, group_id)
    band, language = context.school_class.band, context.school_class.language
    words = get_stage_words(stage, band, language)
    notes = stages.notes_of_group(work.session, group_id, context.challenge_id)
    walked = stages.steps_of_groups(work.session, [group_id], context.challenge_id)[group_id]
    given = dict(sent or {})
    states = parts_of_context(work, context) if stage is Stage.BUILD else ()
    fields = _fields(context, words.labels, notes, given, errors or {})
    one_a_member = any(NoteKind(field.name).one_a_member for field in fields)
    return StagePage(
        frame=frame_group(context, words.title),
        stage=stage.value,
        question=words.question,
        strip=criteria_strip(context),
        links=stage_links(context, walked),
        fields=fields,
        ways=_ways(work, context, stage, states),
        first_builds=count_unbuilt(states),
        members=member_options(context) if one_a_member else (),
        scribes=scribe_options(context),
        sent={"who": given.get("who", ""), "scribe": given.get("scribe", "")},
        errors=errors or {},
    )


def criteria_strip(context: GroupContext) -> CriteriaStrip:
    """Return criteria and limits of the context's challenge."""
    return CriteriaStrip(
        story=context.wording.story,
        problem=context.wording.problem,
        criteria=tuple(criterion.text for criterion in context.challenge.criteria),
        limits=tuple(constraint.text for constraint in context.challenge.constraints),
    )


def stage_links(context: GroupContext, walked: tuple[Step, ...]) -> tuple[StageLink, ...]:
    """Return the six stages, each with whether the group is or was there."""
    band, language = context.school_class.band, context.school_class.language
    been = {step.stage for step in walked}
    here = walked[-1].stage if walked else None
    return tuple(
        StageLink(
            stage=stage.value,
            title=get_stage_words(stage, band, language).title,
            is_here=stage is here,
            has_been=stage in been,
        )
        for stage in Stage
    )


def describe_next(work: Work, group_id: UUID, stage: Stage) -> str:
    """Say that what was written is kept, and where the group can go on."""
    context = get_group_context(work, group_id)
    band, language = context.school_class.band, context.school_class.language
    after = _AFTER[stage]
    title = get_stage_words(after, band, language).title
    return word_message(Message("stages.kept_write_more_here", title=title), language)


def count_unbuilt(states: tuple[PartState, ...]) -> int:
    """Count the own parts without a first build."""
    return sum(state.part.is_own and not state.revisions for state in states)


def describe_waiting(context: GroupContext) -> str:
    """Say what the group waits for before a trial; "" where nothing is in the way."""
    if context.running is None:
        return word_message(
            Message("stages.your_teacher_has_not_started_a_session_yet"),
            context.school_class.language,
        )
    if context.waits_for_gate:
        return get_waiting_line(
            context.school_class.band,
            context.school_class.language,
            launches=context.challenge.launches,
        )
    return ""


def _fields(
    context: GroupContext,
    labels: Mapping[NoteKind, str],
    notes: tuple[Note, ...],
    sent: Mapping[str, str],
    errors: Mapping[str, list[str]],
) -> tuple[SentenceField, ...]:
    names = {member.student_id: member.nickname for member in context.group.members}
    fields: list[SentenceField] = []
    open_yet = False
    for kind, label in labels.items():
        kept = tuple(_shown(note, names) for note in notes if note.kind is kind)
        filled = bool(sent.get(kind.value) or sent.get(f"{kind.value}_starter"))
        # The first field that is still empty stands open, so that one thing is asked at a time.
        is_open = kind.one_a_member or filled or kind.value in errors or not (kept or open_yet)
        open_yet = open_yet or is_open
        fields.append(
            make_field(
                context,
                kind.value,
                label,
                starter=sent.get(f"{kind.value}_starter", ""),
                words=sent.get(kind.value, ""),
                kept=kept,
                is_open=is_open,
            )
        )
    return tuple(fields)


def _shown(note: Note, names: Mapping[UUID, str]) -> str:
    who = names.get(note.student_id, "") if note.student_id else ""
    said = f"{who}: “{note.text}”" if who else f"“{note.text}”"
    if not note.scribe:
        return said
    return f"{said} Written by {'our teacher' if note.scribe == TEACHER else note.scribe}."


def _ways(
    work: Work, context: GroupContext, stage: Stage, states: tuple[PartState, ...]
) -> tuple[StageWay, ...]:
    group_id = context.group.id
    if stage is Stage.BUILD:
        return tuple(
            StageWay(
                label=f"New: {state.name} {state.next_number}",
                link=link_to(Target.NEW_REVISION, group_id=group_id, part=state.part.id),
                small="not built yet" if state.current is None else f"now {state.current.number}",
                icon=state.kind.icon,
            )
            for state in states
        )
    if stage is Stage.TEST:
        found = trials.trials_of_groups(work.session, [context.group.id], context.session_ids)
        count = sum(trial.state.is_usable for trial in found)
        so_far = word_message(
            Message("stages.trials_so_far", count=count), context.school_class.language
        )
        return (
            StageWay(
                label="Log a trial",
                link=link_to(Target.NEW_TRIAL, group_id=group_id),
                small=so_far,
                icon="test",
            ),
        )
    if stage is Stage.IMPROVE:
        return (
            StageWay(
                label=word_message(
                    Message("stages.make_the_next_revision"), context.school_class.language
                ),
                link=link_to(Target.NEW_REVISION, group_id=group_id),
                icon="build",
            ),
        )
    return ()
