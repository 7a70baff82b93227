"""The class overview: which group needs a visit now and why, then where each group is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from uuid import UUID

from journal.content.session_words import get_session_text
from journal.content.shown_times import minutes_between, show_time
from journal.domain.classes import SchoolClass
from journal.domain.errors import NoChallenge
from journal.domain.lesson_times import find_times
from journal.domain.needs import (
    Need,
    NeedKind,
    find_need,
    hold_order,
    is_put_off,
    order_needs,
    put_off,
)
from journal.findings.needs import describe_need
from journal.records.work import Work
from journal.screens.desk.fair_test_cards import find_card_offer
from journal.screens.desk.frames import frame_class
from journal.screens.desk.group_glances import GroupGlance, OverviewRow, glance_at_class
from journal.screens.desk.next_steps import find_next_step
from journal.screens.desk.parked_trials import describe_waiting_entries
from journal.screens.frames import DeskFrame, NextStep
from journal.screens.lanes import LaneSwitch, view_switch
from journal.screens.links import Link
from journal.services.classes import get_own_class

#: Without a change in the class the overview is made anew this often: minutes have passed.
TICK = timedelta(seconds=10)


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedLine:
    """A group in the list of visits."""

    group_id: UUID
    number: int
    name: str
    kind: str
    reason: str
    minutes_since_visit: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OverviewPage:
    """The whole overview."""

    frame: DeskFrame
    class_id: UUID
    clock: str
    session: str
    lane: LaneSwitch | None
    #: That trials came late and wait to be placed; "" where none does.
    late: str
    needs: tuple[NeedLine, ...]
    rows: tuple[OverviewRow, ...]
    #: The fair-test card that waits; None where none does.
    card: Link | None
    #: The order shown and since when, which the page sends back with its next question.
    shown: str
    shown_since: str
    version: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """The order of visits that a screen shows, since when, and what was put off on it."""

    group_ids: tuple[UUID, ...] = ()
    since: datetime | None = None
    #: Groups that were put off on this screen, and when.
    put_off_at: tuple[tuple[UUID, datetime], ...] = ()


def find_overview_version(work: Work, class_id: UUID, shown: Shown) -> str:
    """Return what changes whenever the overview would; one cheap query."""
    # Asked here too: whoever may not see the overview is not told that it has not changed.
    return _version_of(get_own_class(work, class_id), shown, work.now())


def _version_of(school_class: SchoolClass, shown: Shown, now: datetime) -> str:
    tick = int(now.timestamp() // TICK.total_seconds())
    since = "" if shown.since is None else f"{shown.since.timestamp():.0f}"
    late = "".join(str(group_id)[:8] for group_id, at in shown.put_off_at if is_put_off(at, now))
    return f"{school_class.version}-{tick}-{since}-{late}"


def prepare_overview(work: Work, class_id: UUID, shown: Shown | None = None) -> OverviewPage:
    """Gather the overview; the order that a screen shows stands for a while."""
    shown = shown or Shown()
    school_class = get_own_class(work, class_id)
    now = work.now()
    try:
        glances = glance_at_class(work, school_class)
    except NoChallenge:
        glances = ()
    pulses = [glance.pulse for glance in glances if glance.pulse is not None]
    fresh = order_needs(find_need(pulse, now) for pulse in pulses)
    held, since = hold_order(fresh, shown.group_ids, shown.since, now)
    needs = put_off(held, dict(shown.put_off_at), now)
    by_id = {glance.row.group_id: glance for glance in glances}
    return OverviewPage(
        frame=replace(
            _frame(school_class, glances), next_step=_next_step(work, school_class, glances)
        ),
        class_id=class_id,
        clock=show_time(now),
        session=_session(glances, school_class.language, now),
        lane=_lane(glances),
        late=describe_waiting_entries(work, list(by_id), school_class.language),
        needs=tuple(_need_line(need, by_id[need.group_id], now) for need in needs),
        rows=tuple(glance.row_at(now) for glance in glances),
        card=find_card_offer(work, class_id)
        if any(glance.was_on_ladder for glance in glances)
        else None,
        shown=",".join(str(need.group_id) for need in needs),
        shown_since=since.isoformat(),
        version=_version_of(school_class, shown, now),
    )


def _frame(school_class: SchoolClass, glances: Sequence[GroupGlance]) -> DeskFrame:
    tested = [glance.context.challenge for glance in glances[:1]]
    what = ", ".join([school_class.name, *(challenge.title for challenge in tested)])
    return frame_class(school_class, "Class overview", what, tested=tested)


def _session(glances: Sequence[GroupGlance], language: str, now: datetime) -> str:
    running = glances[0].context.running if glances else None
    if running is None:
        return get_session_text(language, "overview", "none")
    number = running.number
    if running.paused_at is not None:
        time = show_time(running.paused_at)
        return get_session_text(language, "overview", "paused", number=number, time=time)
    times = find_times(running, now)
    if times is None:
        minutes = minutes_between(running.started_at, now)
        return get_session_text(language, "overview", "so_far", number=number, minutes=minutes)
    minutes = times.minutes_left
    return get_session_text(language, "overview", "left", number=number, minutes=minutes)


def _next_step(
    work: Work, school_class: SchoolClass, glances: Sequence[GroupGlance]
) -> NextStep | None:
    """Return the next step where no session goes on; while one does, the groups come first."""
    running = glances[0].context.running if glances else None
    goes_on = running is not None and not running.is_paused
    return None if goes_on else find_next_step(work, school_class)


def _lane(glances: Sequence[GroupGlance]) -> LaneSwitch | None:
    running = glances[0].context.running if glances else None
    if running is None:
        return None
    context = glances[0].context
    return view_switch(running, context.challenge, context.school_class.language)


def _need_line(need: Need, glance: GroupGlance, now: datetime) -> NeedLine:
    reason = describe_need(glance.need_facts, need)
    if glance.diagnosis and need.kind in {NeedKind.STALLED, NeedKind.ASKED}:
        reason = f"{reason} {glance.diagnosis}."
    return NeedLine(
        group_id=need.group_id,
        number=glance.row.number,
        name=glance.row.name,
        kind=need.kind.value,
        reason=reason,
        minutes_since_visit=glance.minutes_since_visit(now),
    )
