"""A poor own part beside a poor use: told apart once parts were exchanged, and not before.

In: seed and number of groups. Out: a sentence for the report, and the shares behind it.
"""

from __future__ import annotations

from tests.simulation.classrooms import Telling, draw_classrooms
from tests.simulation.measures import diagnose_sets

USE = frozenset({"use"})
OWN_PART = "own_part"


def find_shares(seed: int, groups: int, *, exchange: bool) -> dict[str, tuple[float, float]]:
    """Return, for a true use and a true own part, how often it is found and is the likelier one."""
    found = {}
    for name, in_parts in (("use", False), ("own_part", True)):
        rooms = draw_classrooms(seed, groups, 24, causes=USE, exchange=exchange, in_parts=in_parts)
        right = seen = 0
        for room in rooms:
            chances = diagnose_sets(room, Telling.POSITIONS)
            use = sum(chance for causes, chance in chances.items() if "use" in causes)
            own = sum(chance for causes, chance in chances.items() if OWN_PART in causes)
            if use + own < 0.5:
                continue
            seen += 1
            right += (own > use) is in_parts
        found[name] = (seen / groups, right / max(1, seen))
    return found


def share_told_apart(seed: int, groups: int) -> str:
    """Return the shares in one sentence."""
    with_exchange = find_shares(seed, groups, exchange=True)
    told = "; ".join(
        f"true {name.replace('_', ' ')}: noticed in {seen:.2f}, and then told apart in {right:.2f}"
        for name, (seen, right) in with_exchange.items()
    )
    return f"With one exchange of two members' darts halfway ({groups} groups each): {told}."
