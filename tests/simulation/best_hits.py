"""How likely one student's positions are, given what the group shares: by formula.

The student's pull is integrated; only where a hit lies beyond the panel is it drawn.
In: trials, draws. Out: log likelihoods of good and poor use, one a draw of what is shared.
"""

from __future__ import annotations

from math import log, pi

import numpy as np

from tests.simulation.best_draws import (
    PULL,
    Array,
    Seen,
    Shared,
    average,
    far_pulls,
    pick,
    variances,
    wide_variances,
)
from tests.simulation.special import find_within

EDGE = 3.0
GOOD, WIDE, FAR = 16, 24, 96


def weigh_hits(
    rng: np.random.Generator, seen: Seen, shared: Shared, *, ask: bool
) -> tuple[Array, Array]:
    """Return log likelihoods under good use, and where asked under poor use."""
    draws = len(shared.x)
    hits = _Hits(rng, seen, shared)
    good = hits.gather(pick(rng, variances(GOOD), draws), None)
    if not ask:
        return good, good
    wide = hits.gather(pick(rng, wide_variances(WIDE), draws), None)
    far = hits.gather(pick(rng, variances(FAR), draws), pick(rng, far_pulls(FAR), draws))
    return good, np.logaddexp(wide, far) - np.float32(log(2))


class _Hits:
    """A student's hits as sums, one row a draw of what is shared."""

    def __init__(self, rng: np.random.Generator, seen: Seen, shared: Shared) -> None:
        self.rng, self.seen, self.shared = rng, seen, shared
        hits = ~seen.beyond
        self.count = int(hits.sum())
        if self.count:
            lifted = seen.y[hits] + shared.slope[:, None] * seen.load[hits]
            self.mean_x, self.mean_y = seen.x[hits].mean(), lifted.mean(1)[:, None]
            across = ((seen.x[hits] - self.mean_x) ** 2).sum()
            self.squares = (across + ((lifted - self.mean_y) ** 2).sum(1))[:, None]

    def gather(self, own: Array, pulled: Array | None) -> Array:
        """Return log likelihoods, averaged over each row of variances and pulls."""
        variance = own + self.shared.extra[:, None]
        x, y = self.shared.x[:, None], self.shared.y[:, None]
        if pulled is not None:
            x, y = x + pulled[..., 0], y + pulled[..., 1]
        logs: Array = np.zeros_like(variance)
        left: Array | float = PULL
        if self.count:
            n = np.float32(self.count)
            pull = variance / n + np.float32(PULL)
            dx, dy = self.mean_x - x, self.mean_y - y
            logs = (
                (1 - n) * np.log(variance)
                - self.squares / (2 * variance)
                - np.log(pull)
                - (dx * dx + dy * dy) / (2 * pull)
                - np.float32(self.count * log(2 * pi) + log(self.count))
            )
            share = np.float32(PULL) / pull
            x, y = x + share * dx, y + share * dy
            left = share * variance / n
        if self.seen.beyond.any():
            logs = logs + self._beyond(variance, x, y, left)
        return average(logs)

    def _beyond(self, variance: Array, x: Array, y: Array, left: Array | float) -> Array:
        """Return log chances of the hits beyond: the middle is drawn as the others leave it."""
        off = self.rng.standard_normal((2, *variance.shape), dtype=np.float32) * np.sqrt(left)
        x, y = x + off[0], y + off[1]
        scale = np.sqrt(np.float32(0.5) / variance)
        across = find_within(EDGE, x, scale)
        logs: Array = np.zeros_like(variance)
        for load in np.unique(self.seen.load[self.seen.beyond]):
            times = int((self.seen.load[self.seen.beyond] == load).sum())
            height = y - self.shared.slope[:, None] * load
            upward = find_within(EDGE, height, scale)
            logs += times * np.log(np.maximum(1 - across * upward, np.float32(1e-7)))
        return logs
