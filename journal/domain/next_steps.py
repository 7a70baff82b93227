"""The teacher's way from a new class to its first trial: what is there in, the next step out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Step(StrEnum):
    """A step of the teacher, in the order in which they come."""

    STUDENTS = "students"
    GROUPS = "groups"
    CHALLENGE = "challenge"
    SESSION = "session"
    RESUME = "resume"
    WORD = "word"
    TABLETS = "tablets"
    LANE = "lane"
    #: The checklist of a challenge that loads until something breaks.
    LOAD = "load"
    #: It is logged on a tablet.
    TRIAL = "trial"


#: Once a trial is in, only these are still called for: without them no lesson goes on.
_ALWAYS = frozenset({Step.SESSION, Step.RESUME})


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What a class has so far."""

    has_students: bool
    has_groups: bool
    has_challenge: bool
    has_session: bool
    is_paused: bool
    has_word: bool
    has_tablets: bool
    #: Whether the challenge launches, or loads, behind a checklist; and whether that is done.
    launches: bool
    loads: bool
    lane_is_open: bool
    has_trials: bool


def steps_left(standing: Standing) -> tuple[Step, ...]:
    """Return the steps that are left, the next one first; none once a trial is in."""
    waits_for_lane = not standing.lane_is_open
    left = {
        Step.STUDENTS: not standing.has_students,
        Step.GROUPS: not standing.has_groups,
        Step.CHALLENGE: not standing.has_challenge,
        Step.SESSION: not standing.has_session,
        Step.RESUME: standing.is_paused,
        # Tablets that are in need no word any more.
        Step.WORD: not standing.has_word and not standing.has_tablets,
        Step.TABLETS: not standing.has_tablets,
        Step.LANE: standing.launches and waits_for_lane,
        Step.LOAD: standing.loads and waits_for_lane,
        Step.TRIAL: True,
    }
    return tuple(
        step for step in Step if left[step] and (not standing.has_trials or step in _ALWAYS)
    )
