"""Whole numbers that add up: shares come in, parts of ten or of a hundred go out."""

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


def split_by_line(shares: Sequence[float], line: float) -> tuple[int, ...]:
    """Return shares in 100 that add up, each on its side of a line above one half."""
    if not shares:
        return ()
    parts, shown_line = list(split_up(shares, 100)), round(100 * line)
    by_size = sorted(range(len(shares)), key=shares.__getitem__, reverse=True)
    first, moved = by_size[0], 0
    if shares[first] < line and parts[first] >= shown_line:
        moved = parts[first] - shown_line + 1
    elif shares[first] >= line and parts[first] < shown_line:
        moved = parts[first] - shown_line
    if len(by_size) > 1:
        parts[first] -= moved
        parts[by_size[1]] += moved
    return tuple(parts)


def show_part(share: float, part: int) -> str:
    """Return a whole part of a share; one that is there but rounds to nothing is "under 1"."""
    return "under 1" if share > 0 and part == 0 else str(part)


#: From how many tenths on something has these words.
_SURE = ((8, "very likely"), (6, "likely"), (4, "possible"), (1, "unlikely"), (0, "very unlikely"))


def show_in_tenths(in_100: int) -> str:
    """Return how sure something is in words and tenths: finer than that, nobody knows."""
    tenths = (in_100 + 5) // 10
    words = next(words for least, words in _SURE if tenths >= least)
    bound = {0: "under 1", 10: "over 9"}.get(tenths, f"about {tenths}")
    return f"{words}, {bound} in 10"
