"""Groups that get better, and groups that stand still, as the stall watch sees them.

In: seed and number of groups. Out: how often the shipped watch calls them by trial 14 and 24. Four
children in turn on a panel of 600 mm with zones worth 8, 4, 2, 1; the sizes are invented. Told as
zone points, or with positions. `python -m tests.simulation.stalls --groups N --write` writes
STALLS.md beside this file.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np

from journal.analysis.records import TrialRecord
from journal.analysis.stall import StallContext, find_stall
from journal.domain.classes import GradeBand
from journal.domain.outcomes import MORE_IS_BETTER

SEED = 8200
CHILDREN = 4
LAST = 24
#: Rising for so many trials and flat from then on.
RISING_TRIALS = 12
RESULTS = Path(__file__).parent / "STALLS.md"
CONTEXT = StallContext(band=GradeBand.THREE_TO_FIVE, direction=MORE_IS_BETTER, top_value=8.0)
_EDGES_MM = ((60, 8.0), (120, 4.0), (200, 2.0), (300, 1.0))

#: Offset, scatter, child and distance of each trial of each group.
Course = tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]
#: The most that may be called by trial 24 of groups that get better.
CAPS = {
    "offset 250 to 0 mm": 0.10,
    "unlike children, offset": 0.10,
    "best child absent from 12 on": 0.10,
    "new distance from 10 on": 0.15,
    "scatter 160 to 60 mm": 0.20,
    "hit share .05 to .6": 0.25,
}


def _steady(rng: np.random.Generator, groups: int, trials: int = LAST) -> Course:
    shape = (groups, trials)
    child = np.tile(np.arange(trials) % CHILDREN, (groups, 1))
    return np.zeros(shape), np.full(shape, 90.0), child, np.full(shape, 2000.0)


def _share_done(trials: int = LAST, rising: int = LAST) -> np.ndarray:
    return np.minimum(np.arange(trials), rising - 1) / (rising - 1)


def _falling_offset(rng: np.random.Generator, groups: int) -> Course:
    offset, scatter, child, distance = _steady(rng, groups)
    return offset + 250 * (1 - _share_done()), scatter, child, distance


def _unlike(rng: np.random.Generator, groups: int) -> Course:
    offset, scatter, child, distance = _falling_offset(rng, groups)
    skill = np.exp(0.4 * rng.normal(size=(groups, CHILDREN)))
    return offset, scatter * np.take_along_axis(skill, child, 1), child, distance


def _absent(rng: np.random.Generator, groups: int) -> Course:
    offset, scatter, child, distance = _falling_offset(rng, groups)
    skill = np.exp(0.4 * rng.normal(size=(groups, CHILDREN)))
    for group, best in enumerate(skill.argmin(1)):
        rest = [number for number in range(CHILDREN) if number != best]
        child[group, 12:] = [rest[turn % len(rest)] for turn in range(LAST - 12)]
    return offset, scatter * np.take_along_axis(skill, child, 1), child, distance


def _new_distance(rng: np.random.Generator, groups: int) -> Course:
    offset, scatter, child, distance = _falling_offset(rng, groups)
    far = np.where(np.arange(LAST) >= 10, 1.5, 1.0)
    return offset * far, scatter * far, child, distance * far


def _shrinking(rng: np.random.Generator, groups: int) -> Course:
    offset, _, child, distance = _steady(rng, groups)
    return offset, np.tile(160 - 100 * _share_done(), (groups, 1)), child, distance


def _standing(offset_mm: float, scatter_mm: float) -> Callable[..., Course]:
    def draw(rng: np.random.Generator, groups: int) -> Course:
        offset, scatter, child, distance = _steady(rng, groups)
        return offset + offset_mm, scatter * scatter_mm / 90, child, distance

    return draw


def _late(rng: np.random.Generator, groups: int) -> Course:
    trials = RISING_TRIALS + 18
    offset, scatter, child, distance = _steady(rng, groups, trials)
    return offset + 250 * (1 - _share_done(trials, RISING_TRIALS)), scatter, child, distance


RISING = {
    "offset 250 to 0 mm": _falling_offset,
    "unlike children, offset": _unlike,
    "best child absent from 12 on": _absent,
    "new distance from 10 on": _new_distance,
    "scatter 160 to 60 mm": _shrinking,
}
STANDING = {
    "offset 250 mm": _standing(250, 90),
    "offset 125 mm": _standing(125, 90),
    "on the aim, scatter 90 mm": _standing(0, 90),
    "on the aim, scatter 160 mm": _standing(0, 160),
    "on the aim, scatter 60 mm": _standing(0, 60),
}


def tell_groups(
    draw: Callable[..., Course], seed: int, groups: int, *, positions: bool
) -> list[list[TrialRecord]]:
    """Return the trials of each group, told as zone points alone or with positions."""
    rng = np.random.default_rng(seed)
    offset, scatter, child, distance = draw(rng, groups)
    way = rng.normal(-np.pi / 2, 0.4, (groups, 1))
    noise = rng.normal(size=(*offset.shape, 2)) * scatter[..., None]
    hits = np.stack([offset * np.cos(way), offset * np.sin(way)], -1) + noise
    away = np.abs(hits).max(-1)
    return [
        [
            TrialRecord(
                order=order,
                revision="A",
                student=str(child[group, order]),
                distance_mm=float(distance[group, order]),
                value=next((worth for edge, worth in _EDGES_MM if away[group, order] < edge), 0.0),
                x_mm=float(hits[group, order, 0])
                if positions and away[group, order] < 300
                else None,
                y_mm=float(hits[group, order, 1])
                if positions and away[group, order] < 300
                else None,
            )
            for order in range(offset.shape[1])
        ]
        for group in range(groups)
    ]


def tell_hits(shares: np.ndarray, seed: int, groups: int) -> list[list[TrialRecord]]:
    """Return trials that hit or miss, with these shares of hits."""
    hits = np.random.default_rng(seed).random((groups, len(shares))) < shares
    return [
        [
            TrialRecord(
                order=order, revision="A", student=str(order % CHILDREN), value=float(value)
            )
            for order, value in enumerate(row)
        ]
        for row in hits
    ]


def share_called(told: list[list[TrialRecord]], first: int, last: int) -> float:
    """Return the share that the watch calls at some trial from `first` to `last`."""
    called = sum(
        any(find_stall(trials[:n], CONTEXT).stalled for n in range(first, last + 1))
        for trials in told
    )
    return called / len(told)


def tell_stalls(groups: int, seed: int = SEED) -> Iterator[str]:
    """Return the tables, line by line."""
    yield f"**Groups that get better** ({groups} a cell; called by trial 24)"
    yield ""
    yield "| course | zone points | positions | cap |"
    yield "|---" * 4 + "|"
    for place, (name, draw) in enumerate(RISING.items()):
        shares = [
            share_called(tell_groups(draw, seed + place, groups, positions=known), 1, LAST)
            for known in (False, True)
        ]
        yield f"| {name} | {shares[0]:.3f} | {shares[1]:.3f} | {CAPS[name]:.2f} |"
    rising = tell_hits(0.05 + 0.55 * _share_done(), seed + 20, groups)
    name = "hit share .05 to .6"
    yield f"| {name} | {share_called(rising, 1, LAST):.3f} | | {CAPS[name]:.2f} |"
    yield ""
    yield f"**Groups that stand still** ({groups} a cell; called by trial 14, and by 24)"
    yield ""
    yield "| level | zone points by 14 | by 24 | positions by 14 | by 24 |"
    yield "|---" * 5 + "|"
    for place, (name, draw) in enumerate(STANDING.items()):
        shares = [
            share_called(tell_groups(draw, seed + 40 + place, groups, positions=known), 1, last)
            for known in (False, True)
            for last in (14, LAST)
        ]
        yield f"| {name} | " + " | ".join(f"{share:.3f}" for share in shares) + " |"
    for place, share in enumerate((0.05, 0.3, 0.6)):
        told = tell_hits(np.full(LAST, share), seed + 60 + place, groups)
        early, late = (share_called(told, 1, last) for last in (14, LAST))
        yield f"| hit share {share} | {early:.3f} | {late:.3f} | | |"
    yield ""
    yield "**A late plateau** (offset 250 to 0 mm in 12 trials, then flat)"
    yield ""
    for known in (False, True):
        told = tell_groups(_late, seed + 80, groups, positions=known)
        share = share_called(told, RISING_TRIALS + 1, RISING_TRIALS + 18)
        yield f"* called within 18 trials, {'positions' if known else 'zone points'}: {share:.3f}"


def main() -> None:
    """Print the tables, or write them below the line in STALLS.md."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--groups", type=int, default=2000)
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args()
    lines = list(tell_stalls(asked.groups))
    if not asked.write:
        print("\n".join(lines))  # noqa: T201 - a report
        return
    head, line, _ = RESULTS.read_text("utf-8").partition(LINE)
    RESULTS.write_text("\n".join([head + line, "", *lines, ""]), encoding="utf-8")


LINE = "<!-- Everything below this line is written by the report. -->"


if __name__ == "__main__":
    main()
