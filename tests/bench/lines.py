"""The one JSON line that every benchmark prints."""

from __future__ import annotations

import json


def tell(
    name: str,
    value: float,
    unit: str,
    *,
    limit: float,
    goal: float,
    more_is_better: bool,
    **more: object,
) -> None:
    """Print what was measured beside the raw limit of the same run.

    `ratio` is value over limit; it holds at `goal` or on its better side.
    """
    ratio = value / limit
    holds = ratio >= goal if more_is_better else ratio <= goal
    line = {
        "name": name,
        "value": round(value, 3),
        "unit": unit,
        "limit": round(limit, 3),
        "ratio": round(ratio, 3),
        "goal": goal,
        "holds": holds,
        **more,
    }
    print(json.dumps(line))  # noqa: T201 - a benchmark prints
