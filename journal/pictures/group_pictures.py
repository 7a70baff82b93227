"""The pictures of a group's record: dots by revision, hits on the panel, path, family.

Comes in: a GroupRecord. Goes out: SVG as text, the same for screen and paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import zip_longest
from uuid import UUID

from journal.charts.dot_columns import Dot, DotColumn, DotRow
from journal.charts.dot_rows import (
    BARE_ROW,
    NOWHERE_ROW,
    WALL_ROW,
    MeasureRows,
    measure_rows,
    zone_rows,
)
from journal.charts.dots import draw_dot_rows, draw_small_dot_rows
from journal.charts.families import FamilyLine, FamilyMark, draw_family
from journal.charts.hits import Hit
from journal.charts.panels import draw_panel
from journal.charts.paths import PathStep, draw_path, draw_small_path
from journal.content.messages import word_message
from journal.domain.challenges import OutcomeKind
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.outcomes import DirectionKind
from journal.domain.part_states import PartState
from journal.domain.revision_rules import describe_new_value
from journal.domain.revisions import Revision
from journal.domain.stages import Stage
from journal.domain.trials import Place, Trial, TrialKind, TrialState
from journal.findings.measures import measures_of

#: First builds that follow each other so closely were made in one go.
IN_ONE_GO = timedelta(seconds=90)
_ROW_OF_PLACE = {
    Place.PANEL: BARE_ROW,
    Place.WALL: WALL_ROW,
    Place.NOWHERE: NOWHERE_ROW,
}


def draw_trials(record: GroupRecord, state: PartState, *, width_px: float = 932, ids: str) -> str:
    """Draw every trial of a part's revisions, one column each."""
    rows = rows_of(record)
    return draw_dot_rows(
        columns_of(record, state, rows),
        rows.rows,
        width_px=width_px,
        show_mean=measures_of(record.context.school_class).show_mean,
        shared=not state.part.is_own,
        ids=ids,
        title=_name_dots(state.name, record.language),
    )


def _name_dots(name: str, language: str) -> str:
    return word_message(Message("group_pictures.every_trial_of_by_revision", name=name), language)


def draw_small_trials(record: GroupRecord, *, width_px: float = 500, ids: str) -> str:
    """Draw the main part's trials small, for the teacher's overview: with their means."""
    state = record.main_part
    rows = rows_of(record)
    return draw_small_dot_rows(
        () if state is None else columns_of(record, state, rows),
        rows.rows,
        width_px=width_px,
        part_name="" if state is None else state.name.lower(),
        ids=ids,
        title=_name_dots(record.group.name, record.language),
    )


def draw_hits(
    record: GroupRecord,
    trials: Sequence[Trial],
    *,
    width_px: float,
    height_px: float,
    labels: bool,
    ids: str,
    title: str,
    numbers: bool = False,
    stems: bool = False,
    others: Sequence[Trial] = (),
    middle: bool = False,
) -> str:
    """Draw where some trials hit; "" where the challenge has no panel.

    `stems` puts the child's strokes on each hit, for a page that says whose they are; `numbers`
    puts the main part's revision into each dot, `others` lie pale behind, and
    `middle` marks the middle of the trials that are not behind.
    """
    panel = record.context.challenge.panel
    if panel is None:
        return ""
    strokes = record.group.strokes if stems else {}
    hits = [
        Hit(
            x_mm=trial.x_mm,
            y_mm=trial.y_mm,
            strokes=strokes.get(trial.student_id, 0) if trial.student_id else 0,
            who=record.nicknames.get(trial.student_id, "") if trial.student_id else "",
            number=_revision_number(record, trial) if numbers else None,
            behind=behind,
        )
        for behind, some in ((True, others), (False, trials))
        for trial in some
        if trial.state is TrialState.MEASURED
    ]
    return draw_panel(
        panel,
        hits,
        width_px=width_px,
        height_px=height_px,
        labels=labels,
        middle=middle,
        ids=ids,
        title=title,
    )


def draw_walk(record: GroupRecord, *, width_px: float = 932, ids: str = "path") -> str:
    """Draw the group's path through the stages."""
    return draw_path(path_steps_of(record), width_px=width_px, ids=ids)


def draw_small_walk(record: GroupRecord, *, ids: str) -> str:
    """Draw the path small, for the overview."""
    path = Message("group_pictures.path_of_through_the_six_stages", name=record.group.name)
    title = word_message(path, record.language)
    return draw_small_path(path_steps_of(record), ids=ids, title=title)


def draw_family_of(record: GroupRecord, *, width_px: float = 932, ids: str = "family") -> str:
    """Draw the family of all revisions of the group's parts."""
    return draw_family(family_lines_of(record), width_px=width_px, ids=ids)


def family_lines_of(record: GroupRecord) -> tuple[FamilyLine, ...]:
    """Return the revisions of each part that has any, in the order in which they were made."""
    built = [state for state in record.parts if state.revisions]
    order = _order_together(built)
    newest = max(
        (revision.made_at for state in built for revision in state.revisions), default=None
    )
    return tuple(
        FamilyLine(
            name=state.name,
            shared=not state.part.is_own,
            marks=tuple(
                _mark(
                    state,
                    revision,
                    newest=revision.made_at == newest and revision is state.revisions[-1],
                    order=order[revision.id],
                )
                for revision in state.revisions
            ),
        )
        for state in built
    )


