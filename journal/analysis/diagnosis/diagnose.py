"""The diagnosis: which causes the trials of a group point to, with probabilities.

In: trial records of one group, its panel, the outcome's direction. Out: `Diagnosis`: probabilities
that each cause is present, the joint of device and use, what may be said of them, and what is
missing where nothing may.

The model is an integral by Bayes' rule over what may lie behind the trials: the causes and pairs of
`causes.py`, the size of each taken at fixed points (`grid.py`). Nothing was fitted to data from
classes. A device that misses the same way and a use that all share look alike until there is a
contrast: guests, or another group's device. The thresholds below were set by hand on simulated
groups; tests/simulation/RESULTS.md reports how they do on other seeds and in other worlds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from journal.analysis.diagnosis.causes import USES, Cause
from journal.analysis.diagnosis.frame import Frame, frame_of_side
from journal.analysis.diagnosis.next_tests import NextTest, choose_next_test
from journal.analysis.diagnosis.reasons import Reason, ReasonKey, find_reasons
from journal.analysis.diagnosis.students import StudentSpread, spread_students
from journal.analysis.diagnosis.trials import Evidence, TrialSet, Zones, collect_trials
from journal.analysis.failures import work_out
from journal.analysis.records import TrialRecord
from journal.domain.outcomes import MORE_IS_BETTER, Direction

#: Fewer own trials than this give no finding (set by hand).
FEWEST_TRIALS = 4
#: The least probability of a reading that is named, without a contrast and with one.
LEAST_TO_SPEAK = 0.65
#: Naming the device wrongly sends children to rebuild what was fine. So the device is named only
#: from this probability on, where the uses together have at most `MOST_USE` and no cause at all at
#: most `MOST_NONE`.
LEAST_DEVICE, MOST_USE, MOST_NONE = 0.70, 0.20, 0.15
#: What all share is named only after so many launches of a contrast: one guest has a habit as well.
FEWEST_CONTRAST = 4
#: Where no reading may be named: from this probability of any fault on, a contrast is missing; and
#: below so many trials, trials are.
LEAST_FAULT = 0.5
FEW_TRIALS = 6
#: Size of the cache of diagnoses, keyed by the whole content of the records: each group of four
#: classes once. A larger one only holds the trials of diagnoses that no page asks for any more.
KEPT = 48
#: The panel where none is given: a square of 600 mm, aim point in the middle.
PLAIN_FRAME = frame_of_side(600.0)


class Needs(StrEnum):
    """What is missing where no reading may be named."""

    CONTRAST = "contrast"
    TRIALS = "trials"


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
    #: The probability of any use (of some, of all); None from too few trials.
    use: float | None
    #: The probability of nothing, device alone, use alone, both: adds to 1; empty after too few.
    joint: Mapping[Grouped, float]
    grouped: Grouped
    reasons: tuple[Reason, ...]
    students: Mapping[str, StudentSpread]
    needs: Needs | None = None
    #: The test that would tell most; None where none would, or one reading is sure enough.
    next_test: NextTest | None = None

    @property
    def abstained(self) -> bool:
        """Tell whether the data do not point clearly enough."""
        return self.grouped is Grouped.CANNOT_TELL


#: The diagnosis that is returned where computing one raised an error.
NOT_DIAGNOSED = Diagnosis(
    evidence=Evidence.MISFIRES,
    probabilities=dict.fromkeys(Cause, None),
    none=None,
    use=None,
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
    newest: str = "",
) -> Diagnosis:
    """Return the probabilities of the causes behind one group's results.

    Args:
        records: the trials of one group, in any order; positions in mm from the aim point.
        frame: the edges of its panel in mm.
        direction: which results are better. With less being better, measured values are taken as
            distances from the aim point in mm.
        zones: the panel's zones as squares of equal area, half sides in mm; None means squares
            worth 8, 4, 2 and 1.
        newest: the revision in question; "" for the last one to come up.

    Fewer than `FEWEST_TRIALS` own trials give a diagnosis without probabilities. Raises nothing: an
    error is logged and gives `NOT_DIAGNOSED`. The method is ours; it is tested on simulated groups
    (tests/simulation/).
    """
    return work_out(
        "the diagnosis",
        lambda: _diagnose(tuple(records), frame, direction, zones, newest),
        NOT_DIAGNOSED,
    )


@lru_cache(maxsize=KEPT)
def _diagnose(
    records: tuple[TrialRecord, ...],
    frame: Frame,
    direction: Direction,
    zones: Zones | None,
    newest: str,
) -> Diagnosis:
    trial_set = collect_trials(records, frame, direction, zones, newest)
    students = spread_students(trial_set, frame)
    if trial_set.count < FEWEST_TRIALS:
        return Diagnosis(
            evidence=trial_set.evidence,
            probabilities=dict.fromkeys(Cause, None),
            none=None,
            use=None,
            joint={},
            grouped=Grouped.CANNOT_TELL,
            reasons=find_reasons(records, trial_set, students, {}, frame),
            students=students,
            needs=Needs.TRIALS,
        )
    sets = find_posterior(trial_set, frame)
    joint = join(sets)
    present = present_causes(sets)
    probabilities: dict[Cause, float | None] = dict(present)
    if not trial_set.has_load:
        probabilities[Cause.LOAD] = None
    if not trial_set.is_exchanged:
        probabilities[Cause.OWN_PART] = None
    grouped, surest = group(joint), max(joint.values())
    if 0 < trial_set.contrast_count < FEWEST_CONTRAST and _is_shared(present):
        # Broken off: however sure it looks, it goes on first.
        grouped, surest = Grouped.CANNOT_TELL, 0.0
    return Diagnosis(
        evidence=trial_set.evidence,
        probabilities=probabilities,
        none=joint[Grouped.NONE],
        use=sum(chance for causes, chance in sets.items() if causes & USES),
        joint=joint,
        grouped=grouped,
        reasons=find_reasons(records, trial_set, students, present, frame),
        students=students,
        needs=find_needs(joint, grouped, trial_set),
        next_test=choose_next_test(present, surest, trial_set),
    )


def find_posterior(trial_set: TrialSet, frame: Frame) -> dict[frozenset[Cause], float]:
    """Return the posterior probability of each set of causes, as `posterior.find_posterior` does.

    numpy comes along only now: it takes a tenth of a second, and most pages need none.
    """
    from journal.analysis.diagnosis import posterior  # noqa: PLC0415 - see above

    return posterior.find_posterior(trial_set, frame)


def present_causes(sets: Mapping[frozenset[Cause], float]) -> dict[Cause, float]:
    """Return the probability that each cause is present, alone or with another."""
    return {
        cause: sum(chance for causes, chance in sets.items() if cause in causes) for cause in Cause
    }


def join(sets: Mapping[frozenset[Cause], float]) -> dict[Grouped, float]:
    """Return the probabilities of nothing, device alone, use alone and both, from those of sets."""
    joint = dict.fromkeys((Grouped.NONE, Grouped.DEVICE, Grouped.USE, Grouped.BOTH), 0.0)
    for causes, chance in sets.items():
        joint[_group_of(causes)] += chance
    return joint


def _group_of(causes: frozenset[Cause]) -> Grouped:
    if not causes:
        return Grouped.NONE
    if not causes & USES:
        return Grouped.DEVICE
    return Grouped.USE if causes <= USES else Grouped.BOTH


def _is_shared(present: Mapping[Cause, float]) -> bool:
    """Tell whether an offset that all share is what the trials show."""
    return present[Cause.DEVICE_OFFSET] + present[Cause.USE_ALL_STEADY] >= LEAST_FAULT


def group(joint: Mapping[Grouped, float]) -> Grouped:
    """Return the reading that may be named: the most probable one, if it is probable enough.

    The device needs more than the others. Ties go to the first of nothing, device, use, both.
    """
    best = max(joint, key=lambda reading: joint[reading])
    least = LEAST_TO_SPEAK
    if best is Grouped.DEVICE:
        least = LEAST_DEVICE
        if joint[Grouped.USE] > MOST_USE or joint[Grouped.NONE] > MOST_NONE:
            return Grouped.CANNOT_TELL
    return best if joint[best] >= least else Grouped.CANNOT_TELL


def find_needs(
    joint: Mapping[Grouped, float], grouped: Grouped, trial_set: TrialSet
) -> Needs | None:
    """Return what is missing where no reading may be named; None where one may."""
    if grouped is not Grouped.CANNOT_TELL:
        return None
    if trial_set.count < FEW_TRIALS or 1 - joint[Grouped.NONE] < LEAST_FAULT:
        return Needs.TRIALS
    return Needs.CONTRAST
