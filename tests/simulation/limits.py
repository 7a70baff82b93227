"""What no rule of speech can exceed, whatever it says when, given the best possible posterior.

In: probabilities of none, device, use, both for each group, from `best`. Out: `Limits`. They are
averages over the posterior itself, so that no true cause has to be looked at.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tests.simulation.causes import GROUPED

#: Right in at least so many of those in which it speaks.
LEAST_RIGHT = 0.85
#: Device said in at most so many where only use, and where nothing, is at fault.
MOST_BLAMED = 0.05
_PRICES = np.concatenate([[0.0], np.geomspace(0.05, 100, 60)])


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Shares of groups that the best rule reaches."""

    #: Spoken of, and right in at least .85 of them, with the device wrongly said in at most .05.
    spoken: float
    #: True device faults named, with the device wrongly said in at most .05.
    named: float


def find_limits(joints: Sequence[Mapping[str, float]]) -> Limits:
    """Return what the best rules reach."""
    rows = np.array([[joint[name] for name in GROUPED] for joint in joints])
    return Limits(spoken=_most_spoken(rows), named=_most_named(rows))


def _most_spoken(rows: np.ndarray) -> float:
    # A price for each word that may be wrong and one for each wrong word about the device: the
    # best rule says the word that is worth most after them, where it is worth anything. That
    # nothing is at fault never bounds it here, being blamed more rarely than use.
    most = 0.0
    device = np.array([name == "device" for name in GROUPED])
    use = rows[:, 2]
    for for_wrong in _PRICES:
        worth = 1 + for_wrong * (rows - LEAST_RIGHT)
        for for_use in _PRICES:
            paid = worth - for_use * np.outer(use, device)
            word, said = paid.argmax(1), paid.max(1) > 0
            if not said.any():
                continue
            right = rows[np.arange(len(rows)), word][said].mean()
            if right >= LEAST_RIGHT and _share(said & device[word], use) <= MOST_BLAMED:
                most = max(most, float(said.mean()))
    return most


def _most_named(rows: np.ndarray) -> float:
    # The best test under two bounds weighs the device against a price for each (the lemma of
    # Neyman and Pearson, 1933, with two hypotheses): every pair of prices is tried.
    none, device, use, _ = rows.T
    most = 0.0
    for for_use in _PRICES:
        for for_none in _PRICES:
            said = device > for_use * use + for_none * none
            blamed = max(_share(said, use), _share(said, none))
            if blamed <= MOST_BLAMED:
                most = max(most, _share(said, device))
    return most


def _share(said: np.ndarray, truth: np.ndarray) -> float:
    return float(truth[said].sum() / truth.sum())
