"""The goal of counted attempts: what is to be reached, agreed before the first one."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

#: Where a hit on the panel outside every zone counts in sets and tables.
BARE = "bare"
#: Stands for the place in the table of a challenge whose outcome is a quantity.
MEASURE = "measure"


class GoalKind(StrEnum):
    """What is to be reached."""

    MOST_POINTS = "most_points"
    MEAN_PER_ATTEMPT = "mean_per_attempt"
    #: Hit every zone of a set: how many of them were.
    COMPLETE_SET = "complete_set"
    #: How many attempts the set took; fewer is better.
    ATTEMPTS_TO_COMPLETE = "attempts_to_complete"
    #: A small table that the class wrote.
    CLASS_TABLE = "class_table"

    @property
    def asks_for_zones(self) -> bool:
        """Tell whether the goal is a set of zones."""
        return self in {GoalKind.COMPLETE_SET, GoalKind.ATTEMPTS_TO_COMPLETE}


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """One row of a class's own table: what the hits of one place are worth, by their number.

    `where` is a zone's key, "bare", "wall" or "nowhere". The row is for the first to the last
    hit there, such as 1 to 1 for the first only; `last` None means and all later ones. Where the
    outcome is a quantity, `where` is "measure" and the row goes by the quantity itself.
    """

    where: str
    points: float
    first: float = 1.0
    last: float | None = None

    def holds(self, where: str, number: float) -> bool:
        """Tell whether the row is for this hit, the `number`-th at that place."""
        last = number if self.last is None else self.last
        return where == self.where and self.first <= number <= last


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """A goal; `zones` is the set to complete, a place named twice is to be hit twice."""

    kind: GoalKind
    zones: tuple[str, ...] = ()
    table: tuple[TableRow, ...] = ()
    #: The measure itself is better when it is small, such as the distance from a line.
    low_is_better: bool = False

    @property
    def less_is_better(self) -> bool:
        """Tell whether a smaller score takes the earlier place."""
        return self.low_is_better or self.kind is GoalKind.ATTEMPTS_TO_COMPLETE

    @property
    def needs_equal_attempts(self) -> bool:
        """Tell whether groups with more attempts would have more chances."""
        return self.kind not in {GoalKind.MEAN_PER_ATTEMPT, GoalKind.ATTEMPTS_TO_COMPLETE}
