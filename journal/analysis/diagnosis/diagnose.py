"""The diagnosis: which causes the trials of a group point to, with probabilities.

In: trial records of one group, its panel, the outcome's direction. Out: `Diagnosis`: probabilities
that each cause is present, the joint of device and use, and what may be said of them.

The model is an integral by Bayes' rule over what may lie behind the trials: any set of up to two
causes, the size of each from `causes.py`, taken at fixed quadrature points. Nothing was fitted to
data from classes. The thresholds below were set by hand on simulated groups, seeds 1000-1999;
tests/simulation/RESULTS.md reports how they do on other seeds, beside the best possible.
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
from journal.analysis.diagnosis.trials import Evidence, Zones, collect_trials
from journal.analysis.failures import work_out
from journal.analysis.records import TrialRecord
from journal.domain.outcomes import MORE_IS_BETTER, Direction

#: Fewer trials than this give no finding (set by hand).
FEWEST_TRIALS = 4
#: The least probability of a reading that is named, at 6 trials or fewer and at 24 or more; linear
#: between. Set so that what is named is right in at least 85 of 100 simulated groups, with
#: positions, points or distances alike. Few trials need the higher bound, because much of what is
#: named then lies just above it.
LEAST_TO_SPEAK = ((6, 0.70), (24, 0.60))
#: Naming the device wrongly sends children to rebuild what was fine. So the device is named only
#: where its probability is at least this many times that of use alone (at 12 trials or fewer, and
#: at 24 or more; linear between), and that of no cause is at most `MOST_NONE`. Set so that the
#: device is named in at most 5 of 100 simulated groups in which only use, or nothing, is at fault.
#: A bound on a ratio of probabilities names the most true faults at such a price (Neyman & Pearson,
#: Philosophical Transactions A 231, 1933, 289-337, doi:10.1098/rsta.1933.0009, from memory).
LEAST_OVER_USE = ((12, 11.0), (24, 8.0))
MOST_NONE = 0.2
#: Size of the cache of diagnoses, keyed by the whole content of the records.
KEPT = 128
#: The panel where none is given: a square of 600 mm, aim point in the middle.
PLAIN_FRAME = frame_of_side(600.0)


class Grouped(StrEnum):
    """The reading that may be named."""

    NONE = "none"
    DEVICE = "device"
    USE = "use"
    BOTH = "both"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """The result of a diagnosis."""

    evidence: Evidence
    #: The probability that each cause is present, alone or with another, so they need not add to 1;
    #: None where these trials cannot show it.
    probabilities: Mapping[Cause, float | None]
    #: The probability of no cause; None from too few trials.
    none: float | None
    #: The probability of nothing, device alone, use alone, both: adds to 1; empty after too few.
    joint: Mapping[Grouped, float]
    grouped: Grouped
    reasons: tuple[Reason, ...]
    students: Mapping[str, StudentSpread]

    @property
    def abstained(self) -> bool:
        """Tell whether the data do not point clearly enough."""
        return self.grouped is Grouped.CANNOT_TELL


#: The diagnosis that is returned where computing one raised an error.
NOT_DIAGNOSED = Diagnosis(
    evidence=Evidence.MISFIRES,
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
    """Return the probabilities of the causes behind one group's results.

    Args:
        records: the trials of one group, in any order; positions in mm from the aim point.
        frame: the edges of its panel in mm.
        direction: which results are better. With less being better, measured values are taken as
            distances from the aim point in mm.
        zones: the panel's zones as squares of equal area, half sides in mm; None means squares
            worth 8, 4, 2 and 1.

    Fewer than `FEWEST_TRIALS` records give a diagnosis without probabilities. Raises nothing: an
    error is logged and gives `NOT_DIAGNOSED`. The method is ours; it is tested against an
    importance sampler of the same model (tests/simulation/best.py).
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
    trial_set = collect_trials(records, frame, direction, zones)
    students = spread_students(trial_set, frame)
    if trial_set.count < FEWEST_TRIALS:
        return Diagnosis(
            evidence=trial_set.evidence,
            probabilities=dict.fromkeys(Cause, None),
            none=None,
            joint={},
            grouped=Grouped.CANNOT_TELL,
            reasons=find_reasons(records, trial_set, students, {}, frame),
            students=students,
        )
    sets = find_posterior(trial_set, frame)
    joint = join(sets)
    present = {
        cause: sum(chance for causes, chance in sets.items() if cause in causes) for cause in Cause
    }
    probabilities: dict[Cause, float | None] = dict(present)
    if not trial_set.has_load:
        probabilities[Cause.LOAD] = None
    return Diagnosis(
        evidence=trial_set.evidence,
        probabilities=probabilities,
        none=joint[Grouped.NONE],
        joint=joint,
        grouped=group(joint, trial_set.count),
        reasons=find_reasons(records, trial_set, students, present, frame),
        students=students,
    )


def join(sets: Mapping[frozenset[Cause], float]) -> dict[Grouped, float]:
    """Return the probabilities of nothing, device alone, use alone and both, from those of sets."""
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
    """Return the reading that may be named: the most probable one, if it is probable enough.

    `joint` holds the probabilities of nothing, device, use and both; `trials` is their number. The
    device needs more than the others (`LEAST_OVER_USE`, `MOST_NONE`). Ties go to the first of
    nothing, device, use, both.
    """
    best = max(joint, key=lambda reading: joint[reading])
    if joint[best] < least_to_speak(trials):
        return Grouped.CANNOT_TELL
    if best is Grouped.DEVICE and (
        joint[Grouped.DEVICE] < _by_trials(LEAST_OVER_USE, trials) * joint[Grouped.USE]
        or joint[Grouped.NONE] > MOST_NONE
    ):
        return Grouped.CANNOT_TELL
    return best


def least_to_speak(trials: int) -> float:
    """Return the least probability, in 0..1, of a reading that is named after so many trials."""
    return _by_trials(LEAST_TO_SPEAK, trials)


def _by_trials(ends: tuple[tuple[int, float], tuple[int, float]], trials: int) -> float:
    """Return the threshold after so many trials: linear between two ends, level beyond them."""
    (few, first), (many, last) = ends
    part = (min(max(trials, few), many) - few) / (many - few)
    return first + part * (last - first)
