"""A closed lane is seen in the whole room: forty tablets ask a real server as their page does."""

from __future__ import annotations

from tests.bench.lane_polling import LIMIT_S, SHARE, measure, share


def test_almost_every_tablet_sees_a_closed_lane_within_three_seconds() -> None:
    """95 of 100 within 3 s in the benchmark; twice that here, where the machine is shared."""
    waits = measure(changes=2)

    assert share(waits, SHARE) <= 2 * LIMIT_S
    # Half of them within the pause between two questions, or they would not be asking every 2 s.
    assert share(waits, 0.5) <= LIMIT_S
