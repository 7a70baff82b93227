"""How often a diagnosis was right."""

from __future__ import annotations

from datetime import UTC, datetime
from uuid import UUID

from journal.domain.diagnoses import JudgedCause, Reading, TrackRecord, count_right

AT = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
ID = UUID(int=1)


def _judged(said: Reading, turned_out: Reading) -> JudgedCause:
    return JudgedCause(
        id=ID,
        school_id=ID,
        group_id=ID,
        challenge_id=ID,
        said=said,
        in_100=80,
        trials=12,
        turned_out=turned_out,
        note="",
        judged_at=AT,
        teacher_id=ID,
    )


def test_silence_counts_neither_for_nor_against() -> None:
    """Right is counted among the times something was named."""
    judged = [
        _judged(Reading.DEVICE, Reading.DEVICE),
        _judged(Reading.DEVICE, Reading.USE),
        _judged(Reading.CANNOT_TELL, Reading.USE),
    ]
    assert TrackRecord(judged=3, spoke=2, right=1) == count_right(judged)
    assert TrackRecord(judged=0, spoke=0, right=0) == count_right([])
