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

from tests.simulation.best_cells import weigh_cells
from tests.simulation.best_draws import Array, Seen, Shared, draw_evenly
from tests.simulation.best_hits import EDGE, weigh_hits
from tests.simulation.causes import CAUSE_SETS, CHANCES
from tests.simulation.classrooms import Classroom, Telling

PANEL_CAUSES = [causes for causes in CAUSE_SETS if "mechanism" not in causes]
#: Draws of a first look, kernels of the second, and the share that the prior keeps.
FIRST = 160
KERNELS = 48
FRESH = 0.15
MECHANISM = frozenset({"mechanism"})
#: Sets less probable than the first are not sampled, those less than the second not reported on.
NEGLIGIBLE, MATTERS = 1e-4, 1e-3
#: A sample is effective enough with so many; else more are drawn, this often.
ENOUGH, MOST_REPEATS = 200, 5
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
    misfires = _chances_of_misfires(group)
    weighers = [_Weigher(rng, causes, students, telling) for causes in PANEL_CAUSES]
    logs = {weigher.causes: weigher.look() for weigher in weighers}
    likely = _join(logs, misfires)
    # A set that is out of the question needs no sample.
    asked = [weigher for weigher in weighers if _chance(likely, weigher.causes) >= NEGLIGIBLE]
    logs |= {one.causes: one.sample(draws) for one in asked}
    joint = _join(logs, misfires)
    matter = [one for one in asked if _chance(joint, one.causes) >= MATTERS]
    for one in matter:
        for _ in range(MOST_REPEATS):
            if one.effective < ENOUGH:
                logs[one.causes] = one.sample(draws)
    return Best(_join(logs, misfires), {one.causes: one.effective for one in matter})


def _chance(joint: dict[frozenset[str], float], causes: frozenset[str]) -> float:
    """Return the probability of a set of panel causes, with and without misfires beside it."""
    return joint[causes] + joint.get(causes | MECHANISM, 0.0)


def _join(
    logs: dict[frozenset[str], float], misfires: tuple[float, float]
) -> dict[frozenset[str], float]:
    """Return the probability of each cause set."""
    top = max(logs.values())
    joint = {
        causes: float(
            chance * misfires[causes >= MECHANISM] * np.exp(logs[causes - MECHANISM] - top)
        )
        for causes, chance in zip(CAUSE_SETS, CHANCES, strict=True)
    }
    total = sum(joint.values())
    return {causes: one / total for causes, one in joint.items()}


def _chances_of_misfires(group: Classroom) -> tuple[float, float]:
    """Return how likely the misfires are with a sound mechanism, and with one that is not."""
    misfires, count = sum(group.misfired), len(group.misfired)
    rates = 0.25 + 0.25 * (np.arange(400) + 0.5) / 400
    many = (rates**misfires * (1 - rates) ** (count - misfires)).mean()
    return 0.03**misfires * 0.97 ** (count - misfires), float(many)


def _students_of(group: Classroom) -> list[Seen]:
    x, y = np.array(group.x_mm) / 100, np.array(group.y_mm) / 100
    load = np.maximum(0, np.array(group.amount) - 2)
    student, misfired = np.array(group.student), np.array(group.misfired)
    beyond = np.maximum(abs(x), abs(y)) > EDGE
    found = []
    for number in range(group.size):
        own = (student == number) & ~misfired
        rows = (one[own].astype(np.float32) for one in (x, y, load))
        found.append(Seen(*rows, beyond[own]))
    return found


class _Weigher:
    """One cause set: a first sample from the prior shows where the next one is needed."""

    def __init__(
        self,
        rng: np.random.Generator,
        causes: frozenset[str],
        students: list[Seen],
        telling: Telling,
    ) -> None:
        self.rng, self.causes, self.students, self.telling = rng, causes, students, telling
        self.free = np.array([True, True, "load" in causes, "device_scatter" in causes])
        self.rows = _draw_prior(rng, causes, FIRST)
        self.shares = np.full(FIRST, 1 / FIRST)
        self.logs = np.zeros(0)

    def look(self) -> float:
        """Find where draws are needed; return a first log likelihood of the cause set."""
        logs = self._weigh(self.rows)
        for _ in range(2 if self.telling is Telling.POSITIONS else 1):
            # Weights are flattened at first, where few draws carry everything.
            self.shares = _shares(logs / 2)
            self.rows, over = self._near(FIRST)
            logs = over + self._weigh(self.rows)
        self.shares = _shares(logs)
        return _mean(logs)

    def sample(self, draws: int) -> float:
        """Draw more; return the log likelihood of the cause set from all that were drawn."""
        rows, over = self._near(draws)
        self.logs = np.concatenate([self.logs, over + self._weigh(rows)])
        return _mean(self.logs)

    @property
    def effective(self) -> float:
        """Return how many draws of equal weight tell as much as those that there are."""
        return float(1 / (_shares(self.logs) ** 2).sum())

    def _near(self, draws: int) -> tuple[Array, Array]:
        """Draw from a mixture about rows picked by their share, and from the prior for the rest.

        Second comes the logarithm of prior over proposal.
        """
        rng, free = self.rng, self.free
        centres = self.rows[rng.choice(len(self.rows), KERNELS, p=self.shares)]
        middle = (self.shares[:, None] * self.rows).sum(0)
        sd = np.sqrt((self.shares[:, None] * (self.rows - middle) ** 2).sum(0))
        breadth = np.clip(0.8 * sd, [0.08, 0.08, 0.02, 0.1], [0.3, 0.3, 0.06, 0.25])
        picked = centres[rng.permutation(draws) % KERNELS]
        near = np.where(free, picked + rng.normal(0, 1, (draws, 4)) * breadth, picked)
        fresh = _draw_prior(rng, self.causes, draws)
        at = np.where((rng.random(draws) < FRESH)[:, None], fresh, near)
        prior = _prior_density(self.causes, at)
        away = ((at[:, None, free] - centres[None, :, free]) / breadth[free]) ** 2
        scale = np.prod(breadth[free]) * (2 * pi) ** (free.sum() / 2)
        kernels = np.exp(-away.sum(2) / 2).mean(1) / scale
        with np.errstate(divide="ignore"):
            return at, np.log(prior) - np.log(FRESH * prior + (1 - FRESH) * kernels)

    def _weigh(self, rows: Array) -> Array:
        """Return log likelihoods of all trials: students are independent given what is shared."""
        single = rows.astype(np.float32)
        shared = Shared(single[:, 0], single[:, 1], single[:, 2], single[:, 3] ** 2)
        ask = "use" in self.causes
        none, one, two = np.zeros(len(rows)), *np.full((2, len(rows)), -np.inf)
        for seen in self.students:
            if self.telling is Telling.POSITIONS:
                good, poor = weigh_hits(self.rng, seen, shared, ask=ask)
            else:
                good, poor = weigh_cells(self.rng, seen, shared, self.telling, ask=ask)
            if ask:
                two = np.logaddexp(two + good, one + poor)
                one = np.logaddexp(one + good, none + poor)
            none = none + good
        if not ask:
            return none
        size = len(self.students)
        return np.logaddexp(one - np.log(2 * size), two - np.log(size * (size - 1)))


def _shares(logs: Array) -> Array:
    weights = np.exp(logs - logs.max())
    return weights / weights.sum()


def _mean(logs: Array) -> float:
    top = logs.max()
    return float(top + np.log(np.exp(logs - top).mean()))


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
