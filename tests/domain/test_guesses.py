"""The pause after wrong entries."""

from __future__ import annotations

from datetime import timedelta

import pytest

from journal.domain.guesses import LONGEST_PAUSE, pause_after, say_pause


def test_the_first_wrong_entries_cost_nothing() -> None:
    """A child who mistypes four times goes on at once."""
    assert [timedelta(0)] * 5 == [pause_after(wrong) for wrong in range(5)]


def test_each_further_one_doubles_the_pause_up_to_a_limit() -> None:
    """The pause doubles and then stays, however long somebody goes on."""
    assert [10, 20, 40] == [pause_after(wrong).total_seconds() for wrong in (5, 6, 7)]
    assert LONGEST_PAUSE == pause_after(10**9)


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0.2, "1 second"),
        (1.0, "1 second"),
        (11.2, "12 seconds"),
        (119, "119 seconds"),
        (120, "2 minutes"),
        (121, "3 minutes"),
    ],
)
def test_the_pause_is_said_in_words_and_never_too_short(seconds: float, said: str) -> None:
    """Whoever waits as long as it says has waited long enough."""
    assert said == say_pause(timedelta(seconds=seconds))
