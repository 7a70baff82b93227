"""`journal diagnose`: what the trials of a table point to: device, use, both or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from math import isfinite
from pathlib import Path

import click

from journal.analysis.diagnosis import diagnose as analysis
from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.diagnose import Diagnosis, Grouped, Needs
from journal.analysis.diagnosis.frame import Frame, frame_of_side
from journal.analysis.failures import work_out
from journal.analysis.records import TrialRecord, in_order, own_trials
from journal.analysis.stall import StallContext, find_stall
from journal.cli.group_results import write_elements, write_lines
from journal.cli.numbers import NUMBER
from journal.cli.sentences import Stop
from journal.cli.tables import read_table
from journal.content.messages import word_error
from journal.content.rounding import show_in_tenths, split_by_line
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, Direction, read_direction
from journal.exchange.trials import CsvTrial, direction_of, measured_by_value, records_of
from journal.findings.diagnosis_words import word_next_test

#: Distances from the aim point reach beyond these; points of zones do not.
MOST_POINTS = 8.0
#: The terminal speaks English.
LANGUAGE = "en"
#: What is missing where no reading may be named.
NEEDS = {Needs.CONTRAST: "needs a contrast", Needs.TRIALS: "too few trials"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundGroup:
    """One group of the table with its diagnosis and its stall."""

    group: str
    diagnosis: Diagnosis
    #: The trial after which the stall was first seen that still lasts; None without one.
    since_order: int | None
    #: The first trial since which every result is the best there can be; None without one.
    top_order: int | None

    def as_json(self) -> dict[str, object]:
        """Return plain values; what cannot be said is null."""
        found = self.diagnosis
        return {
            "group": self.group,
            "stalled": self.since_order is not None,
            "since_order": self.since_order,
            "reasons": [reason.as_json() for reason in found.reasons],
            "probabilities": {"none": found.none, "use": found.use}
            | {cause.value: found.probabilities[cause] for cause in Cause},
            "joint": {
                name.value: found.joint.get(name)
                for name in Grouped
                if name is not Grouped.CANNOT_TELL
            },
            "grouped": found.grouped.value,
            "abstained": found.abstained,
            "needs": found.needs,
            "next_test": _next_test_of(found),
            "students": {
                name: {"offset_mm": student.offset_mm, "scatter_mm": student.scatter_mm}
                for name, student in found.students.items()
            },
        }


def _next_test_of(found: Diagnosis) -> dict[str, object] | None:
    proposed = found.next_test
    if proposed is None:
        return None
    _, because, _ = word_next_test(proposed, LANGUAGE)
    return {
        "kind": proposed.kind.value,
        "launches": proposed.launches,
        "minutes": proposed.minutes,
        "because": because,
    }


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON array, one element a group.")
@click.option(
    "--panel-mm", type=NUMBER, default=600.0, show_default=True, help="Full side of the panel."
)
@click.option(
    "--aim-mm",
    type=NUMBER,
    nargs=2,
    help="The aim point from the left and the bottom edge; the middle without it.",
)
@click.option(
    "--direction",
    help="Which outcome is better: more (points of zones) or less (mm from the aim point).",
)
@click.option("--ignore-unknown", is_flag=True, help="Pass over columns with other names.")
def diagnose(
    file: Path,
    panel_mm: float,
    aim_mm: tuple[float, float] | None,
    direction: str | None,
    *,
    as_json: bool,
    ignore_unknown: bool,
) -> None:
    """Say what the trials of FILE, a CSV, point to: the device, its use, both, or nothing.

    Each group by itself, with how probable each cause is, why, and whether it has stalled. A value
    is points of zones where none is above 8, else mm from the aim point. Needs no journal at all.
    """
    frame = _frame_of(panel_mm, aim_mm)
    table = read_table(file, ignore_unknown=ignore_unknown)
    asked = _direction_for(table, direction)
    groups = records_of(table)
    if as_json:
        write_elements(
            {name: partial(_element, name, own, asked, frame) for name, own in groups.items()}
        )
    else:
        write_lines(
            {name: partial(_lines, name, own, asked, frame) for name, own in groups.items()}
        )


def _element(
    group: str, records: Sequence[TrialRecord], direction: Direction, frame: Frame
) -> dict[str, object]:
    return _look_at(group, records, direction, frame).as_json()


def _lines(
    group: str, records: Sequence[TrialRecord], direction: Direction, frame: Frame
) -> list[str]:
    return [_describe(_look_at(group, records, direction, frame))]


def _look_at(
    group: str, records: Sequence[TrialRecord], direction: Direction, frame: Frame
) -> FoundGroup:
    own = own_trials(records)
    return FoundGroup(
        group=group,
        diagnosis=analysis.diagnose(records, frame=frame, direction=direction),
        since_order=work_out("the stall", lambda: find_stalled_since(own, direction), None),
        top_order=find_top_since(own, direction),
    )


def find_stalled_since(records: Sequence[TrialRecord], direction: Direction) -> int | None:
    """Return the order of the trial after which the group has been stalled until now."""
    context = StallContext(
        band=GradeBand.THREE_TO_FIVE,
        direction=direction,
        top_value=_top_value(records, direction),
    )
    ordered = in_order(records)
    since = None
    for count in range(len(ordered), 0, -1):
        if not find_stall(ordered[:count], context).stalled:
            break
        since = ordered[count - 1].order
    return since


def find_top_since(records: Sequence[TrialRecord], direction: Direction) -> int | None:
    """Return the order of the first trial since which every result is the best there can be."""
    top = _top_value(records, direction)
    known = [
        (record.order, record.measured)
        for record in in_order(records)
        if record.measured is not None
    ]
    since = next((order for order, value in known if value == top), None)
    held = since is not None and all(value == top for order, value in known if order >= since)
    return since if held else None


def _top_value(records: Sequence[TrialRecord], direction: Direction) -> float | None:
    """Return the best value there can be: points of zones end, and no distance is below 0."""
    if direction.near is not None:
        return direction.near
    if direction == LESS_IS_BETTER:
        return 0.0
    values = [record.measured for record in records if record.measured is not None]
    return MOST_POINTS if max(values, default=0.0) <= MOST_POINTS else None


def _frame_of(panel_mm: float, aim_mm: tuple[float, float] | None) -> Frame:
    if not (isfinite(panel_mm) and panel_mm > 0):
        raise Stop("--panel-mm is the full side of the panel in mm: give a number above 0.")
    if aim_mm is not None and not all(0 < at < panel_mm for at in aim_mm):
        raise Stop("--aim-mm lies off the panel: measure it from the left and the bottom edge.")
    return frame_of_side(panel_mm, aim_mm)


def _direction_for(table: Sequence[CsvTrial], asked: str | None) -> Direction:
    """Return the direction asked for; else less for distances, which exceed any points."""
    try:
        if asked is not None:
            return read_direction(asked)
    except Invalid as error:
        raise Stop(word_error(error)) from error
    if not measured_by_value(table):
        return direction_of(table)
    beyond = any(trial.value is not None and trial.value > MOST_POINTS for trial in table)
    return LESS_IS_BETTER if beyond else MORE_IS_BETTER


def _describe(result: FoundGroup) -> str:
    head = f"{result.group}: " if result.group else ""
    found = result.diagnosis
    parts = split_by_line(tuple(found.joint.values()), analysis.LEAST_TO_SPEAK)
    joint = "; ".join(
        f"{name.value} {show_in_tenths(part)}"
        for name, part in zip(found.joint, parts, strict=True)
    )
    grouped = found.grouped.value
    if found.needs is not None:
        grouped = f"{grouped}, {NEEDS[found.needs]}"
    stalled = "" if result.since_order is None else f"; stalled since trial {result.since_order}"
    if result.top_order is not None:
        stalled = f"; at the top since trial {result.top_order}"
    reasons = ", ".join(reason.key.value.replace("_", " ") for reason in found.reasons)
    words = [grouped, f"({joint})" if joint else "", f"[{reasons}]" if reasons else ""]
    line = head + " ".join(filter(None, words)) + stalled
    if found.next_test is None:
        return line
    return f"{line}\n  {' '.join(word_next_test(found.next_test, LANGUAGE))}"
