"""How well judged groups were judged, and which goals a cell misses.

In: `Judged` groups of one cell and stage. Out: `Score`, and sentences about goals that were missed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

from tests.simulation.judged import Judged
from tests.simulation.worlds import BLAMELESS, PRIORS, Stage, World

BINS = 10
#: Caps and floors: own world, and worlds that nothing was tuned on.
BLAMED = (0.05, 0.08)
CALIBRATION = (0.03, 0.08)
#: Offset named at least, by stage: positions, zone points.
NAMED: Mapping[Stage, tuple[tuple[float, float], tuple[float, float]]] = {
    Stage.GUESTS_4: ((0.80, 0.45), (0.75, 0.40)),
    Stage.GUESTS_8: ((0.90, 0.60), (0.85, 0.55)),
    Stage.THEIRS_8: ((0.65, 0.45), (0.45, 0.40)),
}
RIGHT_BEFORE, RIGHT_GUESTS = 0.75, 0.80
_Z = 1.959963984540054


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """Shares, each cause weighed by its prior."""

    groups: int
    #: Device said, by cause.
    device: dict[str, float]
    spoken: float
    right: float
    #: The likeliest reading is the true one.
    accuracy: float
    calibration: float
    #: Groups of each cause.
    each: int


def score(judged: Sequence[Judged]) -> Score:
    """Return the score of groups of one cell at one stage."""
    by_cause: dict[str, list[Judged]] = defaultdict(list)
    for entry in judged:
        by_cause[entry.cause].append(entry)
    weights = {cause: PRIORS[cause] / len(entries) for cause, entries in by_cause.items()}
    whole = sum(weights[entry.cause] for entry in judged)
    spoken = right = accurate = 0.0
    pairs = []
    for entry in judged:
        weight = weights[entry.cause] / whole
        top = max(entry.joint, key=lambda name, of=entry.joint: of[name])  # type: ignore[misc]
        accurate += weight * (top == entry.truth)
        pairs.append((weight, entry.joint[top], top == entry.truth))
        if entry.said != "cannot tell":
            spoken += weight
            right += weight * (entry.said == entry.truth)
    return Score(
        groups=len(judged),
        device={
            cause: sum(entry.said == "device" for entry in entries) / len(entries)
            for cause, entries in by_cause.items()
        },
        spoken=spoken,
        right=right / spoken if spoken else float("nan"),
        accuracy=accurate,
        calibration=calibration_error(pairs),
        each=min(map(len, by_cause.values())),
    )


def calibration_error(pairs: Iterable[tuple[float, float, bool]]) -> float:
    """Return the mean distance of said and true frequency in ten bins, of (weight, said, held)."""
    bins: dict[int, list[float]] = defaultdict(lambda: [0.0, 0.0, 0.0])
    for weight, said, held in pairs:
        own = bins[min(int(said * BINS), BINS - 1)]
        own[0] += weight
        own[1] += weight * said
        own[2] += weight * held
    whole = sum(own[0] for own in bins.values())
    return sum(abs(said - held) for _, said, held in bins.values()) / whole


def wilson(share: float, n: int) -> tuple[float, float]:
    """Return the 95 % Wilson interval of a share of `n`."""
    middle = (share + _Z * _Z / (2 * n)) / (1 + _Z * _Z / n)
    half = _Z / (1 + _Z * _Z / n) * sqrt(share * (1 - share) / n + _Z * _Z / (4 * n * n))
    return middle - half, middle + half


def list_misses(found: Score, world: World, stage: Stage, *, positions: bool) -> list[str]:
    """Return which goals a cell misses beyond chance, and by how much."""
    other = world is not World.OWN
    misses = []
    for cause in BLAMELESS:
        blamed = found.device.get(cause, 0.0)
        if wilson(blamed, found.each)[0] > BLAMED[other]:
            misses.append(f"device said in {blamed:.3f} of {cause} (at most {BLAMED[other]})")
    if stage in NAMED:
        least = NAMED[stage][other][0 if positions else 1]
        named = found.device.get("device_offset", 0.0)
        if wilson(named, found.each)[1] < least:
            misses.append(f"offset named in {named:.3f} (at least {least})")
    least = RIGHT_GUESTS if stage.value.startswith("guests") else RIGHT_BEFORE
    if found.right < least:
        misses.append(f"right in {found.right:.3f} of what is said (at least {least})")
    if found.calibration > CALIBRATION[other]:
        misses.append(f"calibration {found.calibration:.3f} (at most {CALIBRATION[other]})")
    return misses
