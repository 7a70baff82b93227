"""Who could be a guest: groups whose members hit with their own device.

In: the challenge, the groups of the class, their trials. Out: `GuestChoice`s, the best first. A
guest must hit with the own device, or the fault that all share would come along with the guest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from journal.domain.challenges import Challenge, Criterion
from journal.domain.groups import Group
from journal.domain.guest_tests import GUESTS
from journal.domain.trials import Trial

#: The newest trials that are looked at, and the fewest of them that tell.
NEWEST, FEWEST = 6, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestChoice:
    """A group that hits, and its two members who do so best."""

    group: Group
    student_ids: tuple[UUID, ...]
    #: Mean of the newest trials of each.
    means: tuple[float, ...]
    criterion: Criterion


def find_criterion(challenge: Challenge) -> Criterion | None:
    """Return the criterion that a mean is held against; None where none asks for a measure."""
    for measure in ("mean", "best"):
        for criterion in challenge.criteria:
            if criterion.measure == measure:
                return criterion
    return None


def choose_guests(
    challenge: Challenge, groups: Sequence[Group], trials: Sequence[Trial], own_id: UUID
) -> tuple[GuestChoice, ...]:
    """Return the groups but one's own (`own_id`) of which two or more members hit.

    `trials` are those of all the groups, in order; only what a member did in that group counts.
    """
    criterion = find_criterion(challenge)
    if criterion is None:
        return ()
    merit = criterion.direction.merit
    choices = []
    for group in groups:
        if group.id == own_id:
            continue
        means = {
            member.student_id: mean
            for member in group.present_members
            if (mean := _newest_mean(trials, group.id, member.student_id)) is not None
            and merit(mean) >= merit(criterion.threshold)
        }
        best = sorted(means, key=lambda student: -merit(means[student]))[:GUESTS]
        if len(best) == GUESTS:
            choices.append(
                GuestChoice(
                    group=group,
                    student_ids=tuple(best),
                    means=tuple(means[student] for student in best),
                    criterion=criterion,
                )
            )
    return tuple(sorted(choices, key=lambda choice: -sum(map(merit, choice.means))))


def _newest_mean(trials: Sequence[Trial], group_id: UUID, student_id: UUID) -> float | None:
    values = [
        trial.value
        for trial in trials
        if trial.group_id == group_id
        and trial.student_id == student_id
        and trial.state.is_usable
        and trial.value is not None
    ][-NEWEST:]
    return math.fsum(values) / len(values) if len(values) >= FEWEST else None
