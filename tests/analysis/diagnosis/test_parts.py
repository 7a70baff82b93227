"""The pieces of the diagnosis against general libraries and textbook sums."""

from math import pi

import numpy as np
import pytest
from scipy import integrate, special, stats

from journal.analysis.diagnosis.causes import (
    PULL,
    Cause,
    chance_of_misfires,
    chance_of_set,
    direction_density,
    scatters,
    wide_scatters,
)
from journal.analysis.diagnosis.cells import CellFrame, table_of
from journal.analysis.diagnosis.frame import between, chances_between, frame_of_side, row_of
from journal.analysis.diagnosis.rings import find_ring_density, scaled_bessel
from journal.analysis.diagnosis.spots import offset_spots, usual_spots
from journal.analysis.diagnosis.students import spread_hits
from journal.analysis.diagnosis.sums import Carriers, multiply
from journal.analysis.diagnosis.trials import MeasuredTrial, plain_zones


@pytest.mark.parametrize("x", [0.0, 0.5, 3.7, 3.8, 20.0, 500.0])
def test_the_bessel_function_is_that_of_scipy(x: float) -> None:
    """Abramowitz & Stegun 9.8.1 and 9.8.2 give exp(-x) I0(x) to 2e-7."""
    assert pytest.approx(special.ive(0, x), abs=3e-7) == scaled_bessel(x)


def test_the_ring_is_a_density() -> None:
    """Its integral over the plane is 1, and it agrees with a sum over its definition."""
    variance = 0.3
    table = find_ring_density(variance)
    at = np.arange(len(table)) / 10
    assert pytest.approx(1.0, abs=0.005) == integrate.trapezoid(np.array(table) * 2 * pi * at, at)

    def density(size: float, turn: float) -> float:
        away = (1.7 - size * np.cos(turn)) ** 2 + (size * np.sin(turn)) ** 2
        return float(np.exp(-away / (2 * variance)) / (2 * pi * variance) / (2 * pi))

    inside, _ = integrate.dblquad(density, -pi, pi, PULL[0], PULL[1])
    # The table's variances differ by up to 4 in 100 from the one asked for.
    assert pytest.approx(inside, rel=0.05) == table[17]


def test_chances_between_are_normal() -> None:
    """As scipy has them, and the table keeps to them within its steps."""
    expected = stats.norm.cdf(3, 1.2, 0.9) - stats.norm.cdf(-3, 1.2, 0.9)
    assert pytest.approx(expected, abs=1e-12) == between(-3, 3, 1.2, 0.9)
    row = chances_between(-3.0, 3.0)[row_of(0.81)]
    assert pytest.approx(expected, abs=0.01) == row[200 + 12]


def test_weights_add_up_to_one() -> None:
    """Every set of points is a distribution."""
    for points in (scatters(3), scatters(4), wide_scatters(3)):
        assert pytest.approx(1.0) == sum(weight for _, weight in points)
    for spots in (usual_spots(), *offset_spots()):
        assert pytest.approx(1.0, abs=1e-5) == sum(weight for _, _, weight in spots)
    turns, _ = integrate.quad(direction_density, -pi, pi, points=[-3 * pi / 4, -pi / 4])
    assert pytest.approx(1.0) == turns


def test_sets_of_causes_add_up_to_one() -> None:
    """Nothing, each alone, and any two; with exchanged parts as well."""
    known = [cause for cause in Cause if cause is not Cause.OWN_PART]
    for causes, exchanged in ((known, False), (list(Cause), True)):
        pairs = {frozenset({a, b}) for a in causes for b in causes}
        total = sum(chance_of_set(pair, exchanged=exchanged) for pair in {frozenset(), *pairs})
        assert pytest.approx(1.0) == total


def test_misfires_follow_the_beta_integral() -> None:
    """A rate even between .25 and .5 (incomplete beta function, scipy)."""
    count, n = 5, 12
    beta = special.beta(count + 1, n - count + 1)
    part = special.betainc(count + 1, n - count + 1, [0.25, 0.5])
    expected = (part[1] - part[0]) * beta / 0.25
    assert pytest.approx(expected, rel=1e-3) == chance_of_misfires(count, n, mechanism=True)
    assert pytest.approx(0.03 * 0.97**3) == chance_of_misfires(1, 4, mechanism=False)


