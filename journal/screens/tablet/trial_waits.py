"""Why a group cannot log a trial now: a context with parts comes in, a Wait or None goes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.content.gates import get_waiting_line
from journal.content.messages import word_message
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.part_states import PartCondition, PartState
from journal.domain.permits import require_may_log
from journal.domain.trial_rules import NO_SESSION
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.screens.links import Link, Target, link_to
from journal.services.parts import parts_of_context


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """Why nothing can be logged now, and the one thing that helps."""

    sentence: str
    link: Link | None = None
    link_words: str = ""
    #: The same way again, by one tap.
    can_mend: bool = False


def find_wait(context: GroupContext, states: Sequence[PartState]) -> Wait | None:
    """Return why the group cannot log now; None where it can."""
    group_id = context.group.id
    band, language = context.school_class.band, context.school_class.language
    if context.running is None:
        return Wait(sentence=word_message(NO_SESSION, language))
    if context.waits_for_gate:
        launches = context.challenge.launches
        return Wait(sentence=get_waiting_line(band, language, launches=launches))
    for state in states:
        if state.kind.own or state.is_usable:
            continue
        if state.condition is PartCondition.NOT_BUILT:
            return Wait(
                sentence=word_message(
                    Message("trial_waits.your_is_not_built_yet", name=state.name.lower()), language
                ),
                link=link_to(Target.NEW_REVISION, group_id=group_id, part=state.part.id),
                link_words=word_message(
                    Message("trial_waits.build_the", name=state.name.lower()), language
                ),
            )
        if state.kind.destructive and state.condition is PartCondition.BROKEN:
            return Wait(
                sentence=word_message(
                    Message("trial_waits.broke_in_the_test", name=state.name.lower()), language
                ),
                link=link_to(Target.NEW_REVISION, group_id=group_id, part=state.part.id),
                link_words=word_message(Message("trial_waits.we_changed_something"), language),
                can_mend=True,
            )
        return Wait(
            sentence=word_message(
                Message(
                    "trial_waits.your_is", name=state.name.lower(), condition=state.condition.value
                ),
                language,
            ),
            link=link_to(Target.PARTS, group_id=group_id),
            link_words=word_message(Message("trial_waits.go_to_the_parts"), language),
        )
    return None


def find_wait_sentence(work: Work, group_id: UUID) -> str:
    """Return in one sentence why the group waits, empty where it can go on."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    wait = find_wait(context, parts_of_context(work, context))
    return "" if wait is None else wait.sentence
