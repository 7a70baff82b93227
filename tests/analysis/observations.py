"""Random trials of students with revisions and own parts, seeded, for tests of the parts."""

from __future__ import annotations

import random
from collections.abc import Sequence

import numpy as np

from journal.analysis.cells import Effect, Observation


def draw_observations(seed: int, *, exchanged: bool, most: int = 60) -> list[Observation]:
    """Return an unbalanced set of trials with effects of random size."""
    draw = random.Random(seed)
    revisions, students, own_parts = draw.randint(2, 6), draw.randint(2, 5), draw.randint(2, 5)
    sizes = [draw.choice([0.0, 1.0, 2.0]) for _ in range(4)]
    device = [draw.gauss(0, sizes[0]) for _ in range(revisions)]
    use = [draw.gauss(0, sizes[1]) for _ in range(students)]
    own = [draw.gauss(0, sizes[2]) for _ in range(own_parts)]
    fit = [[draw.gauss(0, sizes[3]) for _ in use] for _ in device]
    seen = []
    for _ in range(draw.randint(most // 3, most)):
        i, j, k = draw.randrange(revisions), draw.randrange(students), draw.randrange(own_parts)
        value = device[i] + use[j] + fit[i][j] + draw.gauss(0, 1) + (own[k] if exchanged else 0)
        seen.append(
            Observation(
                revision=f"r{i}",
                student=f"s{j}",
                own_part=f"d{k}" if exchanged else "",
                value=value,
            )
        )
    return seen


def effects_of(*, exchanged: bool) -> list[Effect]:
    """Return all effects that such trials can tell apart."""
    own = [Effect.OWN_PART] if exchanged else []
    return [Effect.REVISION, Effect.STUDENT, *own, Effect.INTERACTION, Effect.REPEAT]


class DenseLikelihood:
    """The restricted likelihood written out with the whole covariance matrix, by numpy."""

    def __init__(self, seen: Sequence[Observation], effects: Sequence[Effect]) -> None:
        self.values = np.array([trial.value for trial in seen])
        self.count = len(seen)
        labels = {
            Effect.REVISION: [trial.revision for trial in seen],
            Effect.STUDENT: [trial.student for trial in seen],
            Effect.OWN_PART: [trial.own_part for trial in seen],
            Effect.INTERACTION: [f"{trial.revision} {trial.student}" for trial in seen],
            Effect.REPEAT: [str(place) for place in range(len(seen))],
        }
        self.shared = [
            np.equal.outer(np.array(labels[effect]), np.array(labels[effect])).astype(float)
            for effect in effects
        ]

    def cost(self, variances: Sequence[float]) -> float:
        """Return minus twice the restricted log-likelihood, up to a constant."""
        covariance = sum(v * shared for v, shared in zip(variances, self.shared, strict=True))
        inverse = np.linalg.inv(covariance)
        ones = np.ones(self.count)
        weight = ones @ inverse @ ones
        rest = self.values - ones @ inverse @ self.values / weight
        log_size = np.linalg.slogdet(covariance)[1]
        return float(log_size + np.log(weight) + rest @ inverse @ rest)
