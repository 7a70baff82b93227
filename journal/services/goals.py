"""Choose the goal of a class's counted attempts: a form's texts in, the changed challenge out."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from journal.domain.challenge_documents import with_changes
from journal.domain.challenges import Challenge
from journal.domain.errors import Invalid, Problem
from journal.domain.goal_documents import MOST_ROWS
from journal.domain.goals import Goal, GoalKind
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, find_number, show_number
from journal.records.group_contexts import get_present_challenge
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import challenges, classes

ROW_FIELDS = ("place", "from", "to", "points")


def choose_goal(work: Work, class_id: UUID, entered: Mapping[str, str]) -> Challenge:
    """Keep the goal of the class's present challenge.

    `entered` goes by path: `goal.kind`, `goal.zones.<zone>.times` and `goal.table[1].place`,
    `.from`, `.to`, `.points`. Raises Invalid with every problem by its path.
    """
    school_class = get_own_class(work, class_id)
    challenge, _ = get_present_challenge(work, school_class)
    problems: list[Problem] = []
    goal = _read_goal(challenge, entered, problems)
    if problems:
        raise Invalid(problems[0].what, problems)
    changed = with_changes(challenge, goal=goal)
    challenges.save_challenge(work.session, changed)
    classes.bump_version(work.session, class_id)
    return changed


def fields_of(goal: Goal, challenge: Challenge) -> dict[str, str]:
    """Return a goal as the texts of its form, by path."""
    fields = {"goal.kind": goal.kind.value}
    for key in dict.fromkeys(goal.zones):
        fields[f"goal.zones.{key}.times"] = str(goal.zones.count(key))
    for number, row in enumerate(goal.table, start=1):
        base = f"goal.table[{number}]"
        if challenge.panel is not None:
            fields[f"{base}.place"] = row.where
        fields[f"{base}.from"] = show_number(row.first)
        fields[f"{base}.to"] = "" if row.last is None else show_number(row.last)
        fields[f"{base}.points"] = show_number(row.points)
    return fields


def close_gaps(entered: Mapping[str, str]) -> dict[str, str]:
    """Return the texts of a form with the lines of its table numbered without gaps.

    A line counts as written where it has a from, a to or points: the place alone is always chosen.
    """
    closed = {path: text for path, text in entered.items() if not path.startswith("goal.table[")}
    number = 0
    for old in range(1, MOST_ROWS + 1):
        row = {name: entered.get(f"goal.table[{old}].{name}", "").strip() for name in ROW_FIELDS}
        if row["from"] or row["to"] or row["points"]:
            number += 1
            closed |= {f"goal.table[{number}].{name}": text for name, text in row.items()}
    return closed


def _read_goal(
    challenge: Challenge, entered: Mapping[str, str], problems: list[Problem]
) -> dict[str, object]:
    """Return the goal as its document holds it; only what belongs to its kind is read."""
    kind = entered.get("goal.kind", "")
    goal: dict[str, object] = {"kind": kind}
    if kind in {GoalKind.COMPLETE_SET, GoalKind.ATTEMPTS_TO_COMPLETE}:
        goal["zones"] = _read_zones(challenge, entered, problems)
        if not goal["zones"] and not problems:
            what = Message("goals.say_for_at_least_one_zone_how_many")
            problems.append(Problem("goal.zones", what))
    if kind == GoalKind.CLASS_TABLE:
        goal["table"] = _read_rows(challenge, entered, problems)
        if not goal["table"]:
            problems.append(
                Problem("goal.table", Message("goals.write_at_least_one_line_of_the_table"))
            )
    return goal


def _read_zones(
    challenge: Challenge, entered: Mapping[str, str], problems: list[Problem]
) -> list[dict[str, object]]:
    zones: list[dict[str, object]] = []
    for zone in () if challenge.panel is None else challenge.panel.zones:
        path = f"goal.zones.{zone.key}.times"
        times = _read_number(entered.get(path, ""), path, problems)
        if times:
            zones.append({"key": zone.key, "times": times})
    return zones


def _read_rows(
    challenge: Challenge, entered: Mapping[str, str], problems: list[Problem]
) -> list[dict[str, object]]:
    closed = close_gaps(entered)
    rows: list[dict[str, object]] = []
    for number in range(1, MOST_ROWS + 1):
        base = f"goal.table[{number}]"
        if f"{base}.from" not in closed:
            break
        row: dict[str, object] = {}
        if challenge.panel is not None:
            row["place"] = closed[f"{base}.place"]
        for name in ("from", "to", "points"):
            text, path = closed[f"{base}.{name}"], f"{base}.{name}"
            value = _read_number(text, path, problems)
            if value is not None:
                row[name] = value
            elif not text.strip() and name != "to":
                problems.append(Problem(path, Message("numbers.this_is_empty")))
        rows.append(row)
    return rows


def _read_number(text: str, path: str, problems: list[Problem]) -> float | None:
    try:
        number = find_number(text)
    except NoNumber as error:
        problems.append(Problem(path, error.message))
        return None
    return int(number) if number is not None and number.is_integer() else number
