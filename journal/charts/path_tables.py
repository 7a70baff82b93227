"""The path of a group as words and as a table: its steps come in, text goes out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from journal.charts.stages import STAGE_NAMES
from journal.charts.tables import NOTHING, ChartTable
from journal.domain.stages import Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class PathStep:
    """A group's arrival at a stage."""

    stage: Stage
    #: The session's name, such as "Session 1"; a dotted line stands where it changes.
    session: str = ""
    #: Stands above the step, such as the number of the revision that was built.
    note: str = ""


def describe_path(steps: Sequence[PathStep], names: Mapping[Stage, str] | None = None) -> str:
    """Say the stages in the order in which the group walked them."""
    if not steps:
        return "No stage yet."
    named = names or STAGE_NAMES
    walked = ", ".join(named[step.stage] for step in steps)
    return f"{walked}. Now at {named[steps[-1].stage]}."


def path_table(steps: Sequence[PathStep], *, caption: str = "Path") -> ChartTable:
    """Return the steps as a table."""
    return ChartTable(
        caption=caption,
        header=("Step", "Stage", "Session", "Revision"),
        rows=tuple(
            (str(number), STAGE_NAMES[step.stage], step.session or NOTHING, step.note or NOTHING)
            for number, step in enumerate(steps, start=1)
        ),
    )
