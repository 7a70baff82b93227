"""Exchange of parts: whether own parts changed hands."""

from __future__ import annotations

import pytest

from journal.analysis.cells import Observation
from journal.analysis.exchanges import PartReason, find_part_reason


@pytest.mark.parametrize(
    ("pairs", "expected"),
    [
        (["a-", "b-"], PartReason.NOT_RECORDED),
        (["a1", "b-"], PartReason.PARTLY_RECORDED),
        (["a1", "b1"], PartReason.ONE_PART),
        (["a1", "b2"], PartReason.NEVER_EXCHANGED),
        (["a1", "a2", "b3"], PartReason.NEVER_EXCHANGED),
        (["a1", "b1", "c2"], PartReason.NEVER_EXCHANGED),
        (["a1", "b2", "a2"], None),
        (["a1", "b2", "a2", "b1"], None),
    ],
)
def test_parts_can_be_told_apart_once_somebody_used_anothers(
    pairs: list[str], expected: PartReason | None
) -> None:
    """A letter is a student, a digit an own part, a dash none recorded."""
    seen = [
        Observation(revision="1", student=pair[0], own_part=pair[1].strip("-"), value=1.0)
        for pair in pairs
    ]
    assert find_part_reason(seen) is expected


def test_an_exchange_is_offered_where_it_would_help() -> None:
    """Where parts were never exchanged an exchange helps; where none is recorded it does not."""
    assert PartReason.NEVER_EXCHANGED.offers_exchange
    assert not PartReason.NOT_RECORDED.offers_exchange
