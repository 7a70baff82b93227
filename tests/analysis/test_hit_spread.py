"""Spread of a set of trials: each trial is accounted for, and a student may pull alone."""

from __future__ import annotations

from math import nan

from journal.analysis.hit_spread import SpreadReason, spread_of_trials
from journal.analysis.records import TrialRecord, by_student
from journal.analysis.spread import Side, spread_of
from journal.domain.trials import Place
from tests.analysis.panels import square_panel


def record(**facts: object) -> TrialRecord:
    """Return a record of revision 1 unless said otherwise."""
    return TrialRecord(**{"order": 1, "revision": "1", **facts})  # type: ignore[arg-type]


def test_each_trial_is_counted_once() -> None:
    """Hits, hits beyond, scores alone, nowhere and misfires are told apart."""
    records = [
        record(x_mm=10.0, y_mm=20.0, place=Place.PANEL, value=8.0),
        record(x_mm=-350.0, y_mm=0.0, place=Place.WALL, value=0.0),
        record(place=Place.WALL, value=0.0),
        record(place=Place.PANEL, value=4.0),
        record(place=Place.NOWHERE, value=0.0),
        record(misfire="slipped", x_mm=1.0, y_mm=1.0),
        record(x_mm=nan, y_mm=1.0),
    ]
    found = spread_of_trials(records, square_panel())
    assert (found.hits, found.beyond_panel, found.scores_only) == (2, 1, 1)
    assert (found.nowhere, found.misfires) == (1, 1)
    assert found.spread == spread_of([(10.0, 20.0), (-350.0, 0.0)])
    assert found.fitted is not None
    assert found.fitted.count == 4
    assert SpreadReason.BEYOND_PANEL in found.reasons
    assert SpreadReason.TOO_FEW_HITS in found.reasons


def test_scores_without_positions_say_that_the_direction_is_unknown() -> None:
    """A record of points alone is fitted by the chances of the zones."""
    records = [record(place=Place.PANEL, value=points) for points in (8.0, 4.0, 4.0, 2.0, 1.0)]
    found = spread_of_trials(records, square_panel())
    assert found.spread is None
    assert found.fitted is not None
    assert found.reasons == (SpreadReason.NO_HITS, SpreadReason.DIRECTION_UNKNOWN)


def test_a_student_may_pull_where_the_group_does_not() -> None:
    """Two students pull to two sides: each has words of its own, the revision has neither."""
    records = [
        record(student=student, x_mm=side + step, y_mm=step * 3 % 7)
        for student, side in (("3", -200.0), ("5", 200.0))
        for step in range(6)
    ]
    found = [
        spread_of_trials(own, square_panel(), student)
        for student, own in by_student(records).items()
    ]
    assert [each.label for each in found] == ["3", "5"]
    assert [each.words.sides for each in found] == [(Side.LEFT,), (Side.RIGHT,)]
    assert spread_of_trials(records, square_panel()).words.sides == (Side.CENTRED,)


def test_no_trials_have_no_spread() -> None:
    """An empty group is answered, not refused."""
    assert spread_of_trials([]).reasons == (SpreadReason.NO_HITS,)
