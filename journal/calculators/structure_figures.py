"""A span under load, a fall through air, a cart that coasts: what to expect of each."""

from __future__ import annotations

from math import pi, sqrt

from journal.analysis.drag import (
    find_fall_speed_m_s,
    find_fall_time_s,
    find_terminal_speed_m_s,
)
from journal.analysis.physics import GRAVITY_M_S2, find_kinetic_energy_j
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
from journal.calculators.physics import Given
from journal.calculators.quantities import Figure
from journal.domain.numbers import show_quantity

#: Beyond this share of the span the formula for small bends no longer holds.
_LARGEST_BEND = 0.1


def work_out_span(given: Given) -> tuple[Figure, ...]:
    """Return the bend under a load in the middle, the factor of safety and load per own mass."""
    load = find_load_n(given["carry_g"] / 1000)
    span = given["span_mm"] / 1000
    inertia = find_rectangle_inertia_m4(given["width_mm"] / 1000, given["thickness_mm"] / 1000)
    bend = find_deflection_m(load, span, given["elasticity_gpa"] * 1e9, inertia)
    figures = [Figure(label="Load in the middle", value=f"{show_quantity(load)} N")]
    if bend is not None:
        is_large = bend > _LARGEST_BEND * span
        figures.append(
            Figure(
                label="Bend in the middle, expected",
                value=f"{show_quantity(bend * 1000)} mm",
                note="more than a tenth of the span: the formula is for small bends only"
                if is_large
                else "two plain supports: F L³ / 48 E I",
            )
        )
    if "broke_g" in given:
        factor = find_factor_of_safety(find_load_n(given["broke_g"] / 1000), load)
        if factor is not None:
            figures.append(
                Figure(
                    label="Factor of safety",
                    value=show_quantity(factor),
                    note="load when it gave way over load to carry",
                )
            )
        if "own_g" in given:
            times = find_load_per_own_mass(given["broke_g"] / 1000, given["own_g"] / 1000)
            if times is not None:
                figures.append(
                    Figure(label="Held, in its own masses", value=f"{show_quantity(times)} times")
                )
    return tuple(figures)


def work_out_fall(given: Given) -> tuple[Figure, ...]:
    """Return the steady speed of a fall, and time and speed of a fall from a height."""
    area = pi * (given["width_mm"] / 2000) ** 2
    height = given["height_mm"] / 1000
    terminal = find_terminal_speed_m_s(given["mass_g"] / 1000, area, given["drag_coefficient"])
    without_s = sqrt(2 * height / GRAVITY_M_S2)
    figures = [
        Figure(
            label="Time of the fall without air, at least",
            value=f"{show_quantity(without_s)} s",
            note=f"it lands at {show_quantity(GRAVITY_M_S2 * without_s)} m/s, at most",
        )
    ]
    time_s = None if terminal is None else find_fall_time_s(terminal, height)
    landing = None if terminal is None or time_s is None else find_fall_speed_m_s(terminal, time_s)
    if terminal is not None and time_s is not None and landing is not None:
        figures += [
            Figure(
                label="Steady speed through air, expected", value=f"{show_quantity(terminal)} m/s"
            ),
            Figure(
                label="Time of the fall through air, expected",
                value=f"{show_quantity(time_s)} s",
                note=f"it lands at {show_quantity(landing)} m/s",
            ),
        ]
    return tuple(figures)


def work_out_cart(given: Given) -> tuple[Figure, ...]:
    """Return mean speed, energy of motion and, from the way it coasts, friction and its work."""
    mass = given["mass_g"] / 1000
    distance = given["distance_mm"] / 1000
    speed = find_mean_speed_m_s(distance, given["time_s"])
    if speed is None:
        return ()
    energy = find_kinetic_energy_j(mass, speed)
    figures = [
        Figure(label="Mean speed", value=f"{show_quantity(speed)} m/s"),
        Figure(label="Energy of motion at that speed", value=f"{show_quantity(energy)} J"),
    ]
    if "coasted_mm" in given:
        friction = find_friction_n(mass, speed, given["coasted_mm"] / 1000)
        if friction is not None:
            work = find_friction_work_j(friction, distance)
            figures += [
                Figure(
                    label="Friction while it coasts, mean",
                    value=f"{show_quantity(friction)} N",
                    note="all of that energy spent along the way it coasts",
                ),
                Figure(
                    label="Work against friction on the measured way, expected",
                    value=f"{show_quantity(work)} J",
                    note="if the friction is the same there",
                ),
            ]
    return tuple(figures)
