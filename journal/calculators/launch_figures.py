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
from journal.domain.numbers import show_number, show_quantity


def work_out_launch(given: Given) -> tuple[Figure, ...]:
    """Return energy, speed, range and, where width and drag are known, the range through air."""
    energy = find_stretch_energy_j(given["force_n"], given["stretch_mm"] / 1000)
    mass, moving = given["mass_g"] / 1000, given.get("moving_g", 0.0) / 1000
    speed = find_greatest_speed_m_s(energy, mass, moving)
    figures = [
        Figure(
            label="Energy in the band, at most",
            value=f"{show_quantity(energy)} J",
            note="half of force times stretch: the force grows in a straight line",
        )
    ]
    if speed is None:
        return tuple(figures)
    figures.append(
        Figure(
            label="Speed of the dart, at most",
            value=f"{show_quantity(speed)} m/s",
            note="as if all of the energy went into the dart and the part that moves with it",
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
            label=f"The same with {show_number(given['paint_g'])} g of paint",
            value=f"{show_quantity(speed * ratio)} m/s",
            note=f"{show_quantity(100 * (1 - ratio))} in 100 slower, with the same energy",
        )
    ]


def _in_flight(given: Given, speed: float, mass: float) -> list[Figure]:
    landing = given.get("landing_mm", 0.0) / 1000
    angle = given["angle_deg"]
    flight = find_flight(speed, angle, landing)
    if flight is None:
        return [Figure(label="Range", value="none", note="it never gets as high as the landing")]
    figures = [
        Figure(label="Range without air, at most", value=f"{show_quantity(flight.range_m)} m"),
        Figure(label="Time in flight without air", value=f"{show_quantity(flight.time_s)} s"),
        Figure(
            label="Highest point above the launch, at most",
            value=f"{show_quantity(flight.highest_m)} m",
            note=f"{show_quantity(flight.highest_at_m)} m along",
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
                label="Range through air, at most",
                value=f"{show_quantity(through_air.range_m)} m",
                note=f"it lands at {show_quantity(through_air.landing_speed_m_s)} m/s, "
                f"{show_quantity(through_air.landing_angle_deg)} degrees below level",
            )
        )
    return figures


def _at_panel(given: Given, speed: float) -> list[Figure]:
    distance = given["distance_mm"] / 1000
    least = find_least_speed_m_s(distance, -given.get("landing_mm", 0.0) / 1000)
    gives = "less" if speed < least else "more"
    figures = [
        Figure(
            label=f"Least speed that reaches {show_quantity(distance)} m",
            value=f"{show_quantity(least)} m/s",
            note=f"at the best tilt, without air; the band can give {gives}, at most",
        )
    ]
    if "angle_deg" in given:
        angle = given["angle_deg"]
        height = find_height_m(speed, angle, distance)
        figures.append(
            Figure(
                label=f"Drop below the straight line at {show_quantity(distance)} m, at least",
                value=f"{show_quantity(find_drop_m(speed, angle, distance))} m",
                note=f"at the speed above it is {show_quantity(abs(height))} m "
                f"{'above' if height >= 0 else 'below'} the launch",
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
            label=f"Speed that reaches {show_quantity(distance)} m at this tilt, at least",
            value=f"{show_quantity(speed)} m/s",
            note="landing as high as the launch; air asks for more",
        )
    ]
