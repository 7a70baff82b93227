"""The best that can be done: importance sampling of the first generator, given a group's trials.

What is shared (where the device gathers, slope, extra scatter) is drawn from a mixture of the prior
and of kernels where a first sample carried weight; each draw is weighted by both. Given what is
shared, students are independent: each one's scatter and pull are integrated in `best_students`.
`Best` tells how good the sample was. Lengths in units of 100 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import pi

import numpy as np
from scipy.ndimage import gaussian_filter, map_coordinates

from tests.simulation.best_students import EDGE, Array, Seen, draw_evenly, weigh_cells, weigh_hits
from tests.simulation.causes import CAUSE_SETS, CHANCES
from tests.simulation.classrooms import Classroom, Telling

PANEL_CAUSES = [causes for causes in CAUSE_SETS if "mechanism" not in causes]
#: Draws of a first look, kernels of the second, and the share that the prior keeps.
FIRST = 160
KERNELS = 48
FRESH = 0.15
#: The table of where a device with an offset gathers.
REACH, GRID = 5.0, 0.05


@dataclass(frozen=True, slots=True)
class Best:
    """The posterior of one group, and the effective sample of each set that matters."""

    chances: dict[frozenset[str], float]
    effective: dict[frozenset[str], float]


def find_best(group: Classroom, telling: Telling, seed: int, draws: int = 256) -> Best:
    """Return the posterior of the generating model."""
    rng = np.random.default_rng(seed)
    students = _students_of(group)
    misfires, count = sum(group.misfired), len(group.misfired)
    logs, effective = {}, {}
    for causes in PANEL_CAUSES:
        weights = _weigh(rng, causes, students, telling, draws)
        top = weights.max()
        shares = np.exp(weights - top)
        logs[causes] = top + np.log(shares.mean())
        effective[causes] = shares.sum() ** 2 / (shares**2).sum()
    rates = 0.25 + 0.25 * (np.arange(400) + 0.5) / 400
    many = (rates**misfires * (1 - rates) ** (count - misfires)).mean()
    few = 0.03**misfires * 0.97 ** (count - misfires)
    top = max(logs.values())
    joint = {}
    for causes, chance in zip(CAUSE_SETS, CHANCES, strict=True):
        panel = causes - {"mechanism"}
        rate = many if "mechanism" in causes else few
        joint[causes] = chance * rate * np.exp(logs[panel] - top)
    total = sum(joint.values())
    chances = {causes: float(one / total) for causes, one in joint.items()}
    # A set that is out of the question needs no sample.
    return Best(
        chances,
        {one: float(e) for one, e in effective.items() if chances[one] >= 1e-3},
    )


def _students_of(group: Classroom) -> list[Seen]:
    x, y = np.array(group.x_mm) / 100, np.array(group.y_mm) / 100
    load = np.maximum(0, np.array(group.amount) - 2)
    student, misfired = np.array(group.student), np.array(group.misfired)
    beyond = np.maximum(abs(x), abs(y)) > EDGE
    found = []
    for number in range(group.size):
        own = (student == number) & ~misfired
        found.append(Seen(x[own], y[own], load[own], beyond[own]))
    return found


@dataclass(frozen=True, slots=True)
class Shared:
    """Draws of what the group shares, a row each: x, y of the device, slope, extra scatter."""

    rows: Array
    #: Logarithm of prior over proposal.
    logs: Array


def _weigh(
    rng: np.random.Generator,
    causes: frozenset[str],
    students: list[Seen],
    telling: Telling,
    draws: int,
) -> Array:
    """Return log weights: a first sample from the prior shows where the second one is needed."""
    prior = _draw_prior(rng, causes, FIRST)
    first = Shared(prior, np.zeros(FIRST))
    weights = first.logs + _likelihoods(rng, causes, students, telling, first)
    shares = np.exp(weights - weights.max())
    shares /= shares.sum()
    for _ in range(2 if telling is Telling.POSITIONS else 1):
        # Weights are flattened at first, where few draws carry everything.
        flat = np.sqrt(shares) / np.sqrt(shares).sum()
        proposal = _near(rng, causes, first.rows, flat, FIRST)
        weights = proposal.logs + _likelihoods(rng, causes, students, telling, proposal)
        first = proposal
        shares = np.exp(weights - weights.max())
        shares /= shares.sum()
    second = _near(rng, causes, first.rows, shares, draws)
    return second.logs + _likelihoods(rng, causes, students, telling, second)


def _near(
    rng: np.random.Generator, causes: frozenset[str], rows: Array, shares: Array, draws: int
) -> Shared:
    """Draw from a mixture about rows picked by their share, and from the prior for the rest."""
    centres = rows[rng.choice(len(rows), KERNELS, p=shares)]
    middle = (shares[:, None] * rows).sum(0)
    sd = np.sqrt((shares[:, None] * (rows - middle) ** 2).sum(0))
    breadth = np.clip(0.8 * sd, [0.08, 0.08, 0.02, 0.1], [0.3, 0.3, 0.06, 0.25])
    free = np.array([True, True, "load" in causes, "device_scatter" in causes])
    picked = centres[rng.permutation(draws) % KERNELS]
    near = np.where(free, picked + rng.normal(0, 1, (draws, 4)) * breadth, picked)
    fresh = _draw_prior(rng, causes, draws)
    at = np.where((rng.random(draws) < FRESH)[:, None], fresh, near)
    prior = _prior_density(causes, at)
    away = ((at[:, None, free] - centres[None, :, free]) / breadth[free]) ** 2
    scale = np.prod(breadth[free]) * (2 * pi) ** (free.sum() / 2)
    kernels = np.exp(-away.sum(2) / 2).mean(1) / scale
    with np.errstate(divide="ignore"):
        return Shared(at, np.log(prior) - np.log(FRESH * prior + (1 - FRESH) * kernels))


def _likelihoods(
    rng: np.random.Generator,
    causes: frozenset[str],
    students: list[Seen],
    telling: Telling,
    shared: Shared,
) -> Array:
    spots, slope, extra = shared.rows[:, :2], shared.rows[:, 2], shared.rows[:, 3] ** 2
    draws = len(slope)
    none, one, two = np.zeros(draws), np.full(draws, -np.inf), np.full(draws, -np.inf)
    ask = "use" in causes
    inside = weigh_hits if telling is Telling.POSITIONS else weigh_cells
    for seen in students:
        good, poor = inside(rng, seen, spots, slope, extra, telling, ask)
        if ask:
            two = np.logaddexp(two + good, one + poor)
            one = np.logaddexp(one + good, none + poor)
        none = none + good
    if not ask:
        return none
    size = len(students)
    return np.logaddexp(one - np.log(2 * size), two - np.log(size * (size - 1)))


def _draw_prior(rng: np.random.Generator, causes: frozenset[str], draws: int) -> Array:
    rows = np.zeros((draws, 4))
    rows[:, :2] = rng.normal(0, 0.2, (draws, 2))
    if "device_offset" in causes:
        low = rng.uniform(-pi / 4, pi / 4, draws)
        turn = np.where(rng.random(draws) < 0.7, low, rng.uniform(-pi, pi, draws)) - pi / 2
        size = draw_evenly(rng, 1.2, 2.6, draws)
        rows[:, :2] += np.stack([size * np.cos(turn), size * np.sin(turn)], axis=1)
    if "load" in causes:
        rows[:, 2] = draw_evenly(rng, 0.15, 0.40, draws)
    if "device_scatter" in causes:
        rows[:, 3] = draw_evenly(rng, 1.1, 2.0, draws)
    return rows


def _prior_density(causes: frozenset[str], rows: Array) -> Array:
    x, y = rows[:, 0], rows[:, 1]
    if "device_offset" in causes:
        cells = np.stack([(x + REACH) / GRID, (y + REACH) / GRID])
        density = map_coordinates(_blurred_ring(), cells, order=1, cval=0.0)
    else:
        density = np.exp(-(x**2 + y**2) / 0.08) / (0.08 * pi)
    if "load" in causes:
        density = np.where((rows[:, 2] >= 0.15) & (rows[:, 2] <= 0.40), density / 0.25, 0)
    if "device_scatter" in causes:
        density = np.where((rows[:, 3] >= 1.1) & (rows[:, 3] <= 2.0), density / 0.9, 0)
    return density


@lru_cache(maxsize=1)
def _blurred_ring() -> Array:
    """Return the density of where a device with an offset gathers, on a grid."""
    axis = np.arange(-REACH, REACH + GRID / 2, GRID)
    fine = (np.arange(-4, 5) * GRID / 9)[None, None, :]
    x = axis[:, None, None] + np.repeat(fine, 9, axis=2)
    y = axis[None, :, None] + np.tile(fine, 9)
    size = np.hypot(x, y)
    turn = (np.arctan2(y, x) + pi / 2 + pi) % (2 * pi) - pi
    direction = 0.3 / (2 * pi) + np.where(abs(turn) <= pi / 4, 0.7 / (pi / 2), 0)
    ring = np.where((size >= 1.2) & (size <= 2.6), direction / (1.4 * size), 0).mean(2)
    return gaussian_filter(ring, 0.2 / GRID, truncate=6)
