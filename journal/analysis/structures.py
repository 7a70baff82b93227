"""Structures and carts: how far a span bends, what it carries, and what slows a cart.

In: quantities in SI units. Out: deflections, forces, energies, ratios.
"""

from __future__ import annotations

from journal.analysis.physics import GRAVITY_M_S2, are_positive, find_kinetic_energy_j


def find_rectangle_inertia_m4(width_m: float, height_m: float) -> float:
    """Return the second moment of area of a rectangle about its level middle line.

    `width_m` is level, `height_m` upright.
    """
    return width_m * height_m**3 / 12.0


def find_deflection_m(
    force_n: float, span_m: float, elasticity_pa: float, inertia_m4: float
) -> float | None:
    """Return how far a beam on two supports bends under a load in its middle: F L^3 / 48 E I.

    `force_n` is the load, `span_m` the distance of the supports, `elasticity_pa` the modulus of
    elasticity, `inertia_m4` the second moment of area. None unless all can be divided by.
    """
    if not are_positive(force_n, span_m, elasticity_pa, inertia_m4):
        return None
    return force_n * span_m**3 / (48.0 * elasticity_pa * inertia_m4)


def find_load_n(mass_kg: float) -> float:
    """Return the weight of a mass hung on a span."""
    return mass_kg * GRAVITY_M_S2


def find_factor_of_safety(load_at_break_n: float, load_to_carry_n: float) -> float | None:
    """Return `load_at_break_n` over `load_to_carry_n`, the load that a span must carry.

    None without a load to carry.
    """
    return load_at_break_n / load_to_carry_n if are_positive(load_to_carry_n) else None


def find_load_per_own_mass(mass_carried_kg: float, own_mass_kg: float) -> float | None:
    """Return `mass_carried_kg` over the span's `own_mass_kg`; None without an own mass."""
    return mass_carried_kg / own_mass_kg if are_positive(own_mass_kg) else None


def find_mean_speed_m_s(distance_m: float, time_s: float) -> float | None:
    """Return the mean speed of a cart over `distance_m` in `time_s`; None without a time."""
    return distance_m / time_s if are_positive(time_s) else None


def find_friction_n(mass_kg: float, speed_m_s: float, coasted_m: float) -> float | None:
    """Return the mean friction that stops a cart: its energy over `coasted_m`, the way it coasts.

    None without such a way.
    """
    if not are_positive(mass_kg, speed_m_s, coasted_m):
        return None
    return find_kinetic_energy_j(mass_kg, speed_m_s) / coasted_m


def find_friction_work_j(friction_n: float, distance_m: float) -> float:
    """Return the work done against `friction_n` along `distance_m`."""
    return friction_n * distance_m
