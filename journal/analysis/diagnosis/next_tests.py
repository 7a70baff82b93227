"""Which test would tell most: guests, another group's device, parts exchanged, an older revision.

In: the probability of each cause, how sure the likeliest reading is, the set of trials. Out:
`NextTest`, or None. A rule of thumb: on simulated groups it did as well as the expected value of
each contrast (tests/simulation/RESULTS.md). What it would find is never promised.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.trials import Device, TrialSet

#: No test is proposed where one reading is this sure.
SURE = 0.9
#: Two people, four turns each, in turn.
LAUNCHES = 8
#: One launch with its walk and its entry, and the talk before (common practice, no source).
MINUTES_A_LAUNCH, MINUTES_BEFORE = 1, 2
#: Two rounds of guests are enough: then the device of another group tells more.
MOST_GUEST_TRIALS = 16


class TestKind(StrEnum):
    """What is compared."""

    __test__ = False

    GUESTS = "guests"
    THEIR_DEVICE = "their_device"
    EXCHANGE = "exchange"
    OLDER_REVISION = "older_revision"
    HANDLING = "handling"


class Because(StrEnum):
    """Why this test."""

    SOME_OR_OWN_PART = "some_or_own_part"
    ALL_ALIKE = "all_alike"
    GUESTS_WERE_HERE = "guests_were_here"
    WHAT_CHANGED = "what_changed"
    HANDLING_CHANGED = "handling_changed"


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTest:
    """A test that is proposed; the choice stays with the group and the teacher."""

    kind: TestKind
    because: Because
    launches: int = LAUNCHES

    @property
    def minutes(self) -> int:
        """Return about how long it takes."""
        return MINUTES_BEFORE + MINUTES_A_LAUNCH * self.launches


def choose_next_test(
    present: Mapping[Cause, float], surest: float, trial_set: TrialSet
) -> NextTest | None:
    """Return the test that would tell most; None where none would.

    `surest` is the probability of the likeliest reading.
    """
    if surest >= SURE or not trial_set.trials:
        return None
    some = present[Cause.USE_SOME] + present[Cause.OWN_PART]
    shared = present[Cause.USE_ALL_FADING] + present[Cause.USE_ALL_STEADY]
    device = (
        present[Cause.DEVICE_OFFSET]
        + present[Cause.DEVICE_SCATTER]
        + present[Cause.LOAD]
        + present[Cause.MECHANISM]
    )
    sound = 1 - some - device - shared
    changed = _ask_what_changed(trial_set)
    if sound > max(some, device + shared) and changed is not None:
        return changed
    if some > device + shared and any(trial.own_part for trial in trial_set.trials):
        return NextTest(kind=TestKind.EXCHANGE, because=Because.SOME_OR_OWN_PART)
    guests = sum(trial.guest for trial in trial_set.trials)
    if guests >= MOST_GUEST_TRIALS:
        return NextTest(kind=TestKind.THEIR_DEVICE, because=Because.GUESTS_WERE_HERE)
    return NextTest(kind=TestKind.GUESTS, because=Because.ALL_ALIKE)


def _ask_what_changed(trial_set: TrialSet) -> NextTest | None:
    """Return a test of the last change, where the newest device looks sound."""
    if any(trial.other_handling and not trial.guest for trial in trial_set.trials):
        return NextTest(kind=TestKind.HANDLING, because=Because.HANDLING_CHANGED)
    if any(trial.device is Device.OLDER for trial in trial_set.trials):
        return NextTest(kind=TestKind.OLDER_REVISION, because=Because.WHAT_CHANGED)
    return None
