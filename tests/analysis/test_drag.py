"""Drag against scipy's integrator and the closed form."""

from __future__ import annotations

from math import cos, hypot, inf, nan, radians, sin

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from journal.analysis.drag import (
    find_drag_flight,
    find_fall_speed_m_s,
    find_fall_time_s,
    find_terminal_speed_m_s,
)
from journal.analysis.physics import GRAVITY_M_S2, find_flight


@pytest.mark.parametrize("terminal", [0.5, 4.0, 12.0, 40.0])
@pytest.mark.parametrize(("speed", "angle", "height"), [(8, 45, 0), (15, 20, -1), (12, 70, 1.5)])
def test_a_flight_agrees_with_scipy(
    speed: float, angle: float, height: float, terminal: float
) -> None:
    """Time, range, greatest height and landing speed are those of `solve_ivp`."""

    def change(_: float, state: np.ndarray) -> list[float]:
        pull = GRAVITY_M_S2 * hypot(state[2], state[3]) / terminal**2
        return [state[2], state[3], -pull * state[2], -GRAVITY_M_S2 - pull * state[3]]

    def landed(_: float, state: np.ndarray) -> float:
        return float(state[1] - height)

    def at_top(_: float, state: np.ndarray) -> float:
        return float(state[3])

    landed.terminal, landed.direction = True, -1  # type: ignore[attr-defined]
    start = [0.0, 0.0, speed * cos(radians(angle)), speed * sin(radians(angle))]
    expected = solve_ivp(
        change, (0, 30), start, events=[landed, at_top], rtol=1e-10, atol=1e-12, max_step=0.01
    )
    found = find_drag_flight(speed, angle, terminal, height)
    if not expected.t_events[0].size:
        assert found is None
        return
    x, _, across, up = expected.y_events[0][0]
    assert found is not None
    assert found.time_s == pytest.approx(expected.t_events[0][0], rel=1e-6)
    assert found.range_m == pytest.approx(x, rel=1e-6)
    assert found.highest_m == pytest.approx(expected.y_events[1][0][1], rel=1e-5)
    assert found.landing_speed_m_s == pytest.approx(hypot(across, up), rel=1e-6)


def test_without_air_the_flight_is_the_textbooks() -> None:
    """A huge terminal speed leaves the flight without drag."""
    found, expected = find_drag_flight(10.0, 40.0, 1e6, -1.0), find_flight(10.0, 40.0, -1.0)
    assert found is not None
    assert expected is not None
    assert found.range_m == pytest.approx(expected.range_m, rel=1e-6)


def test_a_flight_that_never_gets_there_has_no_answer() -> None:
    """Too high to reach."""
    assert find_drag_flight(3.0, 45.0, 10.0, landing_height_m=5.0) is None


@pytest.mark.parametrize("bad", [0.0, -1.0, nan, inf])
def test_without_a_terminal_speed_nothing_can_be_said(bad: float) -> None:
    """A mass or a speed that is no positive number leaves every answer open."""
    assert find_terminal_speed_m_s(bad, 0.1, 1.0) is None
    assert find_fall_speed_m_s(bad, 1.0) is None
    assert find_drag_flight(5.0, 45.0, bad) is None


def test_a_flight_that_is_not_down_in_a_minute_has_no_answer() -> None:
    """A feather that sinks at 2 cm/s from 10 m up takes longer."""
    assert find_drag_flight(0.5, 10.0, 0.02, landing_height_m=-10.0) is None


@pytest.mark.parametrize("terminal", [0.3, 2.0, 44.0, 98.0])
@pytest.mark.parametrize("height", [0.001, 0.4, 2.0, 50.0, 1e6])
def test_the_time_of_a_fall_is_the_fall_turned_round(terminal: float, height: float) -> None:
    """Falling for that time covers the height, also where drag rules and where it hardly shows.

    The way is the integral of the closed form v = vt tanh(g t / vt), taken by `scipy`'s `quad`.
    """
    time_s = find_fall_time_s(terminal, height)
    assert time_s is not None
    steady_s = min(time_s, 10.0 * terminal / GRAVITY_M_S2)
    way = sum(
        quad(lambda t: find_fall_speed_m_s(terminal, t) or 0.0, start, end)[0]
        for start, end in ((0.0, steady_s), (steady_s, time_s))
    )
    assert pytest.approx(height, rel=1e-9) == way


@pytest.mark.parametrize("bad", [0.0, -1.0, nan, inf])
def test_no_fall_has_no_time(bad: float) -> None:
    """Height and terminal speed must be above 0 and finite."""
    assert find_fall_time_s(bad, 1.0) is None
    assert find_fall_time_s(1.0, bad) is None
