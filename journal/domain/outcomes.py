"""Which way an outcome is better: more, less, or near a value."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_number, show_number


class DirectionKind(StrEnum):
    """The three ways a measure can be better."""

    MORE = "more"
    LESS = "less"
    #: As close as possible to one value, from either side.
    NEAR = "near"


@dataclass(frozen=True, slots=True, kw_only=True)
class Direction:
    """Tell which of two outcomes is better; `near` is in the unit of the outcome."""

    kind: DirectionKind = DirectionKind.MORE
    near: float | None = None

    def __post_init__(self) -> None:
        """Refuse a nearness without a value, and a value without nearness."""
        if (self.kind is DirectionKind.NEAR) != (self.near is not None):
            message = Message("outcomes.value_belongs_to")
            raise Invalid.at("direction", message)
        if self.near is not None and not math.isfinite(self.near):
            raise Invalid.at("direction", Message("outcomes.value_to_come_near_to_must"))

    def merit(self, value: float) -> float:
        """Return a number that is higher where the outcome is better, in the outcome's unit."""
        if self.near is not None:
            return -abs(value - self.near)
        return -value if self.kind is DirectionKind.LESS else value

    def __str__(self) -> str:
        """Return the direction as `read_direction` takes it."""
        return self.kind.value if self.near is None else f"near:{show_number(self.near)}"


MORE_IS_BETTER = Direction(kind=DirectionKind.MORE)
LESS_IS_BETTER = Direction(kind=DirectionKind.LESS)


def near_is_better(value: float) -> Direction:
    """Return the direction in which outcomes closer to `value` are better."""
    return Direction(kind=DirectionKind.NEAR, near=value)


def read_direction(text: str) -> Direction:
    """Read `more`, `less` or `near:V`; raise Invalid for anything else."""
    word = text.strip().lower()
    if word == DirectionKind.MORE:
        return MORE_IS_BETTER
    if word == DirectionKind.LESS:
        return LESS_IS_BETTER
    start, colon, value = word.partition(":")
    if start == DirectionKind.NEAR and colon:
        try:
            return near_is_better(read_number(value))
        except NoNumber as error:
            raise Invalid.at("direction", error.message) from error
    message = Message("outcomes.is_no_direction", text=text)
    raise Invalid.at("direction", message)
