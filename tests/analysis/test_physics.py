"""Physics of a launch: energy in equals energy out, and bounds are bounds."""

from __future__ import annotations

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.physics import (
    find_flight,
    find_greatest_speed_m_s,
    find_height_m,
    find_kinetic_energy_j,
    find_least_speed_m_s,
    find_level_speed_m_s,
    find_speed_ratio,
    find_stretch_energy_j,
)


def test_all_stretch_energy_in_the_projectile_is_the_greatest_speed() -> None:
    """The energy of motion at that speed, moving part included, is the energy stored."""
    energy = find_stretch_energy_j(12.0, 0.03)
    speed = find_greatest_speed_m_s(energy, 0.004, moving_part_kg=0.002)
    assert speed is not None
    assert find_kinetic_energy_j(0.006, speed) == pytest.approx(energy)


@given(speed=st.floats(1, 30), angle=st.floats(5, 85), height=st.floats(-2, 0.05))
def test_no_flight_beats_the_least_speed(speed: float, angle: float, height: float) -> None:
    """Whatever the angle, reaching a range takes at least the least speed for it."""
    flight = find_flight(speed, angle, height)
    if flight is None:
        return
    assert find_least_speed_m_s(flight.range_m, -height) <= speed * (1 + 1e-9)
    assert find_height_m(speed, angle, flight.range_m) == pytest.approx(height, abs=1e-9)


def test_what_cannot_be_reached_has_no_answer() -> None:
    """Too high for the speed, or an angle without a level range."""
    assert find_flight(5.0, 45.0, 10.0) is None
    assert find_level_speed_m_s(10.0, 90.0 + 1e-9) is None
    assert find_level_speed_m_s(10.0, -10.0) is None


@pytest.mark.parametrize("bad", [0.0, -1.0, nan, inf, 1e200])
def test_a_quantity_that_must_be_above_zero_and_is_not_has_no_answer(bad: float) -> None:
    """Nothing is raised, and no figure that is none is returned."""
    assert find_greatest_speed_m_s(1.0, bad) is None
    assert find_speed_ratio(0.02, bad, 0.0) is None
    assert find_level_speed_m_s(bad, 45.0) is None
    assert find_flight(bad, 45.0) is None
