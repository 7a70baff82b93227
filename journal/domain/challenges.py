"""What is to be built and why: a ready challenge, or a class's own copy of one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from uuid import UUID

from journal.domain.classes import GradeBand
from journal.domain.goals import Goal, GoalKind
from journal.domain.outcomes import Direction
from journal.domain.panels import Panel

#: What fits a line of a page and the column that keeps it.
LONGEST_TITLE = 120


class OutcomeKind(StrEnum):
    """How a trial is measured."""

    #: Points by zone of a panel, with the hit's position.
    ZONES = "zones"
    #: A measured quantity with a unit.
    MEASURE = "measure"
    #: A count.
    COUNT = "count"


class CountingWay(StrEnum):
    """How counted attempts become one number."""

    SUM = "sum"
    MEAN_PER_ATTEMPT = "mean_per_attempt"


@dataclass(frozen=True, slots=True, kw_only=True)
class Criterion:
    """What success is, measurably."""

    key: str
    text: str
    unit: str
    direction: Direction
    threshold: float
    #: The measure compared with the threshold: "mean", "best", "reliability" or "" (judged by eye).
    measure: str = "mean"


@dataclass(frozen=True, slots=True, kw_only=True)
class Constraint:
    """A limit; `fixed` ones cannot be removed from a challenge."""

    key: str
    text: str
    fixed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """A thing that can be changed in a part: a number with a unit, or one of a few choices."""

    key: str
    name: str
    unit: str = ""
    choices: tuple[str, ...] = ()
    lowest: float | None = None
    highest: float | None = None
    #: The value of the first build, as text; may be empty.
    start: str = ""
    #: Bands that are offered it; empty means all.
    bands: tuple[GradeBand, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartKind:
    """A part that the challenge asks for: one a group (shared) or one a student (own)."""

    key: str
    name: str
    own: bool
    icon: str
    factors: tuple[Factor, ...]
    #: Testing destroys it: it is built again, the same way or another, before the next trial.
    destructive: bool = False

    def find_factor(self, key: str) -> Factor | None:
        """Return the factor with this key."""
        return next((factor for factor in self.factors if factor.key == key), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingChoice:
    """One way in which use can differ, with its named choices; the first is the usual one."""

    key: str
    name: str
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A material: unit, price of one unit in hundredths of the challenge's money, allowance."""

    key: str
    name: str
    unit: str
    price_hundredths: int
    #: How much a group may use in one revision of everything together; None is no limit.
    allowance: float | None = None
    latex: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How a trial is measured, and which way is better."""

    kind: OutcomeKind
    name: str
    unit: str
    direction: Direction
    #: Amount logged with each trial (such as drops of paint), where the challenge has one.
    amount_name: str = ""
    amount_unit: str = ""
    #: What the measure can be at all; a value outside is a slip of the finger.
    lowest: float = 0.0
    highest: float = 1_000_000.0
    step: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CountingRule:
    """The attempts that count, the same number for each member."""

    attempts: int
    way: CountingWay


@dataclass(frozen=True, slots=True, kw_only=True)
class MisfireCause:
    """A cause of a misfire, fixed before testing."""

    key: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyLine:
    """A caution; `fixed` ones cannot be removed from a challenge."""

    key: str
    text: str
    fixed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BandWording:
    """The story and the problem in the words of one band, and what the band works with."""

    story: str
    problem: str
    distance_mm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Challenge:
    """A challenge, whole; `id` is None for a ready one of the library."""

    key: str
    title: str
    launches: bool
    #: The action in the challenge's words, such as "launches" or "loads": used on the tablet.
    tester_question: str
    place_question: str
    wording: Mapping[GradeBand, BandWording]
    criteria: tuple[Criterion, ...]
    constraints: tuple[Constraint, ...]
    parts: tuple[PartKind, ...]
    handling: tuple[HandlingChoice, ...]
    materials: tuple[Material, ...]
    money_name: str
    budget_hundredths: int | None
    outcome: Outcome
    panel: Panel | None
    counting: CountingRule
    misfires: tuple[MisfireCause, ...]
    safety: tuple[SafetyLine, ...]
    #: The line on every screen and sheet that leads to a trial.
    caution: str
    distance_mm: int | None = None
    #: What the class agreed on for its counted attempts; None follows the counting rule.
    goal: Goal | None = None
    id: UUID | None = None
    class_id: UUID | None = None
    document: Mapping[str, object] = field(default_factory=dict, compare=False, repr=False)

    @property
    def agreed_goal(self) -> Goal:
        """Return the goal of the counted attempts."""
        if self.goal is not None:
            return self.goal
        is_mean = self.counting.way is CountingWay.MEAN_PER_ATTEMPT
        return Goal(kind=GoalKind.MEAN_PER_ATTEMPT if is_mean else GoalKind.MOST_POINTS)

    @property
    def shared_parts(self) -> tuple[PartKind, ...]:
        """Return the parts made once a group."""
        return tuple(part for part in self.parts if not part.own)

    @property
    def own_parts(self) -> tuple[PartKind, ...]:
        """Return the parts made once a student."""
        return tuple(part for part in self.parts if part.own)

    @property
    def is_destructive(self) -> bool:
        """Tell whether a trial destroys a part."""
        return any(part.destructive for part in self.parts)

    @property
    def has_gate(self) -> bool:
        """Tell whether the teacher's checklist comes before a launch, or a load that falls."""
        return self.launches or self.is_destructive
