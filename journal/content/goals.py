"""The words of goals: a kind in, what stands in the choice and on the page out."""

from __future__ import annotations

from journal.content.texts import find_entry, get_text
from journal.domain.goals import Goal, GoalKind


def get_goal_name(kind: GoalKind, language: str) -> str:
    """Return how a kind of goal is called where it is chosen."""
    return get_text("goals", language, kind.value, "name")


def get_late_line(language: str) -> str:
    """Return what is said where a goal is chosen after the first counted attempt."""
    return get_text("goals", language, "late", "told")


def describe_goal(goal: Goal, language: str, *, zones: str, is_measure: bool) -> str:
    """Return a goal in a sentence; `zones` is its set in words."""
    sentence = None
    if is_measure:
        key = f"{goal.kind.value}_low" if goal.low_is_better else goal.kind.value
        sentence = find_entry("goals", language, "measure", key)
    text = (
        sentence
        if isinstance(sentence, str)
        else get_text("goals", language, goal.kind.value, "told")
    )
    return text.format(set=zones)
