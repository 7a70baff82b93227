"""What the overview shows of each group, kept until something of the group changes.

Comes in: a class. Goes out: a GroupGlance a group, without anything that passes with the clock: how
many minutes ago something was is worked out at each request.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, replace
from datetime import datetime
from threading import Lock
from uuid import UUID

from journal.content.shown_times import minutes_between, show_time
from journal.domain.classes import SchoolClass
from journal.domain.diagnoses import Reading
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.ladder_gates import find_call
from journal.domain.needs import MISFIRE_WINDOW, Pulse
from journal.domain.stages import Stage
from journal.domain.trials import TrialState
from journal.findings.diagnoses import diagnose_group
from journal.findings.diagnosis_words import word_diagnosis
from journal.findings.needs import NeedFacts, need_facts_of
from journal.findings.stalls import trials_without_better
from journal.findings.visits import visit_in_session
from journal.pictures.group_pictures import caption_of, draw_small_trials, draw_small_walk
from journal.records.group_outlines import GroupOutline, complete, outline_class
from journal.records.work import Work

#: Five classes of twelve groups. A glance is as large as its picture: some 100 bytes a trial.
MOST_KEPT = 60


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
class GroupGlance:
    """What the overview shows of one group, whatever the time is."""

    context: GroupContext
    #: None where no session runs: then nobody is there to be visited.
    pulse: Pulse | None
    need_facts: NeedFacts
    #: What its trials point to, where a question or a call stands open; else "".
    diagnosis: str
    #: Of the session that runs.
    visited_at: datetime | None
    #: Without the minutes since the visit.
    row: OverviewRow
    was_on_ladder: bool

    def minutes_since_visit(self, now: datetime) -> int | None:
        """Return the minutes since the last visit of the session that runs."""
        return None if self.visited_at is None else minutes_between(self.visited_at, now)

    def row_at(self, now: datetime) -> OverviewRow:
        """Return the group's row."""
        return replace(self.row, minutes_since_visit=self.minutes_since_visit(now))


class KeptGlances:
    """Keeps the glance of some groups beside the outline that it was made from.

    A glance is found only by an outline equal to its own, so no other process, no work that was
    rolled back and no other database can make it wrong. What was not looked at for longest goes
    first.
    """

    def __init__(self, most: int = MOST_KEPT) -> None:
        self._most = most
        self._kept: OrderedDict[UUID, tuple[GroupOutline, GroupGlance]] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        """Return how many are kept."""
        return len(self._kept)

    def find(self, outline: GroupOutline) -> GroupGlance | None:
        """Return what was made from an equal outline; None where nothing was."""
        with self._lock:
            kept = self._kept.get(outline.group_id)
            if kept is not None:
                self._kept.move_to_end(outline.group_id)
        return kept[1] if kept is not None and kept[0] == outline else None

    def keep(self, outline: GroupOutline, glance: GroupGlance) -> None:
        """Keep a glance in place of the group's last one."""
        with self._lock:
            self._kept[outline.group_id] = (outline, glance)
            self._kept.move_to_end(outline.group_id)
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)


_KEPT = KeptGlances()


def glance_at_class(
    work: Work, school_class: SchoolClass, kept: KeptGlances = _KEPT
) -> tuple[GroupGlance, ...]:
    """Return a glance at each group; trials are read only of those in which something changed."""
    outlines = outline_class(work, school_class)
    found = {outline.group_id: kept.find(outline) for outline in outlines}
    changed = [outline for outline in outlines if found[outline.group_id] is None]
    for outline, record in zip(changed, complete(work, changed), strict=True):
        glance = make_glance(record)
        kept.keep(outline, glance)
        found[outline.group_id] = glance
    return tuple(glance for glance in found.values() if glance is not None)


def make_glance(record: GroupRecord) -> GroupGlance:
    """Work out what the overview shows of a group."""
    running = record.context.running
    pulse = None if running is None else pulse_of(record, running.started_at)
    diagnosis = ""
    if pulse is not None and (pulse.asked_at is not None or pulse.stalled_at is not None):
        said = diagnose_group(record)
        if said.reading is not Reading.CANNOT_TELL:
            diagnosis = word_diagnosis(record, said).heading
    return GroupGlance(
        context=record.context,
        pulse=pulse,
        need_facts=need_facts_of(record),
        diagnosis=diagnosis,
        visited_at=visit_in_session(record),
        row=_row(record),
        was_on_ladder=bool(record.climbs),
    )


def pulse_of(record: GroupRecord, now: datetime) -> Pulse:
    """Return what matters about a group; where no session runs, as if one had started now."""
    running = record.context.running
    trials = record.usable_trials
    climb = next((known for known in record.climbs if known.is_open), None)
    window = trials[-MISFIRE_WINDOW:]
    misfired = [trial for trial in window if trial.state is TrialState.MISFIRE]
    seen = record.visits[-1].visited_at if record.visits else None
    marked = [
        trial.received_at
        for trial in trials
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


def _row(record: GroupRecord) -> OverviewRow:
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
        minutes_since_visit=None,
    )


def _now_words(record: GroupRecord) -> str:
    main = record.main_part
    current = None if main is None else main.current
    if main is None or current is None:
        return "Nothing built yet."
    n = len(record.trials_of(current.id))
    trials = "1 trial" if n == 1 else f"{n} trials"
    return f"{main.name} {current.number}, {caption_of(main, current)}: {trials}."
