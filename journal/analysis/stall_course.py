"""What the stall watch looks at: each trial's merit, and the cell whose trials it is set beside.

Comes in: records in order. Goes out: `CourseTrial`s. Where most positions are known and nearer to
the aim point is what scores, the distance from it is the merit: zone points hide small steps.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from statistics import correlation

from journal.analysis.records import TrialRecord
from journal.analysis.stall_trend import CourseTrial
from journal.domain.outcomes import Direction

#: Share of the trials with a value whose position must be known.
LEAST_KNOWN = 0.7
#: How clearly the points must rise with nearness (correlation) for nearness to stand for them.
LEAST_AGREEMENT = 0.5
LEAST_HITS = 6


def course_of(ordered: Sequence[TrialRecord], direction: Direction) -> list[CourseTrial]:
    """Return the trials of `ordered` with a value that counts.

    A cell is one child at one distance and panel in one session.
    """
    measured = [(record, value) for record in ordered if (value := record.measured) is not None]
    merits = [direction.merit(value) for _, value in measured]
    distances = [None if record.hit is None else hypot(*record.hit) for record, _ in measured]
    if _stands_for(distances, merits):
        # What lies beyond the panel is at least as far out as the farthest hit.
        farthest = max(distance for distance in distances if distance is not None)
        merits = [-(farthest if distance is None else distance) for distance in distances]
    return [
        CourseTrial(
            merit=merit,
            cell=(record.student, record.distance_mm, record.panel, record.session),
        )
        for (record, _), merit in zip(measured, merits, strict=True)
    ]


def _stands_for(distances: Sequence[float | None], merits: Sequence[float]) -> bool:
    pairs = [
        (-distance, merit)
        for distance, merit in zip(distances, merits, strict=True)
        if distance is not None
    ]
    if len(pairs) < LEAST_HITS or len(pairs) < LEAST_KNOWN * len(merits):
        return False
    sides = list(zip(*pairs, strict=True))
    if any(min(side) == max(side) for side in sides):
        return False
    return correlation(*sides) >= LEAST_AGREEMENT
