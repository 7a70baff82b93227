"""Spans and carts: a beam bent by scipy, and energies that balance."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from journal.analysis.structures import (
    find_deflection_m,
    find_factor_of_safety,
    find_friction_n,
    find_friction_work_j,
    find_load_n,
    find_load_per_own_mass,
    find_mean_speed_m_s,
    find_rectangle_inertia_m4,
)


def test_deflection_is_that_of_the_bent_beam() -> None:
    """Half a beam on two supports, E I y'' = M with level middle, solved by `solve_bvp`."""
    force, span, elasticity, inertia = 2.0, 0.3, 3.0e9, find_rectangle_inertia_m4(0.05, 0.002)
    x = np.linspace(0, span / 2, 50)
    solved = solve_bvp(
        lambda at, y: np.vstack([y[1], force * at / 2 / (elasticity * inertia)]),
        lambda start, middle: np.array([start[0], middle[1]]),
        x,
        np.zeros((2, 50)),
    )
    expected = -solved.sol(span / 2)[0]
    assert find_deflection_m(force, span, elasticity, inertia) == pytest.approx(expected, rel=1e-6)


def test_a_coasting_cart_spends_its_energy_on_friction() -> None:
    """The friction found does work, along the way, equal to the energy of motion."""
    friction = find_friction_n(0.2, 1.5, 2.25)
    assert friction is not None
    assert find_friction_work_j(friction, 2.25) == pytest.approx(0.2 * 1.5**2 / 2)


def test_ratios_need_something_to_divide_by() -> None:
    """No time, no way, no load, no mass: cannot be said."""
    assert find_factor_of_safety(find_load_n(3.0), find_load_n(1.5)) == pytest.approx(2.0)
    assert find_load_per_own_mass(1.2, 0.02) == pytest.approx(60.0)
    assert find_factor_of_safety(3.0, 0.0) is None
    assert find_load_per_own_mass(3.0, 0.0) is None
    assert find_mean_speed_m_s(3.0, 0.0) is None
    assert find_friction_n(0.2, 1.5, 0.0) is None
    assert find_deflection_m(1.0, 0.3, 0.0, 1e-9) is None
