"""Why a group needs the teacher, in words: the same on the overview and on the group's page."""

from __future__ import annotations

from journal.content.needs import get_need_sentence
from journal.domain.group_records import GroupRecord
from journal.domain.needs import MISFIRE_WINDOW, Need, NeedKind
from journal.findings.stalls import find_top
from journal.findings.visits import visit_in_session


def describe_need(record: GroupRecord, need: Need) -> str:
    """Return the reason of a need as a sentence for the teacher."""
    key, top = need.kind.value, None
    if need.kind is NeedKind.UNVISITED and visit_in_session(record) is None:
        key = "unvisited_never"
    if need.kind is NeedKind.STALLED:
        top = find_top(record)
        key = _stalled_key(record, need, is_top=top is not None and top.is_held)
    return get_need_sentence(
        key,
        record.context.school_class.language,
        n=need.n,
        minutes=need.minutes,
        of=min(MISFIRE_WINDOW, len(record.usable_trials)),
        since=0 if top is None else top.since,
    )


def _stalled_key(record: GroupRecord, need: Need, *, is_top: bool) -> str:
    if record.climbs and record.climbs[-1].why == "asked":
        return "says_stuck"
    if is_top:
        return "stalled_at_top"
    return "stalled" if need.n else "question_open"
