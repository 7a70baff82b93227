"""Fitted spread: scipy finds the same optimum, and walls and scores tell what they can."""

from __future__ import annotations

import random
from collections import Counter

import numpy as np
import pytest
from scipy import optimize, stats

from journal.analysis.fitted_spread import fit_spread
from journal.analysis.spread import spread_of
from tests.analysis.panels import square_panel

PANEL = square_panel()


def draw_hits(count: int, x_mm: float, y_mm: float, scatter_mm: float) -> list[tuple[float, float]]:
    """Return seeded hits, some of them beyond the panel."""
    draw = random.Random(6)
    return [(draw.gauss(x_mm, scatter_mm), draw.gauss(y_mm, scatter_mm)) for _ in range(count)]


def test_hits_beyond_the_panel_enter_as_at_least_that_far() -> None:
    """The optimum is that of scipy's minimiser on the censored likelihood written out anew."""
    hits = draw_hits(60, 120, -160, 150)
    inside = [hit for hit in hits if PANEL.holds(*hit)]
    beyond = len(hits) - len(inside)

    def cost(at: np.ndarray) -> float:
        x_mm, y_mm, log_scatter = at
        scatter = np.exp(log_scatter)
        across = stats.norm.cdf([-300, 300], x_mm, scatter)
        upward = stats.norm.cdf([-300, 300], y_mm, scatter)
        on_panel = (across[1] - across[0]) * (upward[1] - upward[0])
        each = stats.norm.logpdf(inside, (x_mm, y_mm), scatter).sum()
        return float(-each - beyond * np.log1p(-on_panel))

    expected = optimize.minimize(cost, (0.0, 0.0, 5.0), method="Nelder-Mead", tol=1e-9).x
    found = fit_spread(inside, {}, beyond, PANEL)
    assert found is not None
    assert (found.count, found.beyond_panel) == (len(inside) + beyond, beyond)
    assert found.offset_x_mm == pytest.approx(expected[0], abs=0.2)
    assert found.offset_y_mm == pytest.approx(expected[1], abs=0.2)
    assert found.scatter_mm == pytest.approx(np.exp(expected[2]), abs=0.2)


def test_dropping_hits_beyond_the_panel_would_look_too_good() -> None:
    """With 2,000 hits the fit has the true scatter, the hits on the panel alone a smaller one."""
    hits = draw_hits(2000, 120, -160, 150)
    inside = [hit for hit in hits if PANEL.holds(*hit)]
    found = fit_spread(inside, {}, len(hits) - len(inside), PANEL)
    alone = spread_of(inside)
    assert found is not None
    assert alone is not None
    assert found.scatter_mm == pytest.approx(150, abs=8)
    assert alone.scatter_mm is not None
    assert alone.scatter_mm < 125


def test_scores_alone_tell_how_far_and_not_which_way() -> None:
    """Thousands of scores give back offset and, roughly, scatter; the direction stays unknown.

    Squares leave a scatter of 70 mm on one bearing and of 80 mm on another about equally likely.
    """
    hits = draw_hits(4000, 130, -90, 80)
    scores = Counter(PANEL.points_at(*hit) for hit in hits if PANEL.holds(*hit))
    found = fit_spread([], scores, len(hits) - scores.total(), PANEL)
    assert found is not None
    assert found.offset_x_mm is None
    assert found.offset_mm == pytest.approx((130**2 + 90**2) ** 0.5, abs=15)
    assert found.scatter_mm == pytest.approx(80, abs=12)


@pytest.mark.parametrize(
    ("hits", "scores", "beyond"),
    [
        ([], {}, 0),
        ([(1.0, 2.0)], {8.0: 1}, 1),
        ([], {8.0: 9}, 0),
        ([], {}, 9),
        ([(5.0, 5.0)] * 6, {}, 0),
        ([(1.0, 2.0), (3.0, 4.0)], {7.0: 5}, 0),
    ],
)
def test_cannot_say(hits: list[tuple[float, float]], scores: dict[float, int], beyond: int) -> None:
    """Too few, all in one zone, all beyond, all on one spot, or points of another panel."""
    assert fit_spread(hits, scores, beyond, PANEL) is None


def test_a_scatter_below_a_millimetre_is_not_looked_for() -> None:
    """Hits a tenth of a millimetre apart get the smallest scatter that a tap can tell."""
    found = fit_spread([(0.0, 0.0), (0.1, 0.0), (0.0, 0.1), (0.1, 0.1)], {}, 0, PANEL)
    assert found is not None
    assert found.scatter_mm == pytest.approx(1.0, abs=0.01)
