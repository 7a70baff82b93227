"""Why a group needs the teacher, in words: the same on the overview and on the group's page."""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.needs import get_need_sentence
from journal.domain.group_records import GroupRecord
from journal.domain.needs import MISFIRE_WINDOW, Need, NeedKind
from journal.findings.stalls import TopReached, find_top
from journal.findings.visits import visit_in_session


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedFacts:
    """What the words of a need say beside its kind, count and minutes."""

    language: str
    #: In the session that runs.
    was_visited: bool
    usable_trials: int
    #: The group tapped that it is stuck.
    says_stuck: bool
    #: None where the best result there can be was not had.
    top: TopReached | None


def need_facts_of(record: GroupRecord) -> NeedFacts:
    """Return what the words of the group's need may say; it does not change by the clock."""
    return NeedFacts(
        language=record.language,
        was_visited=visit_in_session(record) is not None,
        usable_trials=len(record.usable_trials),
        says_stuck=bool(record.climbs) and record.climbs[-1].why == "asked",
        top=find_top(record),
    )


def describe_need(facts: NeedFacts, need: Need) -> str:
    """Return the reason of a need as a sentence for the teacher."""
    key, top = need.kind.value, None
    if need.kind is NeedKind.UNVISITED and not facts.was_visited:
        key = "unvisited_never"
    if need.kind is NeedKind.STALLED:
        top = facts.top
        key = _stalled_key(facts, need)
    return get_need_sentence(
        key,
        facts.language,
        n=need.n,
        minutes=need.minutes,
        of=min(MISFIRE_WINDOW, facts.usable_trials),
        since=0 if top is None else top.since,
    )


def _stalled_key(facts: NeedFacts, need: Need) -> str:
    if facts.says_stuck:
        return "says_stuck"
    if facts.top is not None and facts.top.is_held:
        return "stalled_at_top"
    return "stalled" if need.n else "question_open"
