"""What poor results point to: the device, its use, both, or nothing; with how sure that is.

In: trial records of one group, its panel, the outcome's direction. Out: `Diagnosis`: probabilities
that each cause is present, the joint of device and use, and what may be said of them.

The model is an integral by Bayes' rule over what may lie behind the trials: any set of up to two
causes, the size of each from `diagnosis_causes`, taken at fixed points. Nothing in it was fitted to
data of classes; it was compared on drawn groups with the best that could be done.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.frame import Frame, frame_of_side
from journal.analysis.diagnosis.posterior import find_posterior
from journal.analysis.diagnosis.reasons import Reason, ReasonKey, find_reasons
from journal.analysis.diagnosis.students import StudentSpread, spread_students
from journal.analysis.diagnosis.trials import Way, Zones, tell
from journal.analysis.failures import work_out
from journal.analysis.records import TrialRecord
from journal.domain.outcomes import MORE_IS_BETTER, Direction

#: No finding from fewer trials.
FEWEST_TRIALS = 4
#: Nothing is said that is less probable than this: by number of trials, in proportion between them.
#: So that what is said of drawn groups holds in at least 85 in 100 of them, in whatever way their
#: trials were told: with few trials much of what is said is only just probable enough.
LEAST_TO_SPEAK = ((6, 0.70), (24, 0.60))
#: A wrong word sends children to rebuild what was fine. So the device is said only where it is this
#: many times as probable as use alone, and nothing at all this improbable: set on drawn groups so
#: that it is said of at most 5 in 100 in which only the use, or nothing, is at fault. Most true
#: faults that a bound on such words leaves room for are named by a ratio (the lemma of Neyman and
#: Pearson, 1933), more than by a bound on how probable use is in any set of causes.
LEAST_OVER_USE = ((12, 11.0), (24, 8.0))
MOST_NONE = 0.2
#: Diagnoses of this many groups are kept, found again by the whole content of their records.
KEPT = 128
#: The panel that is meant where none is named.
PLAIN_FRAME = frame_of_side(600.0)


class Grouped(StrEnum):
    """What may be said."""

    NONE = "none"
    DEVICE = "device"
    USE = "use"
    BOTH = "both"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """What the trials of one group point to."""

    way: Way
    #: That each cause is present; None where the trials cannot speak for it.
    probabilities: Mapping[Cause, float | None]
    none: float | None
    #: Nothing, device, use, both: adds to 1; empty where nothing can be said.
    joint: Mapping[Grouped, float]
    grouped: Grouped
    reasons: tuple[Reason, ...]
    students: Mapping[str, StudentSpread]

    @property
    def abstained(self) -> bool:
        """Tell whether the data do not point clearly enough."""
        return self.grouped is Grouped.CANNOT_TELL


#: What stands for a diagnosis that could not be worked out.
NOT_DIAGNOSED = Diagnosis(
    way=Way.MISFIRES,
    probabilities=dict.fromkeys(Cause, None),
    none=None,
    joint={},
    grouped=Grouped.CANNOT_TELL,
    reasons=(Reason(key=ReasonKey.NOT_WORKED_OUT),),
    students={},
)


def diagnose(
    records: Sequence[TrialRecord],
    *,
    frame: Frame = PLAIN_FRAME,
    direction: Direction = MORE_IS_BETTER,
    zones: Zones | None = None,
) -> Diagnosis:
    """Say what the trials of one group point to.

    `zones` are those of the panel, squares worth 8, 4, 2, 1 where none are given. Measures with
    less being better are taken as distances from the aim point in mm. Lengths in mm.
    """
    return work_out(
        "the diagnosis",
        lambda: _diagnose(tuple(records), frame, direction, zones),
        NOT_DIAGNOSED,
    )


@lru_cache(maxsize=KEPT)
def _diagnose(
    records: tuple[TrialRecord, ...], frame: Frame, direction: Direction, zones: Zones | None
) -> Diagnosis:
    told = tell(records, frame, direction, zones)
    students = spread_students(told, frame)
    if told.count < FEWEST_TRIALS:
        return Diagnosis(
            way=told.way,
            probabilities=dict.fromkeys(Cause, None),
            none=None,
            joint={},
            grouped=Grouped.CANNOT_TELL,
            reasons=find_reasons(records, told, students, {}, frame),
            students=students,
        )
    sets = find_posterior(told, frame)
    joint = join(sets)
    present = {
        cause: sum(chance for causes, chance in sets.items() if cause in causes) for cause in Cause
    }
    probabilities: dict[Cause, float | None] = dict(present)
    if not told.has_load:
        probabilities[Cause.LOAD] = None
    return Diagnosis(
        way=told.way,
        probabilities=probabilities,
        none=joint[Grouped.NONE],
        joint=joint,
        grouped=group(joint, told.count),
        reasons=find_reasons(records, told, students, present, frame),
        students=students,
    )


def join(sets: Mapping[frozenset[Cause], float]) -> dict[Grouped, float]:
    """Return how probable nothing, device alone, use alone and both are."""
    joint = dict.fromkeys((Grouped.NONE, Grouped.DEVICE, Grouped.USE, Grouped.BOTH), 0.0)
    for causes, chance in sets.items():
        joint[_group_of(causes)] += chance
    return joint


def _group_of(causes: frozenset[Cause]) -> Grouped:
    if not causes:
        return Grouped.NONE
    if Cause.USE not in causes:
        return Grouped.DEVICE
    return Grouped.USE if len(causes) == 1 else Grouped.BOTH


def group(joint: Mapping[Grouped, float], trials: int) -> Grouped:
    """Return what may be said: the likeliest, where it is likely enough, and the device with care.

    Ties go to the first of nothing, device, use, both.
    """
    best = max(joint, key=lambda one: joint[one])
    if joint[best] < least_to_speak(trials):
        return Grouped.CANNOT_TELL
    if best is Grouped.DEVICE and (
        joint[Grouped.DEVICE] < _by_trials(LEAST_OVER_USE, trials) * joint[Grouped.USE]
        or joint[Grouped.NONE] > MOST_NONE
    ):
        return Grouped.CANNOT_TELL
    return best


def least_to_speak(trials: int) -> float:
    """Return how probable a reading must be to be said after so many trials."""
    return _by_trials(LEAST_TO_SPEAK, trials)


def _by_trials(ends: tuple[tuple[int, float], tuple[int, float]], trials: int) -> float:
    """Return the figure after so many trials, in proportion between two of them."""
    (few, first), (many, last) = ends
    part = (min(max(trials, few), many) - few) / (many - few)
    return first + part * (last - first)
