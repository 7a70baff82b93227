"""Outcomes in the order of the trials: values come in, dots with the revisions above go out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from journal.charts.axes import Plot, write_left_axis
from journal.charts.drawing import circle, draw, label, segment, stroke
from journal.charts.marks import hop
from journal.charts.palette import EDGE, INK, INK_2, MADDER, PAPER
from journal.charts.scales import fit_scale, known_values
from journal.charts.tables import NOTHING, ChartTable, cell


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedOutcome:
    """One trial; without a value it was a misfire."""

    value: float | None
    #: The revision's number; a line stands where it changes.
    revision: str
    newest: bool = False
    who: str = ""
    #: The trial's number, which it has everywhere; 0 for its place among the others here.
    number: int = 0

    @property
    def is_known(self) -> bool:
        """Tell whether there is a value to draw."""
        return len(known_values([self.value])) == 1


def draw_outcome_line(
    outcomes: Sequence[TimedOutcome],
    *,
    value_name: str = "Points",
    trial_name: str = "Trial",
    width_px: float = 632,
    height_px: float = 280,
    text_px: float = 16,
    ground: str = PAPER,
    ids: str = "outcomes",
    title: str = "Outcomes over time",
    desc: str = "",
) -> str:
    """Draw one dot a trial from the first to the last, joined within a revision.

    A dotted line stands where the revision changes, with its number above; a misfire is a hop at
    the foot and joins nothing.
    """
    plot = Plot(
        left_px=text_px * 3.4,
        top_px=text_px * 3.6,
        right_px=width_px - 8,
        bottom_px=height_px - text_px * 3.2,
        text_px=text_px,
    )
    values = known_values(outcome.value for outcome in outcomes)
    scale = fit_scale(values, plot.bottom_px, plot.top_px, most_ticks=6)
    step_px = (plot.right_px - plot.left_px) / max(1, len(outcomes))
    xs = [plot.left_px + (index + 0.5) * step_px for index in range(len(outcomes))]
    radius = max(1.2, min(4.8, step_px * 0.42))
    parts = write_left_axis(scale, plot, value_name) if values else []
    foot_px = plot.bottom_px + text_px * 0.9
    if not outcomes:
        parts.append(label(plot.left_px + 12, foot_px + text_px, "No trials yet", size_px=text_px,
                           colour=INK_2))  # fmt: skip
    for revision, numbered in groupby(enumerate(outcomes), key=lambda pair: pair[1].revision):
        run = list(numbered)
        start_px = xs[run[0][0]] - step_px / 2
        colour = MADDER if run[0][1].newest else INK
        parts += _head(revision, start_px, plot, colour, ground, first=run[0][0] == 0)
        known = [(index, outcome) for index, outcome in run if outcome.is_known]
        points = [(xs[index], scale.to_px(outcome.value or 0.0)) for index, outcome in known]
        joined = "L".join(f"{x:.2f} {y:.2f}" for x, y in points)
        parts.append(stroke(f"M{joined}", EDGE, 1) if len(points) > 1 else "")
        parts += [circle(x, y, radius, fill=colour) for x, y in points]
        parts += [
            hop(xs[index], foot_px, max(1.6, radius * 0.9), colour)
            for index, outcome in run
            if not outcome.is_known
        ]
    size, numbers = text_px * 0.9, _numbers_of(outcomes)
    parts += [
        label(xs[index], height_px - text_px * 0.5, str(numbers[index]), size_px=size, colour=INK_2,
              anchor="middle")
        for index in _numbered(numbers, step_px, size)
    ]  # fmt: skip
    parts.append(label(0, height_px - text_px * 0.5, trial_name, size_px=size, colour=INK_2))
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=title,
        desc=desc or _describe(outcomes, value_name),
        ids=ids,
    )


def outcome_table(
    outcomes: Sequence[TimedOutcome], *, value_name: str = "Points", caption: str = "Trials"
) -> ChartTable:
    """Return the trials in order."""
    return ChartTable(
        caption=caption,
        header=("Trial", "Revision", "Who", value_name),
        rows=tuple(
            (
                str(number),
                outcome.revision,
                outcome.who or NOTHING,
                cell(outcome.value, 2) if outcome.is_known else "misfire",
            )
            for number, outcome in zip(_numbers_of(outcomes), outcomes, strict=True)
        ),
    )


def _describe(outcomes: Sequence[TimedOutcome], value_name: str) -> str:
    if not outcomes:
        return "No trials yet."
    sentences = []
    for revision, run in groupby(outcomes, key=lambda outcome: outcome.revision):
        values = ", ".join(cell(o.value, 2) if o.is_known else "misfire" for o in run)
        sentences.append(f"Revision {revision}: {values}.")
    return f"{value_name} in the order of the trials. {' '.join(sentences)}"


def _head(
    revision: str, x: float, plot: Plot, colour: str, ground: str, *, first: bool
) -> list[str]:
    y, radius = plot.top_px - plot.text_px * 1.15, plot.text_px * 0.68
    size = plot.text_px * (0.9 if len(revision) == 1 else 0.72)
    parts = []
    if not first:
        line = segment(x, y, x, plot.bottom_px + plot.text_px)
        parts.append(stroke(line, INK_2, 1, stroke_dasharray="1.5 4.5"))
    middle_px = x + radius if first else x
    return [
        *parts,
        circle(middle_px, y, radius, fill=colour, stroke=ground, stroke_width=2),
        label(middle_px, y + size * 0.35, revision, size_px=size, colour=PAPER, bold=True,
              anchor="middle"),
    ]  # fmt: skip


def _numbers_of(outcomes: Sequence[TimedOutcome]) -> list[int]:
    return [outcome.number or place for place, outcome in enumerate(outcomes, start=1)]


def _numbered(numbers: Sequence[int], step_px: float, size_px: float) -> list[int]:
    """Return which trials get their number: every one, every fifth, tenth, ... as room allows."""
    room_px = size_px * (len(str(max(numbers, default=1))) * 0.62 + 0.6)
    every = next((n for n in (1, 5, 10, 50, 100, 500) if n * step_px >= room_px), 1000)
    return [index for index, number in enumerate(numbers) if number % every == 0]
