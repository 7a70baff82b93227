"""The posterior: how probable each set of causes is, after the trials.

In: the set of trials, the frame of the panel. Out: probabilities of sets of causes, adding to 1.
This module imports numpy, so it is imported late.
"""

from __future__ import annotations

import numpy as np

from journal.analysis.diagnosis.blocks import Telling, build_blocks
from journal.analysis.diagnosis.causes import (
    CALM,
    HEAVY,
    NORMAL,
    Cause,
    chance_of_misfires,
    chances_of_sets,
)
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.diagnosis.hypotheses import Hypotheses
from journal.analysis.diagnosis.trials import TrialSet


def find_posterior(trial_set: TrialSet, frame: Frame) -> dict[frozenset[Cause], float]:
    """Return the posterior probability of each set of causes; they add to 1.

    `trial_set` holds the trials in units of `frame`. The misfires and the hits are independent
    given the causes, so their likelihoods multiply.
    """
    priors = chances_of_sets(has_load=trial_set.has_load, exchanged=trial_set.is_exchanged)
    likelihoods = _likelihoods(trial_set, frame, priors)
    misfires = {
        mechanism: chance_of_misfires(
            trial_set.newest_misfires, trial_set.newest_count, mechanism=mechanism
        )
        for mechanism in (False, True)
    }
    joint = {
        causes: chance
        * likelihoods[causes - {Cause.MECHANISM}]
        * misfires[Cause.MECHANISM in causes]
        for causes, chance in priors.items()
    }
    total = sum(joint.values())
    if not 0 < total < float("inf"):
        # So far from everything expected that nothing is left of any likelihood.
        return priors
    return {causes: chance / total for causes, chance in joint.items()}


def _likelihoods(
    trial_set: TrialSet, frame: Frame, priors: dict[frozenset[Cause], float]
) -> dict[frozenset[Cause], float]:
    wanted = {causes - {Cause.MECHANISM} for causes in priors}
    if not trial_set.trials:
        return dict.fromkeys(wanted, 1.0)
    telling = Telling(trial_set, frame)
    hypotheses = Hypotheses(build_blocks(trial_set, telling), telling)
    families = np.array([NORMAL, HEAVY, CALM])
    return {causes: float(families @ hypotheses.weigh(causes)) for causes in wanted}
