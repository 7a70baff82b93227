"""Cause sets and how often each is drawn. All values are invented, and serve to compare models."""

from __future__ import annotations

from itertools import combinations

CAUSES = ("device_offset", "device_scatter", "use", "load", "mechanism")
#: None, each cause alone, any two different ones.
CAUSE_SETS: tuple[frozenset[str], ...] = (
    frozenset(),
    *(frozenset({cause}) for cause in CAUSES),
    *(frozenset(pair) for pair in combinations(CAUSES, 2)),
)
#: A quarter nothing, an eighth each single one, an eighth all pairs together.
CHANCES = tuple(
    1 / 4 if not causes else 1 / 8 if len(causes) == 1 else 1 / 80 for causes in CAUSE_SETS
)
GROUPED = ("none", "device", "use", "both")


def group_causes(causes: frozenset[str]) -> str:
    """Return none, device, use or both for a cause set."""
    if not causes:
        return "none"
    if causes == {"use"}:
        return "use"
    return "both" if "use" in causes else "device"
