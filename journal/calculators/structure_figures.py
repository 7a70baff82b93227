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
from journal.domain.messages import Message
from journal.domain.numbers import show_quantity

#: Beyond this share of the span the formula for small bends no longer holds.
_LARGEST_BEND = 0.1


def work_out_span(given: Given) -> tuple[Figure, ...]:
    """Return the bend under a load in the middle, the factor of safety and load per own mass."""
    load = find_load_n(given["carry_g"] / 1000)
    span = given["span_mm"] / 1000
    inertia = find_rectangle_inertia_m4(given["width_mm"] / 1000, given["thickness_mm"] / 1000)
    bend = find_deflection_m(load, span, given["elasticity_gpa"] * 1e9, inertia)
    figures = [
        Figure(
            label=Message("structure_figures.load_in_the_middle"), value=f"{show_quantity(load)} N"
        )
    ]
    if bend is not None:
        is_large = bend > _LARGEST_BEND * span
        figures.append(
            Figure(
                label=Message("structure_figures.bend_in_the_middle"),
                value=f"{show_quantity(bend * 1000)} mm",
                note=Message("structure_figures.more_than_a_tenth_of_the_span")
                if is_large
                else Message("structure_figures.two_plain_supports"),
            )
        )
    if "broke_g" in given:
        factor = find_factor_of_safety(find_load_n(given["broke_g"] / 1000), load)
        if factor is not None:
            figures.append(
                Figure(
                    label=Message("structure_figures.factor_of_safety"),
                    value=show_quantity(factor),
                    note=Message("structure_figures.load_when_it_gave_way_over_load"),
                )
            )
        if "own_g" in given:
            times = find_load_per_own_mass(given["broke_g"] / 1000, given["own_g"] / 1000)
            if times is not None:
                figures.append(
                    Figure(
                        label=Message("structure_figures.held_in_its_own"),
                        value=Message("structure_figures.times", factor=show_quantity(times)),
                    )
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
            label=Message("structure_figures.time_of_the_fall_without_air"),
            value=f"{show_quantity(without_s)} s",
            note=Message(
                "structure_figures.it_lands_at_most", speed=show_quantity(GRAVITY_M_S2 * without_s)
            ),
        )
    ]
    time_s = None if terminal is None else find_fall_time_s(terminal, height)
    landing = None if terminal is None or time_s is None else find_fall_speed_m_s(terminal, time_s)
    if terminal is not None and time_s is not None and landing is not None:
        figures += [
            Figure(
                label=Message("structure_figures.steady_speed_through_air"),
                value=f"{show_quantity(terminal)} m/s",
            ),
            Figure(
                label=Message("structure_figures.time_of_the_fall_through_air"),
                value=f"{show_quantity(time_s)} s",
                note=Message("structure_figures.it_lands_at", speed=show_quantity(landing)),
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
        Figure(label=Message("structure_figures.mean_speed"), value=f"{show_quantity(speed)} m/s"),
        Figure(
            label=Message("structure_figures.energy_of_motion_at_that_speed"),
            value=f"{show_quantity(energy)} J",
        ),
    ]
    if "coasted_mm" in given:
        friction = find_friction_n(mass, speed, given["coasted_mm"] / 1000)
        if friction is not None:
            work = find_friction_work_j(friction, distance)
            figures += [
                Figure(
                    label=Message("structure_figures.friction_while_it_coasts"),
                    value=f"{show_quantity(friction)} N",
                    note=Message("structure_figures.all_of_that_energy_spent_along_the_way"),
                ),
                Figure(
                    label=Message("structure_figures.work_against_friction_on_the_measured_way"),
                    value=f"{show_quantity(work)} J",
                    note=Message("structure_figures.if_the_friction_is_the_same_there"),
                ),
            ]
    return tuple(figures)
