"""A launch: force, stretch, masses and tilt in, bounds for energy, speed and range out."""

from __future__ import annotations

from math import pi

from journal.analysis.drag import find_drag_flight, find_terminal_speed_m_s
from journal.analysis.physics import (
    find_drop_m,
    find_flight,
    find_greatest_speed_m_s,
    find_height_m,
    find_least_speed_m_s,
    find_level_speed_m_s,
    find_speed_ratio,
    find_stretch_energy_j,
)
from journal.calculators.physics import Given
from journal.calculators.quantities import Figure
from journal.domain.messages import Message
from journal.domain.numbers import show_quantity


def work_out_launch(given: Given) -> tuple[Figure, ...]:
    """Return energy, speed, range and, where width and drag are known, the range through air."""
    energy = find_stretch_energy_j(given["force_n"], given["stretch_mm"] / 1000)
    mass, moving = given["mass_g"] / 1000, given.get("moving_g", 0.0) / 1000
    speed = find_greatest_speed_m_s(energy, mass, moving)
    figures = [
        Figure(
            label=Message("launch_figures.energy_in_the_band"),
            value=f"{show_quantity(energy)} J",
            note=Message("launch_figures.half_of_force_times_stretch"),
        )
    ]
    if speed is None:
        return tuple(figures)
    figures.append(
        Figure(
            label=Message("launch_figures.speed_of_the_dart"),
            value=f"{show_quantity(speed)} m/s",
            note=Message("launch_figures.as_if_all_of_the_energy_went_into"),
        )
    )
    figures += _with_paint(given, speed, mass, moving)
    if "angle_deg" in given:
        figures += _in_flight(given, speed, mass)
    if "distance_mm" in given:
        figures += _at_panel(given, speed)
    return tuple(figures)


def _with_paint(given: Given, speed: float, mass: float, moving: float) -> list[Figure]:
    ratio = find_speed_ratio(mass, mass + given.get("paint_g", 0.0) / 1000, moving)
    if ratio is None or not given.get("paint_g"):
        return []
    return [
        Figure(
            label=Message("launch_figures.same_with_paint", paint_g=given["paint_g"]),
            value=f"{show_quantity(speed * ratio)} m/s",
            note=Message("launch_figures.slower", share=show_quantity(100 * (1 - ratio))),
        )
    ]


def _in_flight(given: Given, speed: float, mass: float) -> list[Figure]:
    landing = given.get("landing_mm", 0.0) / 1000
    angle = given["angle_deg"]
    flight = find_flight(speed, angle, landing)
    if flight is None:
        return [
            Figure(
                label=Message("launch_figures.range"),
                value=Message("launch_figures.none"),
                note=Message("launch_figures.it_never_gets_as_high_as_the_landing"),
            )
        ]
    figures = [
        Figure(
            label=Message("launch_figures.range_without_air"),
            value=f"{show_quantity(flight.range_m)} m",
        ),
        Figure(
            label=Message("launch_figures.time_in_flight_without_air"),
            value=f"{show_quantity(flight.time_s)} s",
        ),
        Figure(
            label=Message("launch_figures.highest_point_above_the_launch"),
            value=f"{show_quantity(flight.highest_m)} m",
            note=Message("launch_figures.along", distance=show_quantity(flight.highest_at_m)),
        ),
    ]
    if "width_mm" not in given or "drag_coefficient" not in given:
        return figures
    area = pi * (given["width_mm"] / 2000) ** 2
    terminal = find_terminal_speed_m_s(mass, area, given["drag_coefficient"])
    through_air = None if terminal is None else find_drag_flight(speed, angle, terminal, landing)
    if through_air is not None:
        figures.append(
            Figure(
                label=Message("launch_figures.range_through_air"),
                value=f"{show_quantity(through_air.range_m)} m",
                note=Message(
                    "launch_figures.it_lands_at",
                    speed=show_quantity(through_air.landing_speed_m_s),
                    angle=show_quantity(through_air.landing_angle_deg),
                ),
            )
        )
    return figures


def _at_panel(given: Given, speed: float) -> list[Figure]:
    distance = given["distance_mm"] / 1000
    least = find_least_speed_m_s(distance, -given.get("landing_mm", 0.0) / 1000)
    figures = [
        Figure(
            label=Message(
                "launch_figures.least_speed_that_reaches", distance=show_quantity(distance)
            ),
            value=f"{show_quantity(least)} m/s",
            note=Message("launch_figures.band_can_give_less")
            if speed < least
            else Message("launch_figures.band_can_give_more"),
        )
    ]
    if "angle_deg" in given:
        angle = given["angle_deg"]
        height = find_height_m(speed, angle, distance)
        figures.append(
            Figure(
                label=Message(
                    "launch_figures.drop_below_the_straight_line", distance=show_quantity(distance)
                ),
                value=f"{show_quantity(find_drop_m(speed, angle, distance))} m",
                note=Message("launch_figures.above_the_launch", height=show_quantity(height))
                if height >= 0
                else Message("launch_figures.below_the_launch", height=show_quantity(-height)),
            )
        )
        figures += _at_tilt(given, distance)
    return figures


def _at_tilt(given: Given, distance: float) -> list[Figure]:
    """Return the speed that the tilt needs, where the landing is as high as the launch."""
    speed = find_level_speed_m_s(distance, given["angle_deg"])
    if speed is None or given.get("landing_mm"):
        return []
    return [
        Figure(
            label=Message(
                "launch_figures.speed_that_reaches_at_this_tilt", distance=show_quantity(distance)
            ),
            value=f"{show_quantity(speed)} m/s",
            note=Message("launch_figures.landing_as_high_as_the_launch"),
        )
    ]
