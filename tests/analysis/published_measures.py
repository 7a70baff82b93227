"""Callables for the published checks of spread, variance parts, agreement, physics and energy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import sqrt
from typing import Any

from journal.analysis.agreement import (
    Weighting,
    agree_in_table,
    band_of,
    find_kappa,
    find_weighted_kappa,
)
from journal.analysis.distributions import chi_square_quantile
from journal.analysis.drag import find_terminal_speed_m_s
from journal.analysis.hotelling import compare_centre
from journal.analysis.intraclass import correlate_ratings
from journal.analysis.mean_squares import Source, split_one_way, split_two_way
from journal.analysis.physics import (
    find_flight,
    find_kinetic_energy_j,
    find_least_speed_m_s,
    find_level_speed_m_s,
    find_speed_ratio,
    find_stretch_energy_j,
)
from journal.analysis.room_limits import M2_PER_FT2, report_room
from journal.analysis.safety import (
    Launch,
    TipKind,
    find_least_contact_mm,
    fits_small_parts_cylinder,
    is_small_part,
    report_launch,
)
from journal.analysis.spread import (
    HALF_RADIUS_PER_SIGMA,
    WIDE_RADIUS_PER_SIGMA,
    mean_root_factor,
    spread_of,
)
from journal.content.safety_limits import read_safety_limits
from journal.domain.classes import GradeBand

LIMITS = read_safety_limits()


def relative_variance(hits: int) -> float:
    """Return the variance of the unbiased scatter of this many hits over its squared mean."""
    return 1.0 / mean_root_factor(2 * hits - 1) ** 2 - 1.0


def scatter_quantile(hits: int, probability: float) -> float:
    """Return a quantile of the unbiased scatter in units of the true one."""
    freedom = 2 * (hits - 1)
    root = sqrt(chi_square_quantile(probability, freedom) / freedom)
    return root / mean_root_factor(freedom + 1)


def offset_test(hits: Sequence[Sequence[float]], aim: Sequence[float]) -> Any:
    """Return the spread of hits about an aim point elsewhere than at the origin."""
    return spread_of([(x - aim[0], y - aim[1]) for x, y in hits])


def f_of_squares(above: float, above_freedom: int, below: float, below_freedom: int) -> float:
    """Return F of two sums of squares."""
    source = Source(squares=above, freedom=above_freedom)
    return source.f_against(Source(squares=below, freedom=below_freedom))


def two_way_lines(table: Sequence[Sequence[Sequence[float]]]) -> dict[str, float]:
    """Return a two-way table's lines under flat names."""
    split = split_two_way(table)
    return {
        "row_squares": split.row.squares,
        "row_mean_square": split.row.mean_square,
        "column_squares": split.column.squares,
        "row_variance": split.row_variance,
        "column_variance": split.column_variance,
        "interaction_variance": split.interaction_variance or 0.0,
        "repeat_variance": split.repeat_variance,
    }


def one_way_lines(groups: Sequence[Sequence[float]]) -> dict[str, float]:
    """Return F of groups and the sd inside them."""
    split = split_one_way(groups)
    return {
        "f_value": split.between.f_against(split.within),
        "residual_sd": sqrt(split.within.mean_square),
    }


def nested_lines(table: Sequence[Sequence[Sequence[float]]]) -> dict[str, float]:
    """Return a nested table's lines: two one-way splits, of outer groups and of their cells."""
    outer = split_one_way([[value for cell in row for value in cell] for row in table]).between
    cells = split_one_way([cell for row in table for cell in row])
    inner = Source(
        squares=cells.between.squares - outer.squares,
        freedom=cells.between.freedom - outer.freedom,
    )
    repeats = len(table[0][0])
    return {
        "outer_squares": outer.squares,
        "inner_squares": inner.squares,
        "repeat_squares": cells.within.squares,
        "inner_variance": (inner.mean_square - cells.within.mean_square) / repeats,
        "outer_p_value": outer.p_against(inner),
    }


