"""Where a trial can end, to tap or to type: a context and its trials in, a panel or a pad out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.charts.hits import Hit
from journal.charts.panel_frames import panel_frame
from journal.charts.panels import draw_panel
from journal.content.messages import word_message
from journal.content.trial_words import value_words
from journal.domain.challenges import OutcomeKind
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.numbers import show_number
from journal.domain.panels import Panel
from journal.domain.trials import Trial, TrialState

PANEL_WIDTH_PX = 480.0
#: A panel higher than this part of its width would not leave room for the rest.
HIGHEST_PART = 1.1
Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelView:
    """The panel as drawn, where its mm lie, and its places by name."""

    svg: str
    width_px: float
    height_px: float
    scale_px_per_mm: float
    aim_x_px: float
    aim_y_px: float
    wall: str
    places: tuple[Pair, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberPad:
    """What can be entered for a measure."""

    unit: str
    lowest: str
    highest: str
    step: str
    whole: bool


def view_panel(
    context: GroupContext, logged: Sequence[Trial], current: set[UUID]
) -> PanelView | None:
    """Return the panel with the hits of the revisions in use; None where nothing is aimed at."""
    panel = context.challenge.panel
    if panel is None or context.challenge.outcome.kind is not OutcomeKind.ZONES:
        return None
    hits = _hits(context, logged, current)
    height_px = round(PANEL_WIDTH_PX * min(HIGHEST_PART, _tallness(panel)))
    frame = panel_frame(panel, PANEL_WIDTH_PX, height_px)
    box = (frame.wall_left_px, frame.wall_top_px, frame.wall_width_px, frame.wall_height_px)
    return PanelView(
        svg=draw_panel(
            panel,
            hits,
            width_px=PANEL_WIDTH_PX,
            height_px=height_px,
            ids="log",
            title=word_message(
                Message("trial_panels.panel_with_the_hits_so_far"), context.school_class.language
            ),
        ),
        width_px=PANEL_WIDTH_PX,
        height_px=height_px,
        scale_px_per_mm=frame.scale_px_per_mm,
        aim_x_px=frame.aim_x_px,
        aim_y_px=frame.aim_y_px,
        wall=" ".join(f"{length:.2f}" for length in box),
        places=_places(panel, context.challenge.outcome.unit),
    )


def _tallness(panel: Panel) -> float:
    margin = 2 * panel.wall_margin_mm
    return (panel.height_mm + margin) / (panel.width_mm + margin)


def _hits(context: GroupContext, logged: Sequence[Trial], current: set[UUID]) -> list[Hit]:
    strokes = context.group.strokes
    names = {member.student_id: member.nickname for member in context.group.members}
    hits = []
    for trial in logged:
        used = not current or current & set(trial.revision_ids)
        if trial.state is not TrialState.MEASURED or trial.x_mm is None or not used:
            continue
        newest = trial.id == logged[-1].id
        who = trial.student_id
        words = (names.get(who, "") if who else "", value_words(context.challenge, trial))
        hits.append(
            Hit(
                x_mm=trial.x_mm,
                y_mm=trial.y_mm,
                strokes=strokes.get(who, 0) if who else 0,
                who=names.get(who, "") if who else "",
                newest=newest,
                behind=not newest,
                label=", ".join(word for word in words if word) if newest else "",
            )
        )
    return hits


def _places(panel: Panel, unit: str) -> tuple[Pair, ...]:
    places = [(f"zone:{zone.key}", zone.name, zone.points) for zone in panel.zones]
    places += [("bare", panel.bare_name, panel.bare_points), ("wall", "Wall", panel.wall_points)]
    return tuple((key, f"{name}, {show_number(points)} {unit}") for key, name, points in places)


def view_pad(context: GroupContext) -> NumberPad | None:
    """Return the pad for a measure; None where places give points."""
    outcome = context.challenge.outcome
    if outcome.kind is OutcomeKind.ZONES and context.challenge.panel is not None:
        return None
    whole = outcome.kind is OutcomeKind.COUNT or (outcome.step >= 1 and not outcome.step % 1)
    return NumberPad(
        unit=outcome.unit,
        lowest=show_number(outcome.lowest),
        highest=show_number(outcome.highest),
        step=show_number(outcome.step),
        whole=whole,
    )
