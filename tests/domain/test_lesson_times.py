"""How long a lesson lasts, and what is left of it."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid
from journal.domain.lesson_times import find_times, read_length_min
from journal.domain.sessions import Session

START = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
SESSION = Session(
    id=uuid4(),
    school_id=uuid4(),
    class_id=uuid4(),
    challenge_id=uuid4(),
    number=1,
    started_at=START,
    ended_at=None,
    distance_mm=None,
    panel="",
    lanes=1,
    length_min=45,
)


def _after(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


@pytest.mark.parametrize(
    ("minutes", "left", "to_clean_up"),
    [(0, 45, 39), (0.5, 45, 39), (1, 44, 38), (39, 6, 0), (44.99, 1, 0), (45, 0, 0), (60, 0, 0)],
)
def test_the_minutes_run_down_to_nothing(minutes: float, left: int, to_clean_up: int) -> None:
    """The last minute that has begun is still one; afterwards nothing gets negative."""
    times = find_times(SESSION, _after(minutes))
    assert times is not None
    assert (left, to_clean_up) == (times.minutes_left, times.minutes_to_clean_up)
    assert (_after(45), minutes >= 45) == (times.ends_at, times.is_over)


def test_a_pause_moves_the_end() -> None:
    """While it lasts the minutes stand still; afterwards they go on from there."""
    paused = replace(SESSION, paused_at=_after(20))
    for minutes in (20, 35):
        times = find_times(paused, _after(minutes))
        assert times is not None
        assert (25, _after(minutes + 25)) == (times.minutes_left, times.ends_at)
    again = find_times(replace(SESSION, paused_s=15 * 60), _after(36))
    assert again is not None
    assert (24, _after(60)) == (again.minutes_left, again.ends_at)


def test_a_clock_that_was_set_back_takes_no_minutes_away() -> None:
    """Before its own start a lesson has all its minutes."""
    times = find_times(SESSION, _after(-30))
    assert times is not None
    assert (45, 0.0) == (times.minutes_left, times.share)


def test_nothing_is_said_where_the_length_is_not_known() -> None:
    """Of an ended session neither."""
    assert find_times(replace(SESSION, length_min=None), _after(5)) is None
    assert find_times(replace(SESSION, ended_at=_after(5)), _after(5)) is None


def test_an_empty_field_takes_the_usual_length_of_the_band() -> None:
    """What is written is taken, within bounds."""
    assert [40, 45, 50] == [read_length_min(" ", band) for band in GradeBand]
    assert 90 == read_length_min("90", GradeBand.TWO)
    for text in ("9", "241", "an hour", "1,000"):
        with pytest.raises(Invalid):
            read_length_min(text, GradeBand.TWO)
