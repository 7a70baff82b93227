"""The form that chooses a goal, filled in, and the class's table in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from journal.content.goals import get_goal_name, get_late_line
from journal.content.messages import word_message
from journal.domain.challenges import Challenge
from journal.domain.goal_documents import MOST_ROWS
from journal.domain.goals import BARE, Goal, GoalKind
from journal.domain.messages import Message
from journal.domain.numbers import show_number
from journal.domain.trials import Place
from journal.findings.counted_scores import name_place
from journal.services.goals import ROW_FIELDS, close_gaps, fields_of

#: Lines of the table that are offered empty beyond those written.
SPARE_ROWS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class GoalForm:
    """The form that chooses the goal; fields are paths with their texts."""

    kinds: tuple[tuple[str, str], ...]
    kind: str
    #: Path, name and how many times, for each zone; empty where there is no panel.
    zones: tuple[tuple[str, str, str], ...]
    places: tuple[tuple[str, str], ...]
    #: For each line of the table: path and text of place, from, to, points.
    rows: tuple[tuple[tuple[str, str], ...], ...]
    unit: str
    is_open: bool
    #: Why it is late to choose; "" before the first counted attempt.
    late: str


def list_goal_rows(challenge: Challenge, goal: Goal, language: str) -> list[str]:
    """Return the lines of the class's table in words."""
    lines = []
    for row in goal.table:
        to = "" if row.last is None else f" to {show_number(row.last)}"
        points = f"{show_number(row.points)} points" if row.points != 1 else "1 point"
        if challenge.panel is None:
            span = f"{show_number(row.first)}{to} {challenge.outcome.unit}"
            span = f"{span} and more" if row.last is None else span
            lines.append(f"{span}: {points}")
        else:
            name = name_place(challenge, row.where)
            hits = f"hit {show_number(row.first)}" + (to if row.last != row.first else "")
            hits = (
                word_message(Message("goal_forms.and_all_later_ones", hits=hits), language)
                if row.last is None
                else hits
            )
            lines.append(f"{name}, {hits}: {points}")
    return lines


def fill_goal_form(
    challenge: Challenge,
    language: str,
    entered: Mapping[str, str] | None = None,
    *,
    has_begun: bool = False,
) -> GoalForm:
    """Return the form with the agreed goal, or with what was entered."""
    fields = fields_of(challenge.agreed_goal, challenge)
    if entered is not None:
        fields = close_gaps(entered)
    panel = challenge.panel
    zones = () if panel is None else panel.zones
    places = [] if panel is None else [*(zone.key for zone in zones), BARE, *list(Place)[1:]]
    written = sum(f"goal.table[{number}].from" in fields for number in range(1, MOST_ROWS + 1))
    rows = range(1, min(MOST_ROWS, written + SPARE_ROWS) + 1)
    names = ROW_FIELDS if panel is not None else ROW_FIELDS[1:]
    offered = [kind for kind in GoalKind if panel is not None or not kind.asks_for_zones]
    return GoalForm(
        kinds=tuple((kind.value, get_goal_name(kind, language)) for kind in offered),
        kind=fields.get("goal.kind", ""),
        zones=tuple(
            (path, zone.name, fields.get(path, ""))
            for zone in zones
            for path in [f"goal.zones.{zone.key}.times"]
        ),
        places=tuple((str(key), name_place(challenge, key)) for key in places),
        rows=tuple(
            tuple(
                (path, fields.get(path, ""))
                for name in names
                for path in [f"goal.table[{number}].{name}"]
            )
            for number in rows
        ),
        unit="" if panel is not None else challenge.outcome.unit,
        is_open=entered is not None,
        late=get_late_line(language) if has_begun else "",
    )