def _order_together(states: Sequence[PartState]) -> dict[UUID, float]:
    """Return a place for each revision; first builds made in one go stand under each other.

    Two revisions of one part never share a place, however quickly one followed the other.
    """
    made = [(revision, state.part.id) for state in states for revision in state.revisions]
    made.sort(key=lambda each: (each[0].made_at, each[0].number))
    order: dict[UUID, float] = {}
    place, parts_here = -1.0, set[UUID]()
    before: datetime | None = None
    for revision, part_id in made:
        in_one_go = before is not None and revision.made_at - before <= IN_ONE_GO
        if not in_one_go or revision.parent_id is not None or part_id in parts_here:
            place, parts_here = place + 1, set()
        parts_here.add(part_id)
        order[revision.id] = place
        before = revision.made_at
    return order


def caption_of(state: PartState, revision: Revision) -> str:
    """Say in a few words what a revision changed, such as "rail length 300 mm"."""
    if revision.parent_id is None:
        return "first build"
    new = [describe_new_value(change, state.kind, in_sentence=True) for change in revision.changes]
    return ", ".join(new) or "built again"


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRows:
    """The rows that a group's trials are sorted into."""

    rows: tuple[DotRow, ...]
    #: Where the rows are steps of a measure.
    measure: MeasureRows | None = None

    def key_of(self, trial: Trial) -> str:
        """Return the row of a measured trial."""
        if self.measure is not None:
            return self.measure.find_key(trial.value or 0.0) or ""
        if trial.zone is not None:
            return trial.zone
        return _ROW_OF_PLACE[trial.place or Place.PANEL]


def rows_of(record: GroupRecord) -> TrialRows:
    """Return zones with points, or round steps of the measure."""
    challenge = record.context.challenge
    if challenge.outcome.kind is OutcomeKind.ZONES and challenge.panel is not None:
        flew_past = any(trial.place is Place.NOWHERE for trial in record.usable_trials)
        name = "Flew past" if flew_past else ""
        return TrialRows(rows=zone_rows(challenge.panel, nowhere_name=name))
    less = challenge.outcome.direction.kind is DirectionKind.LESS
    values = [trial.value for trial in record.usable_trials]
    measure = measure_rows(values, less_is_better=less)
    return TrialRows(rows=measure.rows, measure=measure)


def columns_of(record: GroupRecord, state: PartState, rows: TrialRows) -> tuple[DotColumn, ...]:
    """Return a part's trials as dots, one column a revision."""
    return tuple(
        _column(record, state, revision, rows, newest=revision is state.revisions[-1])
        for revision in state.revisions
    )


def _column(
    record: GroupRecord,
    state: PartState,
    revision: Revision,
    rows: TrialRows,
    *,
    newest: bool,
) -> DotColumn:
    trials = record.trials_of(revision.id)
    measured = [trial for trial in trials if trial.value is not None]
    values = [trial.value for trial in measured if trial.value is not None]
    return DotColumn(
        revision=_mark(state, revision, newest=newest, order=float(revision.number)),
        dots=tuple(
            Dot(row=rows.key_of(trial), counted=trial.kind is TrialKind.COUNTED)
            for trial in measured
        ),
        misfires=sum(trial.state is TrialState.MISFIRE for trial in trials),
        mean=math.fsum(values) / len(values) if values else None,
    )


def _mark(state: PartState, revision: Revision, *, newest: bool, order: float) -> FamilyMark:
    ids = [other.id for other in state.revisions]
    parent = ids.index(revision.parent_id) if revision.parent_id in ids else None
    return FamilyMark(
        label=str(revision.number),
        parent=parent,
        caption=caption_of(state, revision),
        newest=newest,
        set_aside=revision.is_set_aside,
        order=order,
    )


def path_steps_of(record: GroupRecord) -> tuple[PathStep, ...]:
    """Return the group's arrivals at stages, with the revision that was built there."""
    numbers = {session.id: f"Session {session.number}" for session in record.context.sessions}
    main = record.main_part
    built = list(main.revisions) if main else []
    steps = []
    for step, after in zip_longest(record.steps, record.steps[1:]):
        note = ""
        if step.stage is Stage.BUILD:
            made = [
                revision
                for revision in built
                if revision.made_at >= step.at and (after is None or revision.made_at < after.at)
            ]
            note = str(made[-1].number) if made else ""
        session = numbers.get(step.session_id, "") if step.session_id else ""
        steps.append(PathStep(stage=step.stage, session=session, note=note))
    return tuple(steps)


def _revision_number(record: GroupRecord, trial: Trial) -> str | None:
    main = record.main_part
    ids: dict[UUID, int] = (
        {revision.id: revision.number for revision in main.revisions} if main else {}
    )
    numbers = [ids[id_] for id_ in trial.revision_ids if id_ in ids]
    return str(numbers[0]) if numbers else None
