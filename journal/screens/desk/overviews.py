"""The class overview: which group needs a visit now and why, then where each group is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from journal.content.gates import get_caution_line
from journal.content.shown_times import minutes_between, show_time
from journal.domain.classes import SchoolClass
from journal.domain.diagnoses import Reading
from journal.domain.group_records import GroupRecord
from journal.domain.ladder_gates import find_call
from journal.domain.needs import (
    MISFIRE_WINDOW,
    Need,
    NeedKind,
    Pulse,
    find_need,
    hold_order,
    order_needs,
)
from journal.domain.stages import Stage
from journal.domain.trials import TrialState
from journal.findings.diagnoses import diagnose_group
from journal.findings.diagnosis_words import word_diagnosis
from journal.findings.needs import describe_need
from journal.findings.stalls import trials_without_better
from journal.findings.visits import minutes_since_visit
from journal.pictures.group_pictures import caption_of, draw_small_trials, draw_small_walk
from journal.records.group_records import gather_class
from journal.records.work import Work
from journal.screens.desk.fair_test_cards import find_card_offer
from journal.screens.desk.parked_trials import describe_waiting_entries
from journal.screens.frames import DeskFrame
from journal.screens.lanes import LaneSwitch, view_switch
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
class OverviewRow:
    """Where one group is."""

    group_id: UUID
    number: int
    name: str
    members: str
    absent: str
    path_svg: str
    dots_svg: str
    stage: str
    now: str
    last_activity: str
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
    #: Where the fair-test card waits; "" where none does.
    card_href: str
    #: The order shown and since when, which the page sends back with its next question.
    shown: str
    shown_since: str
    version: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """The order of visits that a screen shows, and since when."""

    group_ids: tuple[UUID, ...] = ()
    since: datetime | None = None


def find_overview_version(work: Work, class_id: UUID, shown: Shown) -> str:
    """Return what changes whenever the overview would; one cheap query."""
    # Asked here too: whoever may not see the overview is not told that it has not changed.
    version = get_own_class(work, class_id).version
    tick = int(work.now().timestamp() // TICK.total_seconds())
    since = "" if shown.since is None else f"{shown.since.timestamp():.0f}"
    return f"{version}-{tick}-{since}"


def prepare_overview(work: Work, class_id: UUID, shown: Shown | None = None) -> OverviewPage:
    """Gather the overview; the order that a screen shows stands for a while."""
    shown = shown or Shown()
    school_class = get_own_class(work, class_id)
    version = find_overview_version(work, class_id, shown)
    records = gather_class(work, school_class)
    now = work.now()
    fresh = order_needs(find_need(pulse_of(record, now), now) for record in records)
    needs, since = hold_order(fresh, shown.group_ids, shown.since, now)
    if not any(record.context.running for record in records):
        # Nobody is there to be visited.
        needs = ()
    by_id = {record.group.id: record for record in records}
    return OverviewPage(
        frame=_frame(school_class, records),
        class_id=class_id,
        clock=show_time(now),
        session=_session(records, now),
        lane=_lane(records),
        late=describe_waiting_entries(work, list(by_id)),
        needs=tuple(_need_line(need, by_id[need.group_id], now) for need in needs),
        rows=tuple(_row(record, now) for record in records),
        card_href=find_card_offer(work, class_id)
        if any(group_record.climbs for group_record in records)
        else "",
        shown=",".join(str(need.group_id) for need in needs),
        shown_since=since.isoformat(),
        version=version,
    )


def pulse_of(record: GroupRecord, now: datetime) -> Pulse:
    """Return what matters about a group right now."""
    running = record.context.running
    told = record.usable_trials
    climb = next((one for one in record.climbs if one.is_open), None)
    window = told[-MISFIRE_WINDOW:]
    misfired = [trial for trial in window if trial.state is TrialState.MISFIRE]
    seen = record.visits[-1].visited_at if record.visits else None
    marked = [
        trial.received_at
        for trial in told
        if trial.lane_closed and (seen is None or trial.received_at > seen)
    ]
    missed = [miss.noted_at for miss in record.near_misses if miss.looked_at is None]
    return Pulse(
        group_id=record.group.id,
        session_started_at=running.started_at if running else now,
        last_visit_at=seen,
        near_miss_at=missed[-1] if missed else None,
        lane_closed=len(marked),
        lane_closed_at=marked[-1] if marked else None,
        asked_at=find_call(climb, record.context.school_class.band) if climb else None,
        stalled_at=climb.rung_opened_at if climb and not climb.wants_teacher else None,
        stalled_trials=trials_without_better(record),
        misfires=len(misfired),
        misfired_at=misfired[-1].received_at if misfired else None,
        is_testing=bool(record.steps) and record.steps[-1].stage is Stage.TEST,
        last_entry_at=last_entry_of(record),
    )


def last_entry_of(record: GroupRecord) -> datetime | None:
    """Return when the group last logged anything in the running session."""
    running = record.context.running
    moments = [
        *(trial.received_at for trial in record.trials[-1:]),
        *(step.at for step in record.steps[-1:]),
        *(revision.made_at for state in record.parts for revision in state.revisions),
        *(answer.answered_at for climb in record.climbs for answer in climb.answers),
    ]
    if running is not None:
        moments = [moment for moment in moments if moment >= running.started_at]
    return max(moments, default=None)


def _frame(school_class: SchoolClass, records: Sequence[GroupRecord]) -> DeskFrame:
    challenges = [record.context.challenge for record in records[:1]]
    title = challenges[0].title if challenges else ""
    return DeskFrame(
        title=f"Class overview, {school_class.name}",
        heading="Class overview",
        what=", ".join(part for part in (school_class.name, title) if part),
        class_id=school_class.id,
        class_name=school_class.name,
        language=school_class.language,
        caution=get_caution_line(school_class.language, *challenges),
    )


def _session(records: Sequence[GroupRecord], now: datetime) -> str:
    running = records[0].context.running if records else None
    if running is None:
        return "No session is running."
    return f"Session {running.number}, {minutes_between(running.started_at, now)} min so far"


def _lane(records: Sequence[GroupRecord]) -> LaneSwitch | None:
    running = records[0].context.running if records else None
    if running is None:
        return None
    context = records[0].context
    return view_switch(running, context.challenge, context.school_class.language)


def _need_line(need: Need, record: GroupRecord, now: datetime) -> NeedLine:
    reason = describe_need(record, need)
    if need.kind in {NeedKind.STALLED, NeedKind.ASKED}:
        found = diagnose_group(record)
        if found.reading is not Reading.CANNOT_TELL:
            reason = f"{reason} {word_diagnosis(record, found).heading}."
    return NeedLine(
        group_id=need.group_id,
        number=record.group.number,
        name=record.group.name,
        kind=need.kind.value,
        reason=reason,
        minutes_since_visit=minutes_since_visit(record, now),
    )


def _row(record: GroupRecord, now: datetime) -> OverviewRow:
    here = {member.student_id for member in record.context.members}
    group = record.group
    last_entry = last_entry_of(record)
    return OverviewRow(
        group_id=group.id,
        number=group.number,
        name=group.name,
        members=", ".join(m.nickname for m in group.present_members if m.student_id in here),
        absent=", ".join(m.nickname for m in group.present_members if m.student_id not in here),
        path_svg=draw_small_walk(record, ids=f"path-{group.number}"),
        dots_svg=draw_small_trials(record, ids=f"dots-{group.number}"),
        stage=record.steps[-1].stage.value.capitalize() if record.steps else "Not begun",
        now=_now_words(record),
        last_activity="" if last_entry is None else f"last entry {show_time(last_entry)}",
        minutes_since_visit=minutes_since_visit(record, now),
    )


def _now_words(record: GroupRecord) -> str:
    main = record.main_part
    current = None if main is None else main.current
    if main is None or current is None:
        return "Nothing built yet."
    n = len(record.trials_of(current.id))
    trials = "1 trial" if n == 1 else f"{n} trials"
    return f"{main.name} {current.number}, {caption_of(main, current)}: {trials}."
