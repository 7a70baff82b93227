"""What physics can say about a device: which calculations there are, and for which challenge.

Quantities of the classroom come in, figures with units go out: bounds and expectations, never
predictions, and each figure says which it is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from journal.calculators.quantities import Figure, Quantity
from journal.domain.challenges import Challenge

Given = Mapping[str, float]
#: The unit of what a span carries.
_GRAMS = "g"


class PhysicsKind(StrEnum):
    """What is worked out."""

    LAUNCHER = "launcher"
    SPAN = "span"
    FALL = "fall"
    CART = "cart"


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """What is asked for, and how the figures follow from it."""

    asked: tuple[Quantity, ...]
    work_out: Callable[[Given], tuple[Figure, ...]]


def kinds_for(challenge: Challenge) -> tuple[PhysicsKind, ...]:
    """Return what can be worked out for a challenge, the likeliest first."""
    if challenge.launches:
        return (PhysicsKind.LAUNCHER,)
    if challenge.is_destructive and challenge.outcome.unit == _GRAMS:
        return (PhysicsKind.SPAN,)
    return (PhysicsKind.CART, PhysicsKind.FALL, PhysicsKind.SPAN)
