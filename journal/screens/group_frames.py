"""The frame of a group's page, filled from its context."""

from __future__ import annotations

from journal.content.gates import get_rules_line
from journal.domain.group_contexts import GroupContext
from journal.screens.frames import TabletFrame
from journal.screens.lanes import view_lane_line


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
        lane=view_lane_line(context.running, context.challenge, language)
        if context.challenge.has_gate
        else None,
    )
