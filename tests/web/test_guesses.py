"""Counting wrong entries."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid
from journal.web.guesses import MOST_KEPT, Guesses
from tests.conftest import StandingClock

WRONG = Invalid.at("word", "not this one")


def _enter(guesses: Guesses, who: str, clock: StandingClock, *, right: bool = False) -> str:
    """Enter something and return what was answered, empty where it was right."""
    try:
        with guesses.counting(who, "word", clock()):
            if not right:
                raise WRONG
    except Invalid as refused:
        return str(refused)
    return ""


def test_what_is_sent_during_a_pause_is_not_counted(clock: StandingClock) -> None:
    """A child who taps on and on waits no longer for it."""
    guesses = Guesses()
    for _ in range(5):
        assert "not this one" == _enter(guesses, "tablet", clock)
    for _ in range(20):
        assert "Wait 10 seconds" in _enter(guesses, "tablet", clock, right=True)
    clock.move(seconds=10)
    assert "" == _enter(guesses, "tablet", clock, right=True)


def test_something_right_or_half_an_hour_starts_anew(clock: StandingClock) -> None:
    """Four slips, then the right one, then four slips: nobody waits."""
    guesses = Guesses()
    for _ in range(3):
        assert ["not this one"] * 4 == [_enter(guesses, "tablet", clock) for _ in range(4)]
        _enter(guesses, "tablet", clock, right=True)
    for _ in range(4):
        _enter(guesses, "tablet", clock)
    clock.move(minutes=31)
    assert ["not this one"] * 5 == [_enter(guesses, "tablet", clock) for _ in range(5)]


def test_spelling_a_name_otherwise_is_no_way_around(clock: StandingClock) -> None:
    """Capitals and spaces count for the same one; a lone surrogate breaks nothing."""
    guesses = Guesses()
    for name in ("ruiz", "RUIZ", " Ruiz", "ruiz ", "rUiz"):
        _enter(guesses, name, clock)
    assert "Wait" in _enter(guesses, "ruiz", clock)
    assert "not this one" == _enter(guesses, "\ud800" * 100_000, clock)


def test_memory_stays_bounded_and_the_newest_are_kept(clock: StandingClock) -> None:
    """A flood of names pushes out the oldest counts only."""
    guesses = Guesses()
    for number in range(MOST_KEPT):
        guesses.note(f"name {number}", clock())
    for _ in range(5):
        guesses.note("ruiz", clock())
    assert len(guesses._wrong) <= MOST_KEPT
    with pytest.raises(Invalid, match="Wait"):
        guesses.require_patience("ruiz", "word", clock())
