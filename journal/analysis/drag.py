"""Drag: fall and flight through air whose resistance grows with the square of the speed.

In: mass, area, drag coefficient and speeds in SI units. Out: terminal speed, speed of fall, and
a flight followed in small steps.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, expm1, hypot, log1p, radians, sin, sqrt, tanh

from journal.analysis.physics import GRAVITY_M_S2, are_positive

#: Air near the ground, as textbook examples take it.
AIR_KG_M3 = 1.21
#: A flight is followed for no longer than this, nor for more steps.
_LONGEST_S = 60.0
_MOST_STEPS = 100_000
_LONGEST_STEP_S = 0.002
#: A step is this share of the time in which drag would stop the projectile.
_STEP_SHARE = 0.05

State = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class DragFlight:
    """A flight through air down to the height it is followed to."""

    time_s: float
    range_m: float
    highest_m: float
    landing_speed_m_s: float
    #: Below the level: how steeply it comes down.
    landing_angle_deg: float


def find_terminal_speed_m_s(
    mass_kg: float, area_m2: float, drag_coefficient: float, air_kg_m3: float = AIR_KG_M3
) -> float | None:
    """Return the speed at which drag carries the whole weight.

    `area_m2` is the cross-section, `drag_coefficient` has no unit, `air_kg_m3` is the density of
    air. None unless all are above 0.
    """
    if not are_positive(mass_kg, area_m2, drag_coefficient, air_kg_m3):
        return None
    return sqrt(2.0 * mass_kg * GRAVITY_M_S2 / (air_kg_m3 * drag_coefficient * area_m2))


def find_fall_speed_m_s(terminal_m_s: float, time_s: float) -> float | None:
    """Return the speed after falling from rest for `time_s`; `terminal_m_s` is the terminal speed.

    None without a terminal speed.
    """
    if not are_positive(terminal_m_s):
        return None
    return terminal_m_s * tanh(GRAVITY_M_S2 * time_s / terminal_m_s)


def find_fall_time_s(terminal_m_s: float, fall_m: float) -> float | None:
    """Return how long a fall of `fall_m` from rest takes; `terminal_m_s` is the terminal speed.

    The height at a time, solved for the time: vt / g acosh(exp(g h / vt^2)). None unless both are
    above 0.
    """
    if not are_positive(terminal_m_s, fall_m):
        return None
    grown = GRAVITY_M_S2 * fall_m / (terminal_m_s * terminal_m_s)
    # acosh(exp(x)) without the exponential, which overflows for long falls.
    reach = grown + log1p(sqrt(-expm1(-2.0 * grown)))
    return terminal_m_s / GRAVITY_M_S2 * reach


def find_drag_flight(
    speed_m_s: float, angle_deg: float, terminal_m_s: float, landing_height_m: float = 0.0
) -> DragFlight | None:
    """Follow a flight through air until it comes down to a height.

    `angle_deg` is above the level, `terminal_m_s` the terminal speed, `landing_height_m` relative
    to the launch. Runge-Kutta of fourth order, with short steps while drag is strong. None where it
    never gets that high, or is not down in a minute.
    """
    if not are_positive(speed_m_s, terminal_m_s):
        return None
    state: State = (
        0.0,
        0.0,
        speed_m_s * cos(radians(angle_deg)),
        speed_m_s * sin(radians(angle_deg)),
    )
    time_s = highest_m = 0.0
    for _ in range(_MOST_STEPS):
        step_s = _find_step_s(state, terminal_m_s)
        after = _advance(state, step_s, terminal_m_s)
        highest_m = max(highest_m, after[1], _find_top_m(state, after, step_s))
        if after[3] < 0.0 and after[1] <= landing_height_m:
            if highest_m < landing_height_m:
                return None
            return _land(state, time_s, step_s, terminal_m_s, landing_height_m, highest_m)
        state = after
        time_s += step_s
        if time_s > _LONGEST_S:
            break
    return None


def _find_top_m(state: State, after: State, step_s: float) -> float:
    """Return the height where a climb ends within a step, else the height at its start."""
    if not state[3] > 0.0 >= after[3]:
        return state[1]
    slowing = (state[3] - after[3]) / step_s
    return state[1] + state[3] * state[3] / (2.0 * slowing)


def _find_step_s(state: State, terminal_m_s: float) -> float:
    speed = max(terminal_m_s, hypot(state[2], state[3]))
    stopping_s = terminal_m_s * terminal_m_s / (GRAVITY_M_S2 * speed)
    return min(_LONGEST_STEP_S, _STEP_SHARE * stopping_s)


def _land(
    state: State,
    time_s: float,
    step_s: float,
    terminal_m_s: float,
    landing_height_m: float,
    highest_m: float,
) -> DragFlight:
    """Halve the last step until it ends at the landing height."""
    low, high = 0.0, step_s
    for _ in range(60):
        middle = (low + high) / 2.0
        at = _advance(state, middle, terminal_m_s)
        if at[1] <= landing_height_m and at[3] < 0.0:
            high = middle
        else:
            low = middle
    x, _, across, up = _advance(state, high, terminal_m_s)
    return DragFlight(
        time_s=time_s + high,
        range_m=x,
        highest_m=highest_m,
        landing_speed_m_s=hypot(across, up),
        landing_angle_deg=degrees(atan2(-up, across)),
    )


def _advance(state: State, step_s: float, terminal_m_s: float) -> State:
    first = _change(state, terminal_m_s)
    second = _change(_add(state, first, step_s / 2.0), terminal_m_s)
    third = _change(_add(state, second, step_s / 2.0), terminal_m_s)
    fourth = _change(_add(state, third, step_s), terminal_m_s)
    mean = (
        (a + 2.0 * b + 2.0 * c + d) / 6.0
        for a, b, c, d in zip(first, second, third, fourth, strict=True)
    )
    x, y, across, up = mean
    return _add(state, (x, y, across, up), step_s)


def _change(state: State, terminal_m_s: float) -> State:
    _, _, across, up = state
    pull = GRAVITY_M_S2 * hypot(across, up) / (terminal_m_s * terminal_m_s)
    return (across, up, -pull * across, -GRAVITY_M_S2 - pull * up)


def _add(state: State, change: State, step_s: float) -> State:
    x, y, across, up = (a + step_s * b for a, b in zip(state, change, strict=True))
    return (x, y, across, up)
