"""Physics of a launch: energy, speed, range and flight as bounds and expectations.

In: quantities in SI units, with the unit in each name. Out: the same, or None where a quantity
that must be above 0 is not. Formulas without drag are bounds; with drag see `drag`. For grades 6-8
and the teacher.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, inf, isfinite, radians, sin, sqrt, tan

#: Standard acceleration of free fall (3rd General Conference on Weights and Measures, 1901).
GRAVITY_M_S2 = 9.80665


#: No quantity of a classroom is larger in SI units; beyond it squares and cubes lose their sense.
_LARGEST = 1e15


@dataclass(frozen=True, slots=True, kw_only=True)
class Flight:
    """A flight without drag; distances in m, times in s, speeds in m/s."""

    time_s: float
    range_m: float
    highest_m: float
    #: How far along the highest point lies.
    highest_at_m: float
    landing_speed_m_s: float


def find_stretch_energy_j(greatest_force_n: float, stretch_m: float) -> float:
    """Return the energy in a stretched band whose force grows in a straight line, J.

    `greatest_force_n` is the force at the full `stretch_m`.
    """
    return greatest_force_n * stretch_m / 2.0


def find_kinetic_energy_j(mass_kg: float, speed_m_s: float) -> float:
    """Return the energy of motion, J."""
    return mass_kg * speed_m_s * speed_m_s / 2.0


def find_greatest_speed_m_s(
    energy_j: float, mass_kg: float, moving_part_kg: float = 0.0
) -> float | None:
    """Return the speed if all of `energy_j` went into the projectile and what moves with it.

    `moving_part_kg` is the mass of that part. An upper bound: friction and the bands' own mass take
    their share. None unless energy and moved mass are positive.
    """
    whole_kg = mass_kg + moving_part_kg
    return sqrt(2.0 * energy_j / whole_kg) if are_positive(energy_j, whole_kg) else None


def find_speed_ratio(old_mass_kg: float, new_mass_kg: float, moving_part_kg: float) -> float | None:
    """Return new speed over old when only the projectile's mass changes, the energy being the same.

    Paint on a tip adds mass: `new_mass_kg` is then `old_mass_kg` and the paint. `moving_part_kg`
    moves with both. None unless both moved masses are positive.
    """
    old_kg, new_kg = old_mass_kg + moving_part_kg, new_mass_kg + moving_part_kg
    return sqrt(old_kg / new_kg) if are_positive(old_kg, new_kg) else None


def find_level_speed_m_s(
    range_m: float, angle_deg: float, *, gravity_m_s2: float = GRAVITY_M_S2
) -> float | None:
    """Return the launch speed for a level range of `range_m` without drag.

    `angle_deg` is above the level; `gravity_m_s2` is the acceleration of free fall. None at an
    angle without such a range.
    """
    doubled = sin(2.0 * radians(angle_deg))
    if not are_positive(doubled, range_m):
        return None
    return sqrt(gravity_m_s2 * range_m / doubled)


def find_least_speed_m_s(range_m: float, drop_m: float = 0.0) -> float:
    """Return the least launch speed that reaches a point `range_m` away and `drop_m` lower.

    Without drag, at the best angle.
    """
    reach = hypot(range_m, drop_m)
    return sqrt(max(0.0, GRAVITY_M_S2 * (reach - drop_m)))


def find_flight(speed_m_s: float, angle_deg: float, landing_height_m: float = 0.0) -> Flight | None:
    """Return the flight, without drag, until it comes down to a height.

    `angle_deg` is above the level, `landing_height_m` above (or, negative, below) the launch. None
    where the projectile never gets that high.
    """
    if not are_positive(speed_m_s) or not -_LARGEST < landing_height_m < _LARGEST:
        return None
    up = speed_m_s * sin(radians(angle_deg))
    along = speed_m_s * cos(radians(angle_deg))
    inside = up * up - 2.0 * GRAVITY_M_S2 * landing_height_m
    if inside < 0.0:
        return None
    time_s = (up + sqrt(inside)) / GRAVITY_M_S2
    rise_s = max(0.0, up / GRAVITY_M_S2)
    return Flight(
        time_s=time_s,
        range_m=along * time_s,
        highest_m=up * rise_s / 2.0,
        highest_at_m=along * rise_s,
        landing_speed_m_s=hypot(along, up - GRAVITY_M_S2 * time_s),
    )


def find_drop_m(speed_m_s: float, angle_deg: float, distance_m: float) -> float:
    """Return how far below the line of launch a projectile passes after `distance_m`, in m.

    `angle_deg` is above the level; the distance is measured along the level.
    """
    along = speed_m_s * cos(radians(angle_deg))
    return inf if along == 0.0 else GRAVITY_M_S2 * (distance_m / along) ** 2 / 2.0


def find_height_m(speed_m_s: float, angle_deg: float, distance_m: float) -> float:
    """Return the height above the launch after `distance_m` along the level, without drag, in m.

    `angle_deg` is above the level.
    """
    straight = distance_m * tan(radians(angle_deg))
    return straight - find_drop_m(speed_m_s, angle_deg, distance_m)


def are_positive(*quantities: float) -> bool:
    """Tell whether all quantities are finite, above 0, and of a size that can be worked with."""
    return all(isfinite(quantity) and 0.0 < quantity < _LARGEST for quantity in quantities)
