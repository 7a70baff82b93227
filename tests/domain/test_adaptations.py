"""The distance of a group after what was adapted for it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from journal.domain.adaptations import Adaptation, AdaptationKind, find_distance_mm

AT = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
ID = UUID(int=1)


def _adaptation(minute: int, kind: AdaptationKind, distance_mm: int | None = None) -> Adaptation:
    return Adaptation(
        id=UUID(int=minute),
        school_id=ID,
        group_id=ID,
        challenge_id=ID,
        kind=kind,
        distance_mm=distance_mm,
        practice_trials=None,
        note="",
        checks=(),
        adapted_at=AT + timedelta(minutes=minute),
        teacher_id=ID,
    )


CLOSER = _adaptation(1, AdaptationKind.CLOSER, 1500)


@pytest.mark.parametrize(
    ("adaptations", "expected"),
    [
        ((), 2500),
        ((CLOSER,), 1500),
        ((CLOSER, _adaptation(2, AdaptationKind.SIMPLER)), 1500),
        ((_adaptation(3, AdaptationKind.CLOSER, 1000), CLOSER), 1000),
        ((CLOSER, _adaptation(2, AdaptationKind.BACK)), 2500),
    ],
)
def test_the_newest_distance_holds(adaptations: tuple[Adaptation, ...], expected: int) -> None:
    """In whatever order they come; other adaptations leave it alone."""
    assert expected == find_distance_mm(adaptations, 2500)
