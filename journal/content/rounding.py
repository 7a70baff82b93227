"""Whole numbers that add up: shares come in, as many parts of a whole go out."""

from __future__ import annotations

import math
from collections.abc import Sequence


def split_up(shares: Sequence[float], whole: int) -> tuple[int, ...]:
    """Return each share in whole parts of `whole`, so that together they make just that.

    Rounded down, and what is left goes to the largest remainders. Nothing at all stays nothing.
    """
    total = math.fsum(shares)
    if total <= 0:
        return (0,) * len(shares)
    exact = [whole * share / total for share in shares]
    parts = [math.floor(part) for part in exact]
    by_remainder = sorted(range(len(exact)), key=lambda at: parts[at] - exact[at])
    for at in by_remainder[: whole - sum(parts)]:
        parts[at] += 1
    return tuple(parts)
