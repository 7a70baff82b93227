"""What a trial is worth: every tap on the wall has points, every other ending one sentence."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.content.library import get_ready_challenge
from journal.domain.challenges import Challenge, Outcome, OutcomeKind
from journal.domain.errors import Invalid
from journal.domain.outcomes import MORE_IS_BETTER
from journal.domain.panels import Panel
from journal.domain.trial_outcomes import check_amount, judge_outcome
from journal.domain.trials import Ending, Place, TrialState
from tests.sentences import raises

BLAZE: Challenge = get_ready_challenge("beyond_the_ditch")
BRIDGE: Challenge = get_ready_challenge("paper_bridge")
ANY_NUMBER = st.floats(allow_nan=True, allow_infinity=True)


def panel_of(challenge: Challenge) -> Panel:
    """Return the challenge's panel."""
    assert challenge.panel is not None
    return challenge.panel


@given(x_mm=st.floats(-480, 480), y_mm=st.floats(-480, 480))
def test_each_tap_on_the_wall_has_a_place_and_points(x_mm: float, y_mm: float) -> None:
    """Panel or wall, and the points of exactly that place."""
    outcome = judge_outcome(BLAZE, Ending(x_mm=x_mm, y_mm=y_mm))

    on_panel = max(abs(x_mm), abs(y_mm)) <= 360
    assert (Place.PANEL if on_panel else Place.WALL) is outcome.place
    zones = {zone.key: zone.points for zone in panel_of(BLAZE).zones}
    bare = 1.0 if on_panel else 0.0
    assert zones.get(outcome.zone or "", bare) == outcome.value


@given(x_mm=ANY_NUMBER, y_mm=ANY_NUMBER)
def test_any_two_numbers_are_a_place_or_a_sentence(x_mm: float, y_mm: float) -> None:
    """Nothing but a value that is finite, or Invalid, comes of two numbers."""
    try:
        outcome = judge_outcome(BLAZE, Ending(x_mm=x_mm, y_mm=y_mm))
    except Invalid:
        assert not (abs(x_mm) <= 480 and abs(y_mm) <= 480)
    else:
        assert outcome.value is not None
        assert math.isfinite(outcome.value)


@given(radius_mm=st.floats(0, 500), angle=st.floats(0, math.tau))
def test_farther_out_is_never_worth_more(radius_mm: float, angle: float) -> None:
    """Outlying zones are worth fewer points than central ones (common practice, no source)."""
    if radius_mm * max(abs(math.cos(angle)), abs(math.sin(angle))) > 480:
        return
    far = Ending(x_mm=radius_mm * math.cos(angle), y_mm=radius_mm * math.sin(angle))
    near = Ending(x_mm=far.x_mm and far.x_mm / 2, y_mm=far.y_mm and far.y_mm / 2)

    values = [judge_outcome(BLAZE, ending).value or 0.0 for ending in (near, far)]
    assert values[0] >= values[1]


@given(value=ANY_NUMBER)
def test_any_measure_is_within_its_limits_or_a_sentence(value: float) -> None:
    """0 to 20000 g; nothing else is kept."""
    try:
        outcome = judge_outcome(BRIDGE, Ending(value=value))
    except Invalid:
        assert not 0 <= value <= 20_000
    else:
        assert 0 <= value <= 20_000
        assert (TrialState.MEASURED, value) == (outcome.state, outcome.value)


def test_misfire_has_neither_value_nor_place() -> None:
    """A cause of the list and nothing else."""
    outcome = judge_outcome(BLAZE, Ending(misfire="stuck"))

    assert (TrialState.MISFIRE, None, None) == (outcome.state, outcome.value, outcome.place)


@pytest.mark.parametrize("amount", [-0.5, math.nan, math.inf, -math.inf, 1e7])
def test_amount_is_a_number_from_zero_on(amount: float) -> None:
    """Whatever is no countable amount gets a sentence."""
    assert ["amount"] == [problem.field for problem in check_amount(BLAZE.outcome, amount)]


@pytest.mark.parametrize("amount", [None, 0.0, 4.0, 0.5])
def test_amount_may_be_left_out_or_be_plain(amount: float | None) -> None:
    """Nothing is wrong with none, zero, four or a half."""
    assert [] == check_amount(BLAZE.outcome, amount)


def test_count_is_whole() -> None:
    """Half a turn is no count."""
    counting = Outcome(kind=OutcomeKind.COUNT, name="Turns", unit="turns", direction=MORE_IS_BETTER)
    challenge = replace(BRIDGE, outcome=counting)

    assert 7.0 == judge_outcome(challenge, Ending(value=7.0)).value
    with raises(Invalid, match="whole number"):
        judge_outcome(challenge, Ending(value=7.5))
