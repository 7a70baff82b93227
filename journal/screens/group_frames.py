"""The frame of a group's page, filled from its context."""

from __future__ import annotations

from journal.content.gates import get_lane_words, get_rules_line
from journal.domain.group_contexts import GroupContext
from journal.domain.sessions import LaneState
from journal.screens.frames import LaneLine, TabletFrame
from journal.screens.lanes import name_icon


def frame_group(context: GroupContext, what: str, title: str = "") -> TabletFrame:
    """Return the frame; `what` says what the page is about, such as "Our journal".

    `title` names the page in the window where `what` is longer than that.
    """
    language = context.school_class.language
    return TabletFrame(
        title=f"{context.group.name}, {title or what}",
        group_id=context.group.id,
        group_number=context.group.number,
        group_name=context.group.name,
        what=what,
        band=context.school_class.band.value,
        language=language,
        caution=context.challenge.caution,
        rules=get_rules_line(language),
        class_id=context.school_class.id if context.for_teacher else None,
        class_name=context.school_class.name,
        lane=_lane(context, language) if context.challenge.has_gate else None,
    )


def _lane(context: GroupContext, language: str) -> LaneLine:
    words = get_lane_words(language, launches=context.challenge.launches)
    state = LaneState.NONE if context.running is None else context.running.lane
    return LaneLine(
        state=state.value,
        open=words["open"],
        closed=words["closed"],
        ask=words["ask"],
        none=words["none"],
        open_icon=name_icon(context.challenge, is_open=True),
        closed_icon=name_icon(context.challenge, is_open=False),
    )