def kappa(table: Sequence[Sequence[float]], weighting: str = "plain") -> float | None:
    """Return one kappa of a table."""
    return find_kappa(table, Weighting(weighting))


def kappa_of_runs(
    first: Sequence[int], second: Sequence[int], weighting: str = "plain"
) -> float | None:
    """Return kappa of two lists of levels given as runs of 0s, 1s, 2s and so on."""
    labels = [
        [level for level, run in enumerate(runs) for _ in range(run)] for runs in (first, second)
    ]
    size = range(len(first))
    pairs = list(zip(*labels, strict=True))
    return find_kappa([[pairs.count((i, j)) for j in size] for i in size], Weighting(weighting))


def launch_codes(**facts: Any) -> list[str]:
    """Return the codes raised by a launch; its tip is given by name."""
    tip = TipKind(facts.pop("tip")) if "tip" in facts else None
    return [code.value for code in report_launch(Launch(tip=tip, **facts), LIMITS).codes]


def launch_energy(**facts: Any) -> Any:
    """Return the report of a launch."""
    return report_launch(Launch(**facts), LIMITS)


def speed_at_limit(mass_g: float, energy_j: float) -> float:
    """Return the speed at which a mass carries an energy."""
    return sqrt(2.0 * energy_j / (mass_g / 1000.0))


def range_at_limit(mass_g: float, energy_j: float) -> float:
    """Return the level range, in m, at which the least energy is `energy_j`, by halving."""
    low, high = 0.0, 1000.0
    for _ in range(100):
        middle = (low + high) / 2.0
        speed = find_least_speed_m_s(middle)
        if find_kinetic_energy_j(mass_g / 1000.0, speed) < energy_j:
            low = middle
        else:
            high = middle
    return high


def small_ball(diameter_mm: float) -> dict[str, bool]:
    """Return whether a ball fits the cylinder, and whether it is a small part."""
    ball = Launch(width_mm=diameter_mm, ball=True)
    return {
        "fits_cylinder": fits_small_parts_cylinder(diameter_mm, None, LIMITS),
        "small_part": is_small_part(ball, LIMITS),
    }


def room(students: int, teachers: int, band: str) -> Any:
    """Return the report of a room."""
    return report_room(students=students, teachers=teachers, band=GradeBand(band), limits=LIMITS)


MEASURES: dict[str, Callable[..., Any]] = {
    "mean_root_factor": mean_root_factor,
    "relative_variance": relative_variance,
    "scatter_quantile": scatter_quantile,
    "ratio_of_radii": lambda: WIDE_RADIUS_PER_SIGMA / HALF_RADIUS_PER_SIGMA,
    "half_radius_per_sigma": lambda: HALF_RADIUS_PER_SIGMA,
    "wide_radius_per_sigma": lambda: WIDE_RADIUS_PER_SIGMA,
    "offset_test": offset_test,
    "compare_centre": compare_centre,
    "one_way": one_way_lines,
    "nested": nested_lines,
    "two_way": two_way_lines,
    "f_of_squares": f_of_squares,
    "intraclass": correlate_ratings,
    "kappa": kappa,
    "kappa_of_runs": kappa_of_runs,
    "weighted_kappa": find_weighted_kappa,
    "agreement": agree_in_table,
    "agreement_band": lambda kappa: band_of(kappa).value,
    "stretch_energy": find_stretch_energy_j,
    "kinetic_energy": find_kinetic_energy_j,
    "speed_ratio": find_speed_ratio,
    "level_speed": find_level_speed_m_s,
    "least_speed": find_least_speed_m_s,
    "flight": find_flight,
    "terminal_speed": find_terminal_speed_m_s,
    "launch_codes": launch_codes,
    "launch": launch_energy,
    "speed_at_limit": speed_at_limit,
    "range_at_limit": range_at_limit,
    "least_contact": lambda energy_j: find_least_contact_mm(energy_j, LIMITS),
    "small_ball": small_ball,
    "room": room,
    "m2_of_ft2": lambda ft2: ft2 * M2_PER_FT2,
}