def test_one_or_two_of_poor_use_are_equally_likely() -> None:
    """Written out for three students."""
    units = [(0.5, 0.1), (0.2, 0.3), (0.7, 0.4)]
    alone = Carriers(cause=Cause.USE, units=((0,), (1,), (2,)))
    one = (0.1 * 0.2 * 0.7 + 0.5 * 0.3 * 0.7 + 0.5 * 0.2 * 0.4) / 3
    two = (0.1 * 0.3 * 0.7 + 0.1 * 0.2 * 0.4 + 0.5 * 0.3 * 0.4) / 3
    assert pytest.approx([0.5 * 0.2 * 0.7, (one + two) / 2]) == multiply(units, [alone])
    together = Carriers(cause=Cause.OWN_PART, units=((0, 1), (2,)))
    expected = (0.1 * 0.3 * 0.7 + 0.5 * 0.2 * 0.4) / 2 / 2 + 0.1 * 0.3 * 0.4 / 2
    assert pytest.approx(expected) == multiply(units, [together])[1]


def test_cells_of_squares_hold_what_draws_put_there() -> None:
    """Seeded draws about a centre fall into the squares as often as the table says."""
    frame = CellFrame(-3.0, 3.0, -3.0, 3.0, (0.6, 1.2, 2.0), rings=False)
    row = table_of(frame).find_row(5, -8, 0)
    rng = np.random.default_rng(3)
    draws = rng.normal([0.5, -0.8], size=(200_000, 2))
    far = abs(draws).max(axis=1)
    counts = np.bincount(np.searchsorted([0.6, 1.2, 2.0, 3.0], far), minlength=5) / len(draws)
    # Two in a hundred go astray in the table.
    assert pytest.approx(counts, abs=0.02) == np.array(row)
    assert pytest.approx(1.0, abs=1e-6) == sum(row)


def test_cells_of_rings_follow_rice() -> None:
    """Rice's distribution in scipy, where the panel is far larger than the scatter."""
    ends = tuple(0.15 * (at + 1) for at in range(28))
    row = table_of(CellFrame(-9.0, 9.0, -9.0, 9.0, ends, rings=True)).find_row(6, 8, 0)
    edges = stats.rice.cdf([0.0, *ends], 1.0)
    assert pytest.approx(np.diff(edges), abs=0.006) == np.array(row[:28])


def test_a_students_scatter_has_no_bias() -> None:
    """Rayleigh: the mean over seeded samples of five is the true one; offset is the centroid's."""
    rng = np.random.default_rng(5)
    frame = frame_of_side(60_000.0)
    found = []
    for hits in rng.normal(size=(3000, 5, 2)):
        trials = [_trial((float(x), float(y))) for x, y in hits]
        found.append((spread_hits(trials, frame).scatter_mm or 0) / frame.unit_mm)
    assert pytest.approx(1.0, abs=0.015) == float(np.mean(found))


def test_hits_beyond_the_panel_are_not_dropped() -> None:
    """Hits of which a third lie beyond: middle and scatter that they were drawn with come back."""
    rng = np.random.default_rng(11)
    hits = rng.normal(size=(400, 2)) * 1.2 + np.array([2.2, -1.0])
    frame = frame_of_side(600.0)
    trials = [_trial((float(x), float(y)) if max(abs(x), abs(y)) <= 3 else None) for x, y in hits]
    found = spread_hits(trials, frame)
    assert 0.2 < sum(trial.beyond for trial in trials) / len(trials) < 0.45
    assert pytest.approx(220, abs=12) == found.x_mm
    assert pytest.approx(-100, abs=12) == found.y_mm
    assert pytest.approx(120, abs=12) == found.scatter_mm


def test_plain_zones_are_those_of_the_panel() -> None:
    """Squares of side 120, 240, 400, 600 mm worth 8, 4, 2, 1."""
    squares = plain_zones(frame_of_side(600.0)).squares
    assert [(60, 8), (120, 4), (200, 2), (300, 1)] == [(round(a), b) for a, b in squares]


def _trial(hit: tuple[float, float] | None) -> MeasuredTrial:
    return MeasuredTrial(
        student="Ash", own_part="", load=0.0, hit=hit, beyond=hit is None, value=None
    )
