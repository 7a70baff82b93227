"""The pieces of the diagnosis against general libraries and textbook sums."""

import numpy as np
import pytest
from scipy import special, stats

from journal.analysis.diagnosis.blocks import _log_hits
from journal.analysis.diagnosis.causes import Cause, chance_of_misfires, chances_of_sets
from journal.analysis.diagnosis.cells import CellFrame, table_of
from journal.analysis.diagnosis.chances import cell_chances
from journal.analysis.diagnosis.frame import (
    _LOG_STEP,
    _LOWEST_LOG,
    between,
    chances_between,
    frame_of_side,
)
from journal.analysis.diagnosis.grid import (
    CALMER,
    FINE_HALF,
    FINE_STEP,
    HALF,
    SCALES,
    STEP,
    USUAL,
    offsets,
    pulls,
    scatter_weights,
)
from journal.analysis.diagnosis.rings import scaled_bessel
from journal.analysis.diagnosis.students import spread_hits
from journal.analysis.diagnosis.trials import MeasuredTrial, plain_zones


@pytest.mark.parametrize("x", [0.0, 0.5, 3.7, 3.8, 20.0, 500.0])
def test_the_bessel_function_is_that_of_scipy(x: float) -> None:
    """Abramowitz & Stegun 9.8.1 and 9.8.2 give exp(-x) I0(x) to 2e-7."""
    assert pytest.approx(special.ive(0, x), abs=3e-7) == scaled_bessel(x)


def test_chances_between_are_normal() -> None:
    """As scipy has them, in each row of the table too."""
    expected = stats.norm.cdf(3, 1.2, 0.9) - stats.norm.cdf(-3, 1.2, 0.9)
    assert pytest.approx(expected, abs=1e-12) == between(-3, 3, 1.2, 0.9)
    column = [row[200 + 12] for row in chances_between(-3.0, 3.0)]
    sds = np.exp(_LOWEST_LOG + _LOG_STEP * np.arange(len(column)))
    expected = stats.norm.cdf(3, 1.2, sds) - stats.norm.cdf(-3, 1.2, sds)
    assert pytest.approx(expected, abs=1e-9) == column


def test_weights_add_up_to_one() -> None:
    """Every set of points is a distribution; seven in ten offsets lie low, and more by chance."""
    assert pytest.approx(np.ones(4)) == scatter_weights().sum(axis=0)
    for step in (1, 2):
        spots, weights = offsets(step)
        assert pytest.approx(1.0) == weights.sum()
        assert pytest.approx(0.775, abs=0.04) == weights[spots[:, 1] <= -np.abs(spots[:, 0])].sum()
    assert pytest.approx(1.0) == pulls()[1].sum()


def test_the_middle_of_an_offset_is_that_of_its_ends() -> None:
    """Uniform between 1.2 and 2.6: on the grid the mean is 1.9, within a part of a step."""
    spots, weights = offsets()
    assert pytest.approx(1.9, abs=0.03) == weights @ np.hypot(*(STEP * spots).T)


def test_scatters_keep_their_mean() -> None:
    """The usual scatter is log-normal: its mean is the median times exp(variance / 2)."""
    usual = scatter_weights()[:, USUAL] @ SCALES[CALMER:]
    assert pytest.approx(0.9 * np.exp(0.25**2 / 2), rel=0.01) == usual


@pytest.mark.parametrize("has_load", [True, False])
@pytest.mark.parametrize("exchanged", [True, False])
def test_sets_of_causes_add_up_to_one(*, has_load: bool, exchanged: bool) -> None:
    """Nothing, each alone, and the pairs that are modelled, which have an eighth in all."""
    chances = chances_of_sets(has_load=has_load, exchanged=exchanged)
    assert pytest.approx(1.0) == sum(chances.values())
    pairs = [chance for causes, chance in chances.items() if len(causes) == 2]
    assert pytest.approx(1 / 8) == sum(pairs)
    assert exchanged == (frozenset({Cause.OWN_PART}) in chances)


@pytest.mark.parametrize("noise", ["normal", "heavy"])
def test_tables_of_cells_hold_what_draws_put_there(noise: str) -> None:
    """Seeded draws about a centre fall into the squares as often as the table says."""
    frame = CellFrame(-3.0, 3.0, -3.0, 3.0, (0.6, 1.2, 2.0), rings=False)
    family = 0 if noise == "normal" else 1
    column, line = FINE_HALF + 4, FINE_HALF - 6
    row = cell_chances(frame)[family, :, line, column, 8]
    rng = np.random.default_rng(3)
    draws = rng.normal(size=(200_000, 2)) * SCALES[8]
    if noise == "heavy":
        draws *= np.sqrt(3 / rng.chisquare(3, (200_000, 1)))
    draws += np.array([4 * FINE_STEP, -6 * FINE_STEP])
    far = abs(draws).max(axis=1)
    counts = np.bincount(np.searchsorted([0.6, 1.2, 2.0, 3.0], far), minlength=5) / len(draws)
    assert pytest.approx(counts, abs=0.006) == row
    assert pytest.approx(1.0, abs=1e-5) == row.sum()


def test_rings_of_the_table_follow_rice() -> None:
    """Rice's distribution in scipy, where the panel is far larger than the scatter."""
    ends = tuple(0.3 * (at + 1) for at in range(14))
    frame = CellFrame(-30.0, 30.0, -30.0, 30.0, ends, rings=True)
    row = cell_chances(frame)[0, :, FINE_HALF + 4, FINE_HALF + 3, 8]
    off = FINE_STEP * 5
    edges = stats.rice.cdf(np.array([0.0, *ends]) / SCALES[8], off / SCALES[8])
    assert pytest.approx(np.diff(edges), abs=0.012) == row[: len(ends)]


def test_hits_have_the_density_of_scipy() -> None:
    """Two hits about one place, normal and t with three degrees of freedom, one scatter."""
    hits = [(0.3, -0.4), (1.2, 0.1)]
    normal, heavy = _log_hits(hits)
    place = (HALF - 2, HALF + 1, 7)
    middle = np.array([STEP, -2 * STEP])
    scale = SCALES[7]
    expected = stats.multivariate_normal(middle, scale**2).logpdf(hits).sum()
    assert pytest.approx(expected) == normal[place]
    expected = stats.multivariate_t(middle, scale**2 * np.eye(2), df=3).logpdf(hits).sum()
    assert pytest.approx(expected) == heavy[place]


def test_misfires_follow_the_beta_integral() -> None:
    """A rate even between .25 and .5 (incomplete beta function, scipy)."""
    count, n = 5, 12
    beta = special.beta(count + 1, n - count + 1)
    part = special.betainc(count + 1, n - count + 1, [0.25, 0.5])
    expected = (part[1] - part[0]) * beta / 0.25
    assert pytest.approx(expected, rel=1e-3) == chance_of_misfires(count, n, mechanism=True)
    assert pytest.approx(0.03 * 0.97**3) == chance_of_misfires(1, 4, mechanism=False)


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
