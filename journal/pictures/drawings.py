"""A drawing together with its data as a table, for whoever listens or prefers figures."""

from __future__ import annotations

from dataclasses import dataclass

from journal.charts.dot_tables import dots_table
from journal.charts.family_tables import family_table
from journal.charts.hits import Hit
from journal.charts.panel_tables import panel_table
from journal.charts.path_tables import path_table
from journal.charts.tables import ChartTable
from journal.content.messages import word_message
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.domain.trials import Trial, TrialState
from journal.findings.measures import measures_of
from journal.pictures.group_pictures import (
    columns_of,
    draw_family_of,
    draw_trials,
    draw_walk,
    family_lines_of,
    path_steps_of,
    rows_of,
)

#: A table longer than this tells the newest ones only.
MOST_ROWS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing and the table that says the same."""

    svg: str
    table: ChartTable


def draw_trials_with_table(
    record: GroupRecord, state: PartState, *, width_px: float = 932, ids: str = "dots"
) -> Drawing:
    """Draw every trial of a part by revision."""
    rows = rows_of(record)
    return Drawing(
        svg=draw_trials(record, state, width_px=width_px, ids=ids),
        table=dots_table(
            columns_of(record, state, rows),
            rows.rows,
            show_mean=measures_of(record.context.school_class).show_mean,
            caption=word_message(
                Message("drawings.trials_of_by_revision", name=state.name), record.language
            ),
        ),
    )


def draw_walk_with_table(record: GroupRecord, *, width_px: float = 932) -> Drawing:
    """Draw the path through the stages."""
    return Drawing(
        svg=draw_walk(record, width_px=width_px),
        table=path_table(
            path_steps_of(record),
            caption=word_message(Message("drawings.path_through_the_stages"), record.language),
        ),
    )


def draw_family_with_table(record: GroupRecord, *, width_px: float = 932) -> Drawing:
    """Draw the family of revisions."""
    return Drawing(
        svg=draw_family_of(record, width_px=width_px), table=family_table(family_lines_of(record))
    )


def tabulate_hits(record: GroupRecord, trials: tuple[Trial, ...], caption: str) -> ChartTable:
    """Return hits as a table: who, zone, points and place."""
    panel = record.context.challenge.panel
    if panel is None:
        return ChartTable(caption=caption, header=(), rows=())
    names = record.nicknames
    hits = [
        Hit(
            x_mm=trial.x_mm,
            y_mm=trial.y_mm,
            label=names.get(trial.student_id, "") if trial.student_id else "",
        )
        for trial in trials[-MOST_ROWS:]
        if trial.state is TrialState.MEASURED
    ]
    return panel_table(panel, hits, caption=caption)
