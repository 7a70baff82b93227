"""How well probabilities of causes do, where the causes are known.

In: drawn groups with a probability for each cause set. Out: `Measures`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from journal.analysis.diagnosis.diagnose import Grouped, group
from journal.analysis.diagnosis.frame import frame_of_side
from journal.analysis.diagnosis.posterior import find_posterior
from journal.analysis.diagnosis.trials import collect_trials
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER
from tests.simulation.causes import CAUSES, GROUPED, group_causes
from tests.simulation.classrooms import Classroom, Telling, told_as

FRAME = frame_of_side(600.0)
BINS = 10

Chances = Mapping[frozenset[str], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Shares of groups, and errors."""

    groups: int
    #: The most probable cause set is the true one; the same for none, device, use, both.
    accuracy: float
    grouped: float
    #: Sum of squares over none, device, use, both.
    brier: float
    #: Mean distance of said and true frequency, in ten bins: of the likeliest of the four, and of
    #: the presence of each cause.
    calibration: float
    presence: float
    #: Not abstained; and right where not.
    spoken: float
    right: float
    #: Device said where nothing or only use is at fault; and where only the device is.
    blamed_use: float
    blamed_none: float
    named: float


def diagnose_sets(classroom: Classroom, telling: Telling) -> dict[frozenset[str], float]:
    """Return the shipped model's probability of each cause set."""
    direction = LESS_IS_BETTER if telling is Telling.MEASURES else MORE_IS_BETTER
    told = collect_trials(told_as(classroom, telling), FRAME, direction, None)
    return {
        frozenset(cause.value for cause in causes): chance
        for causes, chance in find_posterior(told, FRAME).items()
    }


def join_sets(chances: Chances) -> dict[str, float]:
    """Return the probability of none, device, use, both; an exchanged own part is a device's."""
    joint = dict.fromkeys(GROUPED, 0.0)
    for causes, chance in chances.items():
        joint[group_causes(causes)] += chance
    return joint


def say(joint: Mapping[str, float], attempts: int) -> str:
    """Return what the journal would say after so many attempts."""
    return group({Grouped(name): chance for name, chance in joint.items()}, attempts).value


def measure(scored: Sequence[tuple[frozenset[str], Chances]], attempts: int) -> Measures:
    """Return the measures of groups with (true causes, probabilities) each."""
    joints = [join_sets(chances) for _, chances in scored]
    truths = [group_causes(causes) for causes, _ in scored]
    tops = [max(joint, key=lambda name, of=joint: of[name]) for joint in joints]
    said = [say(joint, attempts) for joint in joints]
    spoken = [at for at, word in enumerate(said) if word != Grouped.CANNOT_TELL]
    present = [
        (sum(p for causes, p in chances.items() if cause in causes), cause in truth)
        for truth, chances in scored
        for cause in CAUSES
    ]

    def share_said(of: str) -> float:
        return _share(word == "device" for word, truth in zip(said, truths, strict=True)
                      if truth == of)  # fmt: skip

    return Measures(
        groups=len(scored),
        accuracy=_share(max(p, key=lambda c, of=p: of[c]) == truth for truth, p in scored),
        grouped=_share(top == truth for top, truth in zip(tops, truths, strict=True)),
        brier=float(
            np.mean(
                [
                    sum((joint[name] - (name == truth)) ** 2 for name in GROUPED)
                    for joint, truth in zip(joints, truths, strict=True)
                ]
            )
        ),
        calibration=calibration_error(
            [
                (joint[top], top == truth)
                for joint, top, truth in zip(joints, tops, truths, strict=True)
            ]
        ),
        presence=calibration_error(present),
        spoken=len(spoken) / len(scored),
        right=_share(said[at] == truths[at] for at in spoken),
        blamed_use=share_said("use"),
        blamed_none=share_said("none"),
        named=share_said("device"),
    )


def share_blamed(classrooms: Iterable[Classroom], telling: Telling) -> float:
    """Return in how many groups the journal would say the device."""
    return _share(
        say(join_sets(diagnose_sets(classroom, telling)), len(classroom.student)) == Grouped.DEVICE
        for classroom in classrooms
    )


def calibration_error(pairs: Iterable[tuple[float, bool]]) -> float:
    """Return the mean distance between said probability and frequency, weighted by ten bins."""
    said, true = (np.array(column, dtype=float) for column in zip(*pairs, strict=True))
    bins = np.minimum((said * BINS).astype(int), BINS - 1)
    return float(
        sum(
            abs(said[bins == one].mean() - true[bins == one].mean()) * (bins == one).mean()
            for one in np.unique(bins)
        )
    )


def _share(held: Iterable[bool]) -> float:
    found = list(held)
    return sum(found) / len(found) if found else float("nan")
